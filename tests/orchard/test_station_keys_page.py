"""The page of own weather stations, and the address that takes what they send."""

from datetime import timedelta

import pytest
from django.core.cache import cache
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from orchard.actions.station_keys import make_key, revoke_key
from orchard.models import SentReading, StationKey
from orchard.views.age_words import ago, days_old
from tests.conftest import TODAY
from tests.orchard.plain_page import one_error, page_of, text_of


@pytest.fixture(autouse=True)
def _uncounted():
    cache.clear()


@pytest.fixture
def url(site):
    return reverse("station_keys", args=[site.slug])


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.coordinator)


@pytest.fixture
def secret(cast, site):
    return make_key(
        site=site, name="Roof", wind_height_m=2.0, person=cast.owner, now=timezone.now()
    )[1]


def address(secret):
    return reverse("station_push", args=[secret])


def sent(**more):
    return {"dateutc": "now", "tempf": "59", "dailyrainin": "0.1", **more}


def test_a_new_address_is_shown_once_whole_and_in_parts(browser, url):
    answer = browser.post(url, {"name": "Shed roof", "wind_height_m": "3,5"})
    page = page_of(answer)
    whole = page.xpath("//input[@id='secret-address']/@value")[0]
    key = StationKey.objects.get()
    assert (key.name, key.wind_height_m) == ("Shed roof", 3.5)
    assert whole.startswith("http://testserver/station/")
    parts = page.xpath("//dl//dd[@class='secret']/text()")
    assert parts == ["testserver", "80", whole.removeprefix("http://testserver")]
    assert whole not in browser.get(url).content.decode()
    assert answer.headers["Cache-Control"].startswith("max-age=0")


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"name": ""}, "Give it a name"),
        ({"wind_height_m": "400"}, "400 m cannot be right"),
        ({"wind_height_m": "high"}, "“high” is not a number"),
    ],
)
def test_a_bad_station_is_named_and_not_made(browser, url, typed, words):
    answer = browser.post(url, {"name": "Roof", "wind_height_m": "2", **typed})
    one_error(answer, words)
    assert not StationKey.objects.exists()


def test_who_may_not_add_one_is_told_whom_to_ask(cast, client_of, url):
    browser = client_of(cast.grower)
    assert "Ask an owner or coordinator" in text_of(page_of(browser.get(url)))
    assert browser.post(url, {"name": "Roof"}).status_code == 403


@pytest.mark.parametrize("how", ["get", "post"])
@pytest.mark.parametrize("ending", ["", "updateweatherstation.php"])
def test_a_reading_is_taken_by_get_and_post_and_any_ending(secret, how, ending):
    answer = getattr(Client(enforce_csrf_checks=True), how)(
        address(secret) + ending, sent()
    )
    assert (answer.status_code, answer.content) == (200, b"success\n")
    assert SentReading.objects.get().temp_c == pytest.approx(15.0)
    assert not answer.cookies


def test_the_page_says_when_it_was_heard_and_why_it_was_refused(secret, browser, url):
    assert "Not heard yet." in text_of(page_of(browser.get(url)))
    Client().get(address(secret), sent())
    assert "Last heard just now." in text_of(page_of(browser.get(url)))
    refused = Client().get(address(secret), sent(tempf="warm"))
    assert refused.status_code == 400
    assert refused.content.decode() == "tempf: “warm” is not a number.\n"
    words = text_of(page_of(browser.get(url)))
    assert "Its last reading was not taken, just now: tempf: “warm”" in words
    Client().get(address(secret), sent(dateutc="2001-01-01 00:00:00"))
    assert "Set the station's clock" in text_of(page_of(browser.get(url)))
    StationKey.objects.update(heard_at=timezone.now() - timedelta(hours=30))
    words = text_of(page_of(browser.get(url)))
    assert "Last heard 30 hours ago: silent since; look at its batteries" in words


def test_unknown_and_closed_addresses_answer_alike(cast, site, secret):
    unknown = Client().get(address("x" * 26), sent())
    key = StationKey.objects.get()
    revoke_key(site=site, key_id=key.pk, person=cast.owner, now=timezone.now())
    closed = Client().get(address(secret), sent(tempf="warm"))
    assert unknown.status_code == closed.status_code == 404
    assert unknown.content == closed.content
    assert not SentReading.objects.exists()


def test_too_many_sendings_wait_a_minute(secret):
    answers = [Client().get(address(secret), sent(dateutc="")) for _ in range(62)]
    assert [answer.status_code for answer in answers[-3:]] == [400, 429, 429]


def test_guessing_comes_to_an_end(secret):
    for number in range(20):
        assert Client().get(address(f"guess{number}"), sent()).status_code == 404
    assert Client().get(address("another"), sent()).status_code == 429


@pytest.mark.parametrize("how", ["get", "post"])
def test_what_is_no_reading_by_its_size_is_not_read(secret, how):
    answer = getattr(Client(), how)(address(secret), sent(more="x" * 5000))
    assert answer.status_code == 413
    assert not SentReading.objects.exists()


@pytest.mark.parametrize("length", ["many", "-5", "9" * 30])
def test_a_size_that_is_none_is_refused(secret, length):
    answer = Client().get(address(secret), sent(), CONTENT_LENGTH=length)
    assert answer.status_code == 413


def test_a_server_with_encryption_says_what_plain_http_means(browser, url, settings):
    settings.BASE_URL = "https://orchard.example"
    page = page_of(browser.post(url, {"name": "Roof", "wind_height_m": "2"}))
    assert page.xpath("//dl//dd[@class='secret']/text()")[:2] == [
        "orchard.example",
        "443",
    ]
    assert "choose port 80; whoever runs this server must let" in text_of(page)


def test_a_server_that_no_station_can_find_says_so(browser, url, settings):
    assert "where no station can find it" not in text_of(page_of(browser.get(url)))
    settings.BASE_URL = "http://localhost:8000"
    assert "calls itself localhost, where no" in text_of(page_of(browser.get(url)))


def test_other_methods_are_refused(secret):
    assert Client().put(address(secret)).status_code == 405


def test_a_sending_costs_the_same_however_much_was_sent_before(secret):
    counts = []
    for _ in range(3):
        with CaptureQueriesContext(
            connection,
        ) as queries:
            Client().get(address(secret), sent(dailyrainin="0"))
        counts.append(len(queries))
        StationKey.objects.update(refusal="")
        moved = SentReading.objects.latest("pk")
        moved.at -= timedelta(minutes=len(counts))
        moved.save()
    assert counts[1] == counts[2] <= 14


def test_the_page_costs_the_same_for_five_stations(browser, cast, site, url):
    def queries():
        with CaptureQueriesContext(connection) as found:
            browser.get(url)
        return len(found)

    before = queries()
    for number in range(5):
        make_key(
            site=site,
            name=f"Roof {number}",
            wind_height_m=2.0,
            person=cast.owner,
            now=timezone.now(),
        )
    assert queries() == before


def test_ages_are_said_as_people_say_them():
    now = timezone.now()
    told = [
        ago(now - timedelta(seconds=seconds), now)
        for seconds in (-5, 80, 300, 7200, 35 * 3600, 4 * 86400, 300 * 86400)
    ]
    assert told == [
        "just now",
        "just now",
        "5 minutes ago",
        "2 hours ago",
        "35 hours ago",
        "4 days ago",
        "10 months ago",
    ]
    assert ago(now - timedelta(days=3000), now) == "8 years ago"
    assert [days_old(TODAY - timedelta(days=n), TODAY) for n in (0, 1, 3)] == [
        "up to today",
        "up to yesterday",
        "3 days old",
    ]
