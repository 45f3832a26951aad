"""Time zones as calendar programs read them: two rules a year, or none at all.

Some programs ignore a table of single dates in a VTIMEZONE and are then an hour off, so
only rules are written (RFC 5545, 3.6.5 and 3.8.5.3). A zone whose clocks follow no such
rule has none, and its events are written in universal time instead.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from typing import Final
from zoneinfo import ZoneInfo

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard, vRecur

#: For so many years ahead a rule is to hold, so that the last Sunday of a month is told
#: from its fourth; where a law is about to change, for the events' own years.
_YEARS_AHEAD: Final = (12, 1)
_CHANGES_A_YEAR: Final = 2
_WEEKDAYS: Final = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
_WEEK: Final = 7
_DAYS_APART: Final = 20


@dataclass(frozen=True, slots=True)
class _Change:
    """Clocks go from one offset to another when they show ``at``."""

    at: datetime
    before: timedelta
    after: timedelta

    @property
    def habit(self) -> tuple[object, ...]:
        """What is the same each year, but for the day of the month."""
        clock = (self.at.month, self.at.weekday(), self.at.time())
        return (*clock, self.before, self.after)

    def places(self) -> frozenset[int]:
        """Return which weekday of its month it is, from the front and as the last."""
        is_last = (self.at + timedelta(days=_WEEK)).month != self.at.month
        number = (self.at.day - 1) // _WEEK + 1
        return frozenset({number, -1} if is_last else {number})


def time_zone(name: str, first_year: int, last_year: int) -> Timezone | None:
    """Return a VTIMEZONE that is right from one year to another, both included.

    ``None`` where the zone's clocks follow no two rules in those years.
    """
    for ahead in _YEARS_AHEAD:
        found = _rules(name, first_year - 1, last_year + ahead)
        if found is not None:
            return _component(name, found)
    return None


@dataclass(frozen=True, slots=True)
class _Rule:
    """One half of a zone; ``place`` is which weekday of its month, 0 for no change."""

    first: _Change
    place: int


def _rules(name: str, first_year: int, last_year: int) -> tuple[_Rule, ...] | None:
    """Return the rules that hold in all of the years, or ``None``."""
    years = [_changes(name, year) for year in range(first_year, last_year + 1)]
    if not any(years[1:]):  # of the first, only what it leads to counts
        offset = _offset(ZoneInfo(name), datetime(last_year, 1, 1, tzinfo=UTC))
        return (_Rule(_Change(datetime(1970, 1, 1), offset, offset), 0),)  # noqa: DTZ001
    if any(len(changes) != _CHANGES_A_YEAR for changes in years):
        return None
    rules = []
    for half in zip(*years, strict=True):
        places = frozenset.intersection(*(change.places() for change in half))
        if len({change.habit for change in half}) > 1 or not places:
            return None
        rules.append(_Rule(half[0], min(places)))
    return tuple(rules)


@lru_cache(maxsize=2048)
def _changes(name: str, year: int) -> tuple[_Change, ...]:
    """Return the changes of a year, in its order."""
    zone = ZoneInfo(name)
    found = []
    low = datetime(year, 1, 1, tzinfo=UTC)
    while low.year == year:
        high = low + timedelta(days=_DAYS_APART)
        if _offset(zone, low) != _offset(zone, high):
            found.append(_change_between(zone, low, high))
        low = high
    return tuple(change for change in found if change.at.year == year)


def _change_between(zone: ZoneInfo, low: datetime, high: datetime) -> _Change:
    """Return the change between two moments, to the minute."""
    before, after = _offset(zone, low), _offset(zone, high)
    minutes = int((high - low).total_seconds()) // 60
    start, unchanged = low, 0
    while minutes - unchanged > 1:
        middle = (unchanged + minutes) // 2
        if _offset(zone, start + timedelta(minutes=middle)) == before:
            unchanged = middle
        else:
            minutes = middle
    moment = start + timedelta(minutes=minutes)
    return _Change((moment + before).replace(tzinfo=None), before, after)


def _offset(zone: ZoneInfo, moment: datetime) -> timedelta:
    return moment.astimezone(zone).utcoffset() or timedelta()


def _component(name: str, rules: Iterable[_Rule]) -> Timezone:
    zone = Timezone()
    zone.add("tzid", name)
    for rule in rules:
        change = rule.first
        is_summer = change.after > change.before
        half = TimezoneDaylight() if is_summer else TimezoneStandard()
        half.add("dtstart", change.at)
        half.add("tzoffsetfrom", change.before)
        half.add("tzoffsetto", change.after)
        if rule.place:
            weekday = f"{rule.place}{_WEEKDAYS[change.at.weekday()]}"
            yearly = {"freq": "yearly", "bymonth": change.at.month, "byday": weekday}
            half.add("rrule", vRecur(yearly))
        zone.add_component(half)
    return zone
