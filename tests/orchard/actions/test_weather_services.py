"""Choosing a weather service: one series for all places near, one service a place."""

from datetime import UTC, datetime, timedelta

import pytest

from orchard.actions.people import found_orchard
from orchard.actions.places import add_site, change_site
from orchard.actions.weather_services import (
    NOT_BEFORE,
    NotOfferedError,
    ask_now,
    choose_source,
    chosen_series,
    drop_unread,
    follow_moved_sites,
    leave_source,
)
from orchard.models import AuditEntry, Person, SeriesFetch, Site, WeatherSeries
from orchard.sources.credits import attribution_lines

NOW = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)


@pytest.fixture
def here(site):
    """The test site, living today."""
    site.own_today = None
    site.save(update_fields=["own_today"])
    return site


@pytest.fixture
def near(db):
    orchard = found_orchard(person=Person.objects.create_user("n"), name="Neighbour")
    return add_site(
        orchard=orchard,
        values={
            "name": "Next door",
            "latitude_deg": 47.4512,
            "longitude_deg": -122.3066,
            "elevation_m": 110.0,
            "time_zone": "America/Los_Angeles",
        },
    )


def revision(site):
    return Site.objects.values_list("revision", flat=True).get(pk=site.pk)


def test_neighbours_read_one_series(here, near):
    assert choose_source(site=here, key="norwegian") == choose_source(
        site=near, key="norwegian"
    )
    assert SeriesFetch.objects.count() == 1


def test_choosing_raises_the_revision_and_is_noted(here, cast):
    before = revision(here)
    choose_source(site=here, key="us", person=cast.owner)
    assert revision(here) == before + 1
    entry = AuditEntry.objects.get(what="weather_service_chosen")
    assert (entry.person, entry.subject) == (cast.owner, "Test site")
    assert entry.after == {"service": "National Weather Service"}


def test_another_service_takes_the_first_ones_place(here):
    first = choose_source(site=here, key="us")
    second = choose_source(site=here, key="columns")
    assert chosen_series(here) == second
    assert list(first.readers.all()) == []


def test_choosing_the_same_again_changes_nothing(here):
    choose_source(site=here, key="us")
    before = revision(here)
    choose_source(site=here, key="us")
    assert revision(here) == before
    assert AuditEntry.objects.filter(what="weather_service_chosen").count() == 1


def test_a_service_is_left_for_oneself_alone(here, near):
    choose_source(site=here, key="us")
    choose_source(site=near, key="us")
    assert leave_source(site=here)
    assert not leave_source(site=here)
    assert chosen_series(here) is None
    assert chosen_series(near) is not None


@pytest.mark.parametrize("key", ["gone", "", "station"])
def test_an_unknown_service_is_refused(here, key):
    with pytest.raises(NotOfferedError, match="no such weather service"):
        choose_source(site=here, key=key)


def test_a_service_that_does_not_reach_here_is_refused(here):
    change_site(site=here, values={"latitude_deg": 59.9, "longitude_deg": 10.7})
    here.refresh_from_db()
    with pytest.raises(NotOfferedError, match="does not cover this place"):
        choose_source(site=here, key="us")


def test_a_demonstration_asks_nobody(site):
    with pytest.raises(NotOfferedError, match="demonstration"):
        choose_source(site=site, key="columns")
    assert not WeatherSeries.objects.exists()


def test_whose_place_is_corrected_reads_the_new_cell(here):
    first = choose_source(site=here, key="us")
    change_site(site=here, values={"longitude_deg": -122.5})
    assert follow_moved_sites() == 1
    assert chosen_series(here).cell == "47.45,-122.5,100,America/Los_Angeles"
    assert list(first.readers.all()) == []
    assert follow_moved_sites() == 0


def test_whose_place_is_corrected_to_abroad_reads_nothing(here):
    choose_source(site=here, key="us")
    change_site(site=here, values={"latitude_deg": 59.9, "longitude_deg": 10.7})
    assert follow_moved_sites() == 1
    assert chosen_series(here) is None


def test_credits_name_the_service_that_is_read(here):
    assert attribution_lines(here) == ()
    choose_source(site=here, key="columns")
    (credit,) = attribution_lines(here)
    assert credit.licence == "CC BY 4.0"
    assert credit.url == "https://open-meteo.com/"


def fetch_of(site, **values):
    fetch = chosen_series(site).fetch
    SeriesFetch.objects.filter(pk=fetch.pk).update(**values)
    return SeriesFetch.objects.get(pk=fetch.pk)


def test_a_wish_for_weather_makes_it_due(here, cast):
    choose_source(site=here, key="us")
    fetch = fetch_of(
        here, wait_until=NOW + timedelta(hours=2), asked_at=NOW - timedelta(minutes=11)
    )
    assert ask_now(site=here, person=cast.grower, now=NOW).is_due
    fetch.refresh_from_db()
    assert fetch.wait_until is None
    assert AuditEntry.objects.filter(what="weather_asked_for").exists()


def test_wishes_do_not_come_more_often_than_every_ten_minutes(here, cast):
    choose_source(site=here, key="us")
    later = NOW + timedelta(hours=2)
    fetch = fetch_of(here, wait_until=later, asked_at=NOW - timedelta(minutes=9))
    asked = ask_now(site=here, person=cast.grower, now=NOW)
    assert (asked.is_due, asked.at) == (False, NOW + timedelta(minutes=1))
    fetch.refresh_from_db()
    assert fetch.wait_until == later


def test_no_wish_goes_against_what_the_service_wants(here, cast):
    choose_source(site=here, key="norwegian")
    later = NOW + timedelta(minutes=20)
    fetch_of(here, wait_until=later, remembered={NOT_BEFORE: later.isoformat()})
    asked = ask_now(site=here, person=cast.grower, now=NOW)
    assert (asked.is_due, asked.at, asked.is_service_wish) == (False, later, True)


def test_without_a_service_there_is_nothing_to_wish_for(here, cast):
    assert ask_now(site=here, person=cast.grower, now=NOW) is None


def test_what_nobody_reads_goes_after_a_month(here):
    choose_source(site=here, key="us")
    fetch_of(here, asked_at=NOW)
    leave_source(site=here)
    assert drop_unread(now=NOW + timedelta(days=29)) == 0
    assert drop_unread(now=NOW + timedelta(days=31)) == 1


def test_what_somebody_reads_stays_however_long_it_is_silent(here):
    choose_source(site=here, key="us")
    fetch_of(here, asked_at=NOW)
    assert drop_unread(now=NOW + timedelta(days=400)) == 0
