"""Quiet hours and the hour of the day's mail, also on nights when clocks change."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, strategies as st

from orchard.actions.message_hours import last_slot, next_slot, quiet_end

LOS_ANGELES = ZoneInfo("America/Los_Angeles")
TEN, SIX = time(22), time(6)
ZONES = (
    "America/Los_Angeles",
    "Australia/Lord_Howe",  # by half an hour
    "Asia/Kathmandu",
    "America/Santiago",
    "Europe/Dublin",
    "Pacific/Apia",  # left out 30 December 2011
)
TIMES = st.builds(time, st.integers(0, 23), st.sampled_from([0, 30]))
MOMENTS = st.datetimes(datetime(2011, 1, 1), datetime(2030, 1, 1)).map(  # noqa: DTZ001
    lambda one: one.replace(tzinfo=UTC)
)


def at(day, hour, minute=0, fold=0):
    clock = time(hour, minute, fold=fold)
    return datetime.combine(day, clock, LOS_ANGELES).astimezone(UTC)


@pytest.mark.parametrize(
    ("hour", "minute", "is_quiet"),
    [(21, 59, False), (22, 0, True), (2, 0, True), (5, 59, True), (6, 0, False)],
)
def test_over_midnight_it_is_quiet_from_the_first_minute_to_the_last(
    hour, minute, is_quiet
):
    day = date(2026, 7, 2)
    found = quiet_end(at(day, hour, minute), LOS_ANGELES, TEN, SIX)
    assert (found is not None) == is_quiet
    if found:
        assert found == at(day + timedelta(days=hour > 12), 6)


def test_hours_within_one_day_and_no_hours_at_all():
    noon = at(date(2026, 7, 2), 13)
    assert quiet_end(noon, LOS_ANGELES, time(12), time(14)) == at(date(2026, 7, 2), 14)
    assert quiet_end(noon, LOS_ANGELES, time(14), time(12)) is None
    assert quiet_end(noon, LOS_ANGELES, None, None) is None
    assert quiet_end(noon, LOS_ANGELES, time(13), time(13)) is None


def test_the_short_night_ends_by_its_clock():
    """8 March 2026 in Los Angeles has no 2:00 to 3:00 (IANA time zone database)."""
    eve = date(2026, 3, 7)
    over = quiet_end(at(eve, 23), LOS_ANGELES, TEN, SIX)
    assert over == datetime(2026, 3, 8, 13, tzinfo=UTC)  # 6:00 PDT
    assert over - at(eve, 22) == timedelta(hours=7)


def test_the_long_night_wakes_nobody_at_the_first_of_two_hours():
    """1 November 2026 in Los Angeles has 1:00 to 2:00 twice."""
    day = date(2026, 11, 1)
    until = time(1, 30)
    second = at(day, 1, 30, fold=1)
    assert quiet_end(at(day, 1, 29), LOS_ANGELES, TEN, until) == second
    assert quiet_end(at(day, 1, 45), LOS_ANGELES, TEN, until) == second
    assert quiet_end(at(day, 1, 29, fold=1), LOS_ANGELES, TEN, until) == second
    assert quiet_end(second, LOS_ANGELES, TEN, until) is None
    assert quiet_end(at(day, 3), LOS_ANGELES, TEN, SIX) - at(
        date(2026, 10, 31), 22
    ) == timedelta(hours=9)


@given(now=MOMENTS, zone=st.sampled_from(ZONES), starts=TIMES, ends=TIMES)
def test_quiet_hours_end_at_their_hour_and_it_is_not_quiet_then(
    now, zone, starts, ends
):
    over = quiet_end(now, ZoneInfo(zone), starts, ends)
    if over is None:
        return
    assert now < over <= now + timedelta(hours=26)
    assert quiet_end(over, ZoneInfo(zone), starts, ends) is None


@given(now=MOMENTS, zone=st.sampled_from(ZONES), hour=TIMES)
def test_the_hour_of_a_day_comes_once_a_day(now, zone, hour):
    known = ZoneInfo(zone)
    before, after = last_slot(now, known, hour), next_slot(now, known, hour)
    assert before <= now < after
    assert timedelta(hours=22) <= after - before <= timedelta(hours=49)
    assert next_slot(before, known, hour) == after
    assert last_slot(after, known, hour) == after
