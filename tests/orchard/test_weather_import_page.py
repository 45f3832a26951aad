import re
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from orchard.actions.people import choose_units
from orchard.models import Site, WeatherBatch, WeatherDay
from orchard.views.weather_import import MOST_BYTES
from tests.orchard.plain_page import errors_of, one_error, page_of, text_of

FILE = """date,tmin_c,tmax_c,rain_mm
2025-06-01,8,20,0
2025-06-02,9,21,4.5
2025-06-04,7,19,
"""


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.coordinator)


@pytest.fixture
def url(site):
    return reverse("weather_import", args=[site.slug])


def send(browser, url, text=FILE, name="station.csv"):
    data = text if isinstance(text, bytes) else text.encode()
    return browser.post(url, {"file": SimpleUploadedFile(name, data)})


def boxes(page):
    """Return what the browser would send back, without any button."""
    form = max(page.forms, key=lambda each: len(each.fields))
    return dict(form.form_values())


def refused(browser, url, text, words):
    answer = send(browser, url, text)
    found = one_error(answer, words)
    assert not WeatherDay.objects.exists()
    return found


def test_a_file_is_sent_looked_at_and_imported(browser, cast, url, site):
    before = Site.objects.get(pk=site.pk).revision
    page = page_of(send(browser, url))
    words = text_of(page)
    assert "station.csv: 3 rows. Nothing is kept yet." in words
    assert "3 days; 1 day between them is not in the file; 1 empty value" in words
    assert not WeatherDay.objects.exists()
    answer = browser.post(url, {**boxes(page), "import": "1"})
    assert answer.url == reverse("weather", args=[site.slug])
    batch = WeatherBatch.objects.get()
    assert (batch.label, batch.person) == ("station.csv", cast.coordinator)
    rows = list(batch.days.values_list("day__day", "tmin_c", "tmax_c", "rain_mm"))
    assert rows == [(1, 8, 20, 0), (2, 9, 21, 4.5), (4, 7, 19, None)]
    assert Site.objects.get(pk=site.pk).revision == before + 1


def test_missing_days_are_named_and_are_no_zeros(browser, url):
    words = text_of(page_of(send(browser, url)))
    assert "3 Jun 2025" in words
    assert "What is missing stays missing" in words


def test_units_are_guessed_and_confirmed(browser, cast, url):
    choose_units(person=cast.coordinator, units="us")
    page = page_of(send(browser, url, FILE.replace("_c", "").replace("_mm", "")))
    sent = boxes(page)
    assert (sent["unit_tmin"], sent["unit_rain"]) == ("°F", "in")
    changed = {**sent, "unit_tmin": "°C", "unit_tmax": "°C", "unit_rain": "mm"}
    # What was not looked at is not imported, but shown.
    again = page_of(browser.post(url, {**changed, "import": "1"}))
    assert not WeatherDay.objects.exists()
    assert "46 °F" in text_of(again)  # 8 degC
    browser.post(url, {**boxes(again), "import": "1"})
    assert WeatherDay.objects.get(day="2025-06-01").tmin_c == 8


def test_columns_with_strange_headings_are_chosen(browser, url):
    text = "when,a,b,c\n2025-06-01,20,8,1\n2025-06-02,21,9,2\n"
    page = page_of(send(browser, url, text))
    assert "Which column is it?" in errors_of(page)
    chosen = {
        **boxes(page),
        "column_date": "0",
        "column_tmax": "1",
        "column_tmin": "2",
        "column_rain": "3",
    }
    page = page_of(browser.post(url, chosen))
    browser.post(url, {**boxes(page), "import": "1"})
    assert WeatherDay.objects.count() == 2


def test_one_column_cannot_be_two_things(browser, url):
    page = page_of(send(browser, url))
    answer = browser.post(url, {**boxes(page), "column_tmax": "1", "import": "1"})
    one_error(answer, "already lowest temperature")
    assert not WeatherDay.objects.exists()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (FILE.replace(",9,21", ",21,9"), "Line 3, tmax_c: the high, 9.0 °C, is below"),
        (FILE.replace("-04", "-02"), "Line 4, date: 2025-06-02 is on line 3 already"),
        (FILE.replace("4.5", "5000"), "Line 3, rain_mm"),
        (FILE.replace("06-04", "07-04"), "still to come"),
        (FILE.replace("06-04", "06-31"), "Line 4, date"),
        (FILE.replace(",7,", ",cool,"), "“cool” is not a number"),
    ],
)
def test_a_bad_row_stops_the_import_and_is_named(browser, url, text, words):
    answer = send(browser, url, text)
    one_error(answer, words)
    page = page_of(answer)
    assert not page.xpath("//button[@name='import']")
    one_error(browser.post(url, {**boxes(page), "import": "1"}), words)
    assert not WeatherDay.objects.exists()


def test_500_mm_read_as_inches_is_refused(browser, url):
    page = page_of(send(browser, url, FILE.replace("4.5", "500")))
    answer = browser.post(url, {**boxes(page), "unit_rain": "in", "import": "1"})
    one_error(answer, "12700.0 mm is not possible")
    assert not WeatherDay.objects.exists()


