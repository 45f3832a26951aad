from datetime import timedelta

import pytest
from django.urls import reverse

from orchard.actions.people import choose_units
from orchard.actions.weather import import_days, set_normals
from orchard.models import WeatherBatch, WeatherDay
from tests.conftest import TODAY
from tests.orchard.plain_page import errors_of, one_error, page_of, text_of

YESTERDAY = TODAY - timedelta(days=1)
NONE = "\N{EN DASH}"
NORMALS = [(month, 5.0, 15.0, 60.0) for month in range(1, 13)]


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def url(site):
    return reverse("weather", args=[site.slug])


def rows_of(page):
    return {
        " ".join(row.xpath("string(./th)").split()): [
            " ".join(cell.text_content().split()) for cell in row.xpath("./td")
        ]
        for row in page.xpath("//tbody/tr")
    }


def read(browser, url, **values):
    return browser.post(url, {"day": str(YESTERDAY), **values})


def test_without_weather_the_page_says_what_is_enough(cast, client_of, browser, url):
    words = text_of(page_of(client_of(cast.owner).get(url)))
    assert "No weather yet" in words
    assert "Type or paste twelve usual months" in words
    assert "Ask an owner or coordinator" in text_of(page_of(browser.get(url)))


def test_each_day_says_in_words_how_it_is_known(browser, cast, site, url):
    set_normals(site=site, months=NORMALS)
    days = [
        (TODAY - timedelta(days=2), {"tmin_c": 9.0, "tmax_c": 21.0, "rain_mm": None})
    ]
    import_days(site=site, days=days, label="s.csv", person=cast.owner)
    read(browser, url, rain_mm="4,5")
    browser.post(url, {"tonight-tonight_c": "-1", "tonight": "1"})
    rows = rows_of(page_of(browser.get(url)))
    assert len(rows) == 14 + 1 + 7
    assert rows["Mon 30 Jun station file; rain missing"] == ["9 °C", "21 °C", NONE]
    assert rows["Tue 1 Jul read here; low and high missing"] == [NONE, NONE, "4.5 mm"]
    assert (
        rows["Wed 2 Jul typical for the month; low expected by someone here"][0]
        == "-1 °C"
    )
    assert rows["Thu 3 Jul typical for the month"] == ["5 °C", "15 °C", "2 mm"]


def test_a_reading_is_kept_with_who_may_read(browser, url):
    assert read(browser, url, rain_mm="4.5", tmin_c="-1").status_code == 302
    row = WeatherDay.objects.get()
    assert (row.day, row.rain_mm, row.tmin_c, row.tmax_c) == (YESTERDAY, 4.5, -1, None)
    assert row.issued_on is None


def test_a_viewer_may_look_and_not_write(cast, client_of, url):
    browser = client_of(cast.viewer)
    page = page_of(browser.get(url))
    assert not page.xpath("//input[@name='rain_mm']")
    assert read(browser, url, rain_mm="4").status_code == 403
    assert not WeatherDay.objects.exists()


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({}, "Write at least one of rain, lowest and highest"),
        ({"rain_mm": "4", "day": "2025-07-03"}, "still to come; today is 2025-07-02"),
        ({"rain_mm": "4", "day": ""}, "This field is required"),
        ({"rain_mm": "4", "day": "1/2/3"}, "year-month-day"),
        ({"rain_mm": "-1"}, "must be from 0 mm"),
        ({"rain_mm": "wet"}, "“wet” is not a number"),
        ({"rain_mm": "500"}, "500 mm in one day is very rare"),
        ({"rain_mm": "5000"}, "5000 mm cannot be right"),
        ({"tmin_c": "12", "tmax_c": "4"}, "The highest, 4 °C, is below the lowest"),
        ({"tmax_c": "75"}, "75 °C cannot be right"),
    ],
)
def test_a_bad_reading_is_named_and_not_kept(browser, url, typed, words):
    answer = browser.post(url, {"day": str(YESTERDAY), **typed})
    one_error(answer, words)
    page = page_of(answer)
    assert page.xpath("//details[@open]//input[@name='rain_mm']")
    for name in {"rain_mm", "tmin_c", "tmax_c"} & set(typed):
        assert page.xpath(f"//input[@name='{name}']/@value") == [typed[name]]
    assert not WeatherDay.objects.exists()


