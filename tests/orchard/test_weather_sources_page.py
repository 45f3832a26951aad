"""Weather services: choosing one, how asking goes in words, and who may do what."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orchard.actions.arriving_days import keep_days
from orchard.actions.weather_services import (
    NOT_BEFORE,
    choose_source,
    chosen_series,
)
from orchard.models import AuditEntry, SeriesFetch, Site
from orchard.sources.arriving import ForecastDay
from orchard.sources.registry import SERVICES
from tests.orchard.plain_page import one_error, page_of, text_of

PAGE = "/s/test-site/weather/services/"


@pytest.fixture(autouse=True)
def here(site, settings):
    """The test site, living today, on a server that names its contact."""
    settings.ORCHARD_CONTACT = "garden@example.org"
    Site.objects.filter(pk=site.pk).update(own_today=None)
    site.own_today = None
    return site


@pytest.fixture
def owner(cast, client_of):
    return client_of(cast.owner)


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


def words_of(client):
    return text_of(page_of(client.get(PAGE)))


def chosen(site, key="norwegian", **values):
    series = choose_source(site=site, key=key)
    SeriesFetch.objects.filter(series=series).update(**values)
    return series


def test_every_service_that_covers_the_place_is_shown_with_its_terms(grower):
    page = page_of(grower.get(PAGE))
    addresses = set(page.xpath("//main//a/@href"))
    for service in SERVICES:
        assert service.name in text_of(page)
        assert {service.credit_url, service.licence_url} <= addresses
    assert "no forecast comes" in text_of(page)


def test_a_service_that_does_not_reach_here_is_not_offered(owner, here):
    Site.objects.filter(pk=here.pk).update(latitude_deg=59.9, longitude_deg=10.7)
    assert "National Weather Service" not in words_of(owner)
    found = one_error(
        owner.post(PAGE, {"service": "us"}), "no such service for this place"
    )
    assert found
    assert chosen_series(here) is None


def test_an_owner_chooses_a_service_and_none(owner, here):
    answer = owner.post(PAGE, {"service": "norwegian"}, follow=True)
    assert "MET Norway is chosen. It is asked within ten minutes." in text_of(
        page_of(answer)
    )
    assert chosen_series(here).source == "norwegian"
    page = page_of(owner.get(PAGE))
    assert page.xpath("//input[@name='service' and @checked]/@value") == ["norwegian"]
    owner.post(PAGE, {"service": "none"})
    assert chosen_series(here) is None
    trail = AuditEntry.objects.filter(what__startswith="weather_service")
    assert [entry.what for entry in trail.order_by("id")] == [
        "weather_service_chosen",
        "weather_service_left",
    ]


@pytest.mark.parametrize("posted", [{}, {"service": ""}, {"service": "x" * 999}])
def test_a_choice_that_is_none_is_said_at_the_field(owner, posted):
    one_error(owner.post(PAGE, posted), "hoose one of the")


@pytest.mark.parametrize("role", ["grower", "viewer"])
def test_others_read_but_do_not_choose(role, cast, client_of, here):
    client = client_of(getattr(cast, role))
    assert not page_of(client.get(PAGE)).xpath("//input[@name='service']")
    assert client.post(PAGE, {"service": "us"}).status_code == 403
    assert chosen_series(here) is None


def test_strangers_learn_nothing(cast, client_of):
    stranger = client_of(cast.stranger)
    assert stranger.post(PAGE, {"service": "us"}).status_code == 404
    assert stranger.post(f"{PAGE}ask/").status_code == 404


def test_without_a_contact_the_page_says_how_to_set_it(owner, here, settings):
    settings.ORCHARD_CONTACT = ""
    assert "must set ORCHARD_CONTACT" in words_of(owner)
    answer = owner.post(PAGE, {"service": "us"}, follow=True)
    page = page_of(answer)
    assert "chosen, but not asked yet" in text_of(page)
    assert page.xpath("//section[contains(@class, 'notice--alarm')]")
    answer = owner.post(f"{PAGE}ask/", follow=True)
    assert "No service is asked yet" in text_of(page_of(answer))


def test_a_demonstration_says_why_it_asks_nobody(owner, here):
    Site.objects.filter(pk=here.pk).update(own_today="2025-07-02")
    assert "lives on a day of its own" in words_of(owner)
    one_error(owner.post(PAGE, {"service": "us"}), "lives on a day of its own")


def test_a_good_answer_is_told_with_its_age_and_reach(grower, here):
    now = timezone.now()
    series = chosen(here, fetched_at=now - timedelta(hours=3), remark="Far away.")
    today = here.today(now)
    coming = [ForecastDay(today + timedelta(days=n), tmin_c=1.0) for n in range(9)]
    keep_days(series=series, days=coming, today=today)
    words = words_of(grower)
    last = today + timedelta(days=8)
    assert f"last good answer 3 hours ago. It reaches to {last:%-d %B}." in words
    assert "Far away." in words


def test_what_was_never_asked_says_so(grower, here):
    chosen(here)
    words = words_of(grower)
    assert "has not been asked yet" in words
    assert "within the next ten minutes" in words


def test_a_failure_is_told_with_the_age_of_what_is_in_use(grower, here):
    now = timezone.now()
    chosen(
        here,
        asked_at=now - timedelta(minutes=5),
        fetched_at=now - timedelta(days=3),
        wait_until=now + timedelta(minutes=40),
        failures=3,
        error="api.met.no did not answer within 10 seconds.",
    )
    page = page_of(grower.get(PAGE))
    words = text_of(page)
    assert "gave no good answer 5 minutes ago: api.met.no did not answer" in words
    assert "last good answer 3 days ago" in words
    assert "type tonight's lowest" in words
    assert page.xpath("//section[contains(@class, 'notice--alarm')]")


def test_many_failures_in_a_row_are_counted(grower, here):
    now = timezone.now()
    chosen(here, failures=9, error="Silence.", wait_until=now + timedelta(hours=12))
    words = words_of(grower)
    assert "It failed 9 times in a row and rests now." in words
    assert "There was no good answer so far." in words


def test_a_server_without_background_jobs_is_noticed(grower, here):
    chosen(here, fetched_at=timezone.now() - timedelta(days=2))
    assert "Are the background jobs running?" in words_of(grower)


def test_a_grower_may_have_it_asked_but_not_all_the_time(grower, here):
    now = timezone.now()
    series = chosen(
        here,
        wait_until=now + timedelta(hours=2),
        asked_at=now - timedelta(minutes=30),
    )
    answer = grower.post(f"{PAGE}ask/", follow=True)
    assert "within the next ten minutes" in text_of(page_of(answer))
    SeriesFetch.objects.filter(series=series).update(asked_at=now)
    answer = grower.post(f"{PAGE}ask/", follow=True)
    assert "It was asked a moment ago." in text_of(page_of(answer))


def test_a_service_that_wants_to_be_left_alone_is(grower, here):
    later = timezone.now() + timedelta(hours=2)
    chosen(here, wait_until=later, remembered={NOT_BEFORE: later.isoformat()})
    answer = grower.post(f"{PAGE}ask/", follow=True)
    assert "wants no question before then" in text_of(page_of(answer))


def test_with_no_service_there_is_none_to_ask(grower):
    answer = grower.post(f"{PAGE}ask/", follow=True)
    assert "none to ask" in text_of(page_of(answer))


def test_another_columns_server_is_named(grower, settings):
    settings.ORCHARD_FORECAST_URL = "https://forecast.example.org/v1/forecast"
    assert "Asked at forecast.example.org." in words_of(grower)


def test_the_page_asks_the_database_a_fixed_number_of_times(
    grower, here, django_assert_num_queries
):
    chosen(here, fetched_at=timezone.now())
    grower.get(PAGE)
    with django_assert_num_queries(7):
        grower.get(PAGE)


def test_the_weather_page_thanks_the_service_and_says_how_it_goes(grower, here):
    series = chosen(here, fetched_at=timezone.now() - timedelta(hours=3))
    today = here.today(timezone.now())
    keep_days(series=series, days=[ForecastDay(today, tmin_c=1.0)], today=today)
    page = page_of(grower.get("/s/test-site/weather/"))
    words = text_of(page)
    assert "Based on data from MET Norway, CC BY 4.0" in words
    assert "last good answer 3 hours ago" in words
    assert PAGE in page.xpath("//main//a/@href")


def test_the_weather_page_says_that_nobody_is_asked_and_why(grower, settings):
    settings.ORCHARD_CONTACT = ""
    words = text_of(page_of(grower.get("/s/test-site/weather/")))
    assert "must set ORCHARD_CONTACT" in words
