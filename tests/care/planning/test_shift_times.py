"""Shifts on the nights on which clocks change, north and south."""

from datetime import UTC, date, datetime, time, timedelta

import pytest

from care.models import Shift
from care.planning.shift_times import (
    ClockTrouble,
    begins_at,
    clock_trouble,
    ends_at,
    next_clear_time,
    overlaps,
    troubled_days,
)
from orchard.models import Site

WEST, SYDNEY = "America/Los_Angeles", "Australia/Sydney"
HALF_PAST_TWO = time(2, 30)


# The rules of 2025: in the United States from 2:00 to 3:00 on the second Sunday of March
# and back on the first of November (15 USC 260a); in New South Wales on the first Sundays
# of October and April (Standard Time Act 1987). Days from a calendar.
@pytest.mark.parametrize(
    ("zone", "day", "at", "trouble", "clear"),
    [
        (WEST, date(2025, 3, 9), HALF_PAST_TWO, ClockTrouble.SKIPPED, time(3)),
        (WEST, date(2025, 3, 9), time(2), ClockTrouble.SKIPPED, time(3)),
        (WEST, date(2025, 3, 9), time(3), None, time(3)),
        (WEST, date(2025, 11, 2), time(1, 30), ClockTrouble.TWICE, time(2)),
        (WEST, date(2025, 11, 2), HALF_PAST_TWO, None, HALF_PAST_TWO),
        (SYDNEY, date(2025, 10, 5), HALF_PAST_TWO, ClockTrouble.SKIPPED, time(3)),
        (SYDNEY, date(2025, 4, 6), HALF_PAST_TWO, ClockTrouble.TWICE, time(3)),
        (SYDNEY, date(2025, 3, 9), HALF_PAST_TWO, None, HALF_PAST_TWO),
        # Half an hour only.
        (
            "Australia/Lord_Howe",
            date(2025, 10, 5),
            time(2, 15),
            "skipped",
            HALF_PAST_TWO,
        ),
        ("UTC", date(2025, 3, 9), HALF_PAST_TWO, None, HALF_PAST_TWO),
    ],
)
def test_times_that_clocks_skip_or_show_twice(zone, day, at, trouble, clear):
    assert clock_trouble(day, at, zone) == trouble
    assert next_clear_time(day, at, zone) == (day, clear)


def test_of_many_days_the_troubled_ones():
    sundays = [date(2025, 3, 2) + timedelta(days=7 * number) for number in range(40)]
    assert troubled_days(sundays, HALF_PAST_TWO, WEST) == [date(2025, 3, 9)]
    assert troubled_days(sundays, HALF_PAST_TWO, SYDNEY) == [
        date(2025, 4, 6),
        date(2025, 10, 5),
    ]


@pytest.mark.parametrize(
    ("zone", "day", "at", "begins", "ends"),
    [
        # By hand: 8 h behind before the change, 7 after it.
        (WEST, date(2025, 3, 9), time(1), "2025-03-09T09:00", "2025-03-09T12:00"),
        (WEST, date(2025, 3, 9), HALF_PAST_TWO, "2025-03-09T10:00", "2025-03-09T13:00"),
        (WEST, date(2025, 11, 2), time(1, 30), "2025-11-02T08:30", "2025-11-02T11:30"),
        # 10 h ahead before, 11 after.
        (SYDNEY, date(2025, 10, 5), time(1), "2025-10-04T15:00", "2025-10-04T18:00"),
        (SYDNEY, date(2025, 4, 6), time(1), "2025-04-05T14:00", "2025-04-05T17:00"),
    ],
)
def test_three_hours_are_three_hours(zone, day, at, begins, ends):
    site = Site(time_zone=zone)
    shift = Shift(day=day, starts_at=at, minutes=180)
    moments = [begins_at(shift, site), ends_at(shift, site)]
    assert [moment.astimezone(UTC) for moment in moments] == [
        datetime.fromisoformat(text).replace(tzinfo=UTC) for text in (begins, ends)
    ]


def test_shifts_overlap_where_they_share_a_moment_also_across_midnight():
    site = Site(time_zone=SYDNEY)
    evening = Shift(day=date(2025, 7, 5), starts_at=time(22), minutes=180)
    night = Shift(day=date(2025, 7, 6), starts_at=time(0, 30), minutes=60)
    after = Shift(day=date(2025, 7, 6), starts_at=time(1), minutes=60)
    assert overlaps(evening, night, site)
    assert overlaps(night, evening, site)
    assert not overlaps(evening, after, site)
