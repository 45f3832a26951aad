"""Shifts for the calendar tests."""

from datetime import UTC, datetime, time, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from care.calendars.events import CalendarShift
from care.models import Shift
from care.planning.shift_times import begins_at, ends_at
from orchard.models import Site

CHANGED = datetime(2026, 3, 30, 5, 4, 3, tzinfo=UTC)


def shift_at(zone, day, at=time(9), *, minutes=180, number=1, **values):
    """Return a shift as the pages make one of its day, its time and its site's zone."""
    site = Site(time_zone=zone)
    row = Shift(day=day, starts_at=at, minutes=minutes)
    return CalendarShift(
        uid=UUID(f"7f1f9d0c-4a58-4f6e-9a0e-{number:012d}"),
        begins=begins_at(row, site),
        ends=ends_at(row, site),
        **{
            "summary": "Saturday pruning: 3 of 4 people",
            "description": "Where: Long row\nWhat: pruning",
            "sequence": 0,
            "changed_at": CHANGED,
            **values,
        },
    )


def instant(zone, *parts):
    return datetime(*parts, tzinfo=ZoneInfo(zone)).astimezone(UTC)


HOUR = timedelta(hours=1)