def test_500_mm_typed_as_inches_is_refused(browser, cast, url):
    choose_units(person=cast.grower, units="us")
    one_error(read(browser, url, rain_mm="500"), "write it behind the number")
    one_error(read(browser, url, rain_mm="50"), "50 in in one day is very rare")
    assert not WeatherDay.objects.exists()
    read(browser, url, rain_mm="5 mm", tmin_c="23")
    row = WeatherDay.objects.get()
    assert row.rain_mm == 5.0
    assert row.tmin_c == pytest.approx(-5.0)
    assert "Lowest (°F)" in text_of(page_of(browser.get(url)))


def test_rare_rain_is_kept_once_it_is_meant(browser, url):
    read(browser, url, rain_mm="200", rain_is_meant="on")
    assert WeatherDay.objects.get().rain_mm == 200.0


def test_a_high_below_the_low_of_an_earlier_reading_is_refused(browser, url):
    read(browser, url, tmin_c="12")
    one_error(read(browser, url, tmax_c="4"), "below the lowest, 12 °C, of that day")
    assert WeatherDay.objects.get().tmax_c is None
    assert read(browser, url, tmin_c="2", tmax_c="4").status_code == 302


def test_readings_of_one_day_add_up(browser, url):
    read(browser, url, rain_mm="3")
    read(browser, url, tmax_c="20")
    row = WeatherDay.objects.get()
    assert (row.rain_mm, row.tmax_c) == (3.0, 20.0)


def test_a_reading_can_be_removed(browser, url):
    read(browser, url, rain_mm="3")
    browser.post(url, {"day": str(YESTERDAY), "remove": "reading"})
    assert not WeatherDay.objects.exists()
    again = browser.post(url, {"day": "nonsense", "remove": "reading"}, follow=True)
    assert "Nothing was typed for it" in text_of(page_of(again))


def test_tonights_lowest_is_kept_as_something_expected(browser, url):
    browser.post(url, {"tonight-tonight_c": "-3,5", "tonight": "1"})
    row = WeatherDay.objects.get()
    assert (row.day, row.issued_on, row.tmin_c) == (TODAY, TODAY, -3.5)
    page = page_of(browser.get(url))
    assert page.xpath("//input[@name='tonight-tonight_c']/@value") == ["-3.5"]
    browser.post(url, {"tonight-tonight_c": "-2", "tonight": "1"})
    assert WeatherDay.objects.get().tmin_c == -2.0
    browser.post(url, {"remove": "tonight"})
    assert not WeatherDay.objects.exists()


@pytest.mark.parametrize("typed", ["", "cold", "99", "--3"])
def test_a_bad_lowest_is_named(browser, url, typed):
    answer = browser.post(url, {"tonight-tonight_c": typed, "tonight": "1"})
    assert errors_of(page_of(answer))
    assert not WeatherDay.objects.exists()


def test_an_import_is_listed_and_can_be_taken_back(cast, client_of, site, url):
    days = [(YESTERDAY, {"tmin_c": 9.0, "tmax_c": 21.0, "rain_mm": 0.0})]
    batch = import_days(site=site, days=days, label="s.csv", person=cast.owner)
    browser = client_of(cast.owner)
    assert "s.csv" in text_of(page_of(browser.get(url)))
    back = reverse("weather_take_back", args=[site.slug, batch.pk])
    assert browser.get(back).status_code == 405
    assert client_of(cast.grower).post(back).status_code == 403
    assert browser.post(back).url == url
    assert not WeatherBatch.objects.exists()
    assert browser.post(back).status_code == 404


def test_another_sites_import_cannot_be_taken_back(cast, client_of, site):
    batch = import_days(site=site, days=[], label="s.csv", person=None)
    other = cast.stranger.orchards.get().sites.get()
    back = reverse("weather_take_back", args=[other.slug, batch.pk])
    assert client_of(cast.stranger).post(back).status_code == 404
    assert WeatherBatch.objects.filter(pk=batch.pk).exists()
