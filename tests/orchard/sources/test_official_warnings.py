"""Which official warnings concern a site this evening and what they are about."""

from datetime import UTC, date, datetime, timedelta

import pytest

from orchard.models import OfficialWarning, Site
from orchard.sources.official_warnings import (
    Concern,
    concern_of,
    concerns_work,
    site_moment,
    warnings_at,
)

# Nine in the evening of Wednesday 2 July at the site, seven hours behind.
NINE = datetime(2025, 7, 3, 4, 0, tzinfo=UTC)


@pytest.fixture
def warn(site):
    series = site.private_series.create(kind="forecast", name="Service")
    site.readings.create(series=series, rank=9)

    def write(starts=2, lasts=6, series=series, name="one", **values):
        begins = NINE + timedelta(hours=starts)
        ends = begins + timedelta(hours=lasts)
        facts = {
            "identifier": name,
            "event": "Freeze Warning",
            "sent_at": NINE,
            "begins_at": begins,
            "ends_at": ends,
            "expires_at": ends,
        }
        return OfficialWarning.objects.create(series=series, **{**facts, **values})

    return write


def names(site, moment=NINE):
    return [one.identifier for one in warnings_at(site, moment)]


@pytest.mark.parametrize(
    ("event", "concern"),
    [
        ("Frost Advisory", Concern.COLD),
        ("Freeze Watch", Concern.COLD),
        ("Hard Freeze Warning", Concern.COLD),
        ("Wind Chill Advisory", Concern.COLD),
        ("Extreme Heat Warning", Concern.HEAT),
        ("High Wind Warning", Concern.WIND),
        ("Severe Thunderstorm Warning", Concern.THUNDER),
        ("Flood Watch", Concern.OTHER),
    ],
)
def test_an_events_name_says_what_it_is_about(event, concern):
    assert concern_of(event) is concern


@pytest.mark.parametrize(
    ("event", "severity", "is_told"),
    [
        ("Freeze Warning", "Moderate", True),
        ("Flood Watch", "Severe", True),
        ("Flood Watch", "Minor", False),
        ("Air Quality Alert", "", False),
    ],
)
def test_people_are_told_of_what_changes_work_or_is_grave(event, severity, is_told):
    assert concerns_work(OfficialWarning(event=event, severity=severity)) is is_told


def test_warnings_of_tonight_and_tomorrow_stand_in_the_order_they_come(site, warn):
    warn(name="tomorrow", starts=20)
    warn(name="now", starts=-1)
    # Midnight after tomorrow is 27 hours away.
    warn(name="last", starts=26)
    warn(name="too far", starts=27)
    warn(name="over", starts=-9, lasts=9)
    warn(name="taken back", withdrawn_at=NINE)
    assert names(site) == ["now", "tomorrow", "last"]


def test_a_warning_whose_text_ran_out_stays_until_its_weather_is_over(site, warn):
    warn(expires_at=NINE - timedelta(hours=1))
    assert names(site) == ["one"]


def test_a_warning_of_two_services_stands_once(site, warn):
    other = site.private_series.create(kind="forecast", name="Other")
    site.readings.create(series=other, rank=10)
    warn()
    warn(series=other)
    assert names(site) == ["one"]


def test_a_series_the_site_does_not_read_is_not_heard(site, warn):
    warn(series=site.private_series.create(kind="forecast", name="Unread"))
    assert names(site) == []


def test_a_southern_site_ends_its_tomorrow_by_its_own_clock(site, warn):
    Site.objects.filter(pk=site.pk).update(
        latitude_deg=-36.8, time_zone="Pacific/Auckland"
    )
    site.refresh_from_db()
    # Four in the afternoon of 3 July there: tomorrow ends in 32 hours.
    warn(name="in", starts=31)
    warn(name="out", starts=32)
    assert names(site) == ["in"]


def test_a_demonstration_has_its_own_day_and_our_clock():
    site = Site(time_zone="America/Los_Angeles", own_today=date(2014, 12, 30))
    assert site_moment(site, NINE).isoformat() == "2014-12-30T21:00:00-08:00"
    site.own_today = None
    assert site_moment(site, NINE) == NINE
