"""The top of the round: what the weather asks for, worst first, and how sure it is."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orchard.models import OfficialWarning
from orchard.sources.official_warnings import site_moment
from tests.conftest import TODAY

ROUND = "/s/test-site/"
DAY = timedelta(days=1)


@pytest.fixture
def forecast(site):
    series = site.private_series.create(kind="forecast", name="Service")
    site.readings.create(series=series, rank=9)
    batch = series.batches.create(label="forecast")

    def write(days=1, **values):
        batch.days.create(day=TODAY + days * DAY, issued_on=TODAY, **values)

    return write


@pytest.fixture
def page(cast, client_of, keep_plan):
    def get():
        keep_plan()
        return " ".join(client_of(cast.grower).get(ROUND).content.decode().split())

    return get


def warn(site, number=1):
    moment = site_moment(site, timezone.now())
    OfficialWarning.objects.create(
        series=site.private_series.first(),
        identifier=f"urn:{number}",
        event="Freeze Warning",
        headline=f"Freeze Warning {number}",
        text="Below freezing.",
        instruction="Cover plants.",
        sender="NWS Somewhere",
        area="Lower Valley",
        sent_at=moment,
        begins_at=moment,
        ends_at=moment + DAY / 4,
        expires_at=moment + DAY / 4,
    )


def test_cold_then_rain_with_what_waits_then_age_then_official_words(
    forecast, page, site, make_tree, make_task
):
    forecast(tmin_c=-2.0, rain_mm=14.0)
    warn(site)
    waiting = {"code": "", "facts": [["rain_wait_on", (TODAY + DAY).isoformat()]]}
    make_task(make_tree(), days=2, reason=waiting)
    text = page()
    words = (
        "Cold ahead: -2 °C expected tomorrow morning",
        "Rain likely tomorrow, about 14 mm: watering of 1 tree waits till Friday.",
        "amounts are less sure",
        "Official warning<",
        "Freeze Warning 1",
        "Issued by NWS Somewhere",
        "for Lower Valley",
        "Below freezing.",
        "Cover plants.",
    )
    places = [text.index(word) for word in words]
    assert places == sorted(places)


def test_what_cannot_wait_begins_with_the_fruit_that_cold_ruins(
    page, make_tree, make_task
):
    for name, kind, action in (
        ("Dry", "watering", "water"),
        ("Fig", "cold", "cover"),
        ("Satsuma", "freeze", "pick_ripe"),
    ):
        make_task(make_tree(name), kind=kind, action=action, is_urgent=True, unit="")
    text = page()
    words = ("Pick the ripe fruit of Satsuma", "Cover Fig", "Water Dry")
    places = [text.index(word) for word in words]
    assert places == sorted(places)


def test_heat_says_what_people_need(forecast, page):
    forecast(tmin_c=20.0, tmax_c=39.0)
    text = page()
    assert "Heat: mind people first" in text
    assert "Up to 39 °C tomorrow." in text
    assert "call your emergency number" in text
    assert "Put heavy work off" in text


def test_however_many_warnings_the_database_is_asked_as_often(
    forecast, site, cast, client_of, keep_plan, django_assert_max_num_queries
):
    forecast(tmin_c=15.0, rain_mm=20.0)
    for number in range(6):
        warn(site, number)
    keep_plan()
    client = client_of(cast.grower)
    client.get(ROUND)
    # One more than on a dry day: what waits for the rain.
    with django_assert_max_num_queries(18):
        assert client.get(ROUND).content.count(b"Read it in their words") == 6
