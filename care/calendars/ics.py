"""Rounds and shifts as an iCalendar file that any calendar program can subscribe to.

One all-day event a round, one timed event a shift (RFC 5545, with the calendar
properties of RFC 7986). The same rounds and shifts give the same bytes, whenever they
are asked for: nothing in the file reads a clock, so an unchanged calendar has an
unchanged ETag.
"""

import hashlib
from collections.abc import Iterable, Sequence
from datetime import timedelta
from typing import Final
from uuid import UUID

from icalendar import Calendar, Timezone, vDuration

from care.calendars.events import (
    CalendarRound,
    CalendarShift,
    round_event,
    shift_event,
)
from care.calendars.text import Text, one_line
from care.calendars.zones import time_zone

PRODUCT: Final = "-//Orchard Care//Rounds//EN"

# How often a program may ask again at most; a plan changes once or twice a day.
ASK_AGAIN_AFTER: Final = timedelta(hours=4)


def render_calendar(
    name: str,
    rounds: Iterable[CalendarRound],
    shifts: Iterable[CalendarShift] = (),
) -> bytes:
    """Return the calendar as a file's bytes, events by day and then by id.

    Parameters
    ----------
    name
        What the subscriber's program calls the calendar.
    rounds, shifts
        In any order.

    Raises
    ------
    ValueError
        Two of them have the same id.
    """
    calendar = _empty(name)
    shifts = list(shifts)
    zones = _zones(shifts)
    for zone in zones.values():
        if zone is not None:
            calendar.add_component(zone)
    events: list[CalendarRound | CalendarShift] = [*rounds, *shifts]
    uids: set[UUID] = set()
    for one in sorted(events, key=lambda one: (one.day, str(one.uid))):
        if one.uid in uids:
            message = f"two events have the id {one.uid}"
            raise ValueError(message)
        uids.add(one.uid)
        if isinstance(one, CalendarShift):
            in_zone = one.is_clear and zones[one.zone] is not None
            calendar.add_component(shift_event(one, in_zone=in_zone))
        else:
            calendar.add_component(round_event(one))
    content: bytes = calendar.to_ical()
    return content


def _empty(name: str) -> Calendar:
    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", PRODUCT)
    calendar.add("calscale", "GREGORIAN")
    title = Text(one_line(name))
    calendar.add("name", title)
    # What programs read that came before RFC 7986 or never took it up.
    calendar.add("x-wr-calname", title)
    calendar.add("refresh-interval", ASK_AGAIN_AFTER, parameters={"VALUE": "DURATION"})
    calendar.add("x-published-ttl", vDuration(ASK_AGAIN_AFTER))
    return calendar


def _zones(shifts: Sequence[CalendarShift]) -> dict[str, Timezone | None]:
    """Return the rules of the time zones by name; none where they follow no rule."""
    found: dict[str, Timezone | None] = {}
    for name in sorted({one.zone for one in shifts}):
        named = [one for one in shifts if one.zone == name]
        years = {one.begins.year for one in named} | {one.ends.year for one in named}
        found[name] = time_zone(name, min(years), max(years))
    return found


def etag_of(content: bytes) -> str:
    """Return the strong ETag of a file: its own digest, so it can be no other file's.

    With the quotation marks of RFC 9110 section 8.8.3.
    """
    return f'"{hashlib.sha256(content).hexdigest()}"'