def test_semicolons_decimal_commas_and_latin_1_are_read(browser, url):
    text = "Datum;tmin °C;tmax °C;rain mm\n1.6.2025;8,5;20;0\n13.6.2025;9;21;4,5\n"
    page = page_of(send(browser, url, text.encode("latin-1")))
    assert "tmin °C" in text_of(page)
    browser.post(url, {**boxes(page), "import": "1"})
    rows = WeatherDay.objects.order_by("day").values_list("tmin_c", "rain_mm")
    assert list(rows) == [(8.5, 0), (9, 4.5)]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "This file is empty"),
        (b"\n \n", "holds no line of data"),
        (b"date,tmin,tmax,rain\n", "no rows below them"),
        (b"PK\x03\x04rest of a spreadsheet", "not a text file"),
        (b"\x89PNG\0\0", "not a text file"),
        (b"one column\nof text\n", "not split by commas"),
    ],
)
def test_what_is_no_table_is_named(browser, url, data, words):
    refused(browser, url, data, words)


def test_no_file_at_all(browser, url):
    one_error(browser.post(url, {}), "Choose a file first")


def test_a_file_a_little_too_large_is_named(browser, url):
    refused(browser, url, b"2025-06-01,1,2,3\n" * 310_000, "Send one row a day")


def signed_in_strictly(person):
    """Return a browser of which the token against forged requests is asked."""
    strict = Client(enforce_csrf_checks=True)
    backend = "allauth.account.auth_backends.AuthenticationBackend"
    strict.force_login(person, backend=backend)
    return strict


def token_of(page):
    return page.xpath("//input[@name='csrfmiddlewaretoken']/@value")[0]


class Endless(BytesIO):
    """A request's body of any announced length that counts what is read of it."""

    def __init__(self, start, middle, end, times):
        self.parts = iter([start, *(middle for _ in range(times)), end])
        self.rest = b""
        self.largest = 0

    def read(self, size=-1):
        while 0 <= len(self.rest) < size:
            part = next(self.parts, None)
            if part is None:
                break
            self.rest += part
        self.largest = max(self.largest, len(self.rest))
        found, self.rest = self.rest[:size], self.rest[size:]
        return found


def test_200_mb_are_answered_in_words_and_never_held(cast, url):
    """No line ends in it: the worst case for whatever reads by lines."""
    strict = signed_in_strictly(cast.coordinator)
    token = token_of(page_of(strict.get(url)))
    start = (
        b'--edge\r\nContent-Disposition: form-data; name="file"; filename="w.csv"\r\n'
        b"Content-Type: text/csv\r\n\r\n"
    )
    end = b"\r\n--edge--\r\n"
    middle, times = b"1" * 1_000_000, 200
    body = Endless(start, middle, end, times)
    answer = strict.generic(
        "POST",
        url,
        **{
            "wsgi.input": body,
            "CONTENT_TYPE": "multipart/form-data; boundary=edge",
            "HTTP_X_CSRFTOKEN": token,
            "CONTENT_LENGTH": str(len(start) + len(middle) * times + len(end)),
        },
    )
    one_error(answer, "This file has 200 MB")
    assert body.largest < 3_000_000
    assert next(body.parts, None) is None  # read to its end: no broken connection


def test_the_limit_leaves_room_for_the_largest_file_that_is_allowed():
    assert 5_000_000 < MOST_BYTES < 6 * 1024 * 1024


def test_a_token_is_needed_for_both_steps(cast, url):
    strict = signed_in_strictly(cast.coordinator)
    assert send(strict, url).status_code == 403
    token = token_of(page_of(strict.get(url)))
    answer = strict.post(
        url,
        {
            "csrfmiddlewaretoken": token,
            "file": SimpleUploadedFile("s.csv", FILE.encode()),
        },
    )
    assert answer.status_code == 200
    sent = boxes(page_of(answer))
    assert strict.post(url, {**sent, "csrfmiddlewaretoken": ""}).status_code == 403
    assert strict.post(url, {**sent, "import": "1"}).status_code == 302


def test_the_carried_file_cannot_be_changed_or_lent(browser, cast, client_of, url):
    sent = boxes(page_of(send(browser, url)))
    other = client_of(cast.owner)
    one_error(other.post(url, {**sent, "import": "1"}), "Please send the file again")
    spoiled = re.sub(r"^.", "A", sent["carried"])
    spoiled = spoiled if spoiled != sent["carried"] else "B" + spoiled[1:]
    answer = browser.post(url, {**sent, "carried": spoiled, "import": "1"})
    one_error(answer, "Please send the file again")
    assert not WeatherDay.objects.exists()


def test_a_column_that_is_not_there_is_refused(browser, url):
    page = page_of(send(browser, url))
    answer = browser.post(url, {**boxes(page), "column_tmin": "77", "import": "1"})
    one_error(answer, "Select a valid choice")


def test_a_second_import_says_what_it_goes_before(browser, url):
    page = page_of(send(browser, url))
    browser.post(url, {**boxes(page), "import": "1"})
    words = text_of(page_of(send(browser, url, FILE, "again.csv")))
    assert "3 of the days in this span came with an earlier import" in words


def test_a_long_file_shows_its_ends_only(browser, url):
    rows = "\n".join(f"2024-01-{day:02},1,2,3" for day in range(1, 32))
    page = page_of(send(browser, url, f"date,tmin,tmax,rain\n{rows}\n"))
    assert "… 25 more …" in text_of(page)
    assert len(page.xpath("//tbody/tr")) == 7


def test_rows_without_any_value_are_nothing_to_import(browser, url):
    page = page_of(send(browser, url, "date,tmin,tmax,rain\n2025-06-01,,,\n"))
    assert "no row holds a value" in text_of(page)
    assert not page.xpath("//button[@name='import']")
