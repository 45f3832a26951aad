"""When a shift begins and ends, also on the night on which clocks change."""

from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from care.models import Shift
from orchard.models import Site

MINUTE = timedelta(minutes=1)
# No clock change on record skips or repeats more than a day.
LONGEST_CHANGE_MINUTES = 24 * 60


class ClockTrouble(StrEnum):
    """What is wrong with a time on a day on which clocks change."""

    SKIPPED = "skipped"
    TWICE = "twice"


def clock_trouble(day: date, at: time, zone_name: str) -> ClockTrouble | None:
    """Return whether clocks of a zone skip a time on a day, or show it twice."""
    early = datetime.combine(day, at, ZoneInfo(zone_name))
    before, after = early.utcoffset(), early.replace(fold=1).utcoffset()
    if before == after or before is None or after is None:
        return None
    return ClockTrouble.SKIPPED if before < after else ClockTrouble.TWICE


def next_clear_time(day: date, at: time, zone_name: str) -> tuple[date, time]:
    """Return the first time from ``at`` on that clocks show exactly once."""
    local = datetime.combine(day, at)
    for _ in range(LONGEST_CHANGE_MINUTES):
        if clock_trouble(local.date(), local.time(), zone_name) is None:
            break
        local += MINUTE
    return local.date(), local.time()


def troubled_days(days: Iterable[date], at: time, zone_name: str) -> list[date]:
    """Return the days on which clocks skip a time or show it twice."""
    return [day for day in days if clock_trouble(day, at, zone_name)]


def begins_at(shift: Shift, site: Site) -> datetime:
    """Return the moment a shift begins, aware, by the clock of its site.

    A time that the clock skips, as the rules of a time zone may come to have it after a
    shift was made, is the first after it; of two alike the earlier.
    """
    zone = ZoneInfo(site.time_zone)
    if clock_trouble(shift.day, shift.starts_at, zone.key) is ClockTrouble.SKIPPED:
        day, at = next_clear_time(shift.day, shift.starts_at, zone.key)
        return datetime.combine(day, at, zone)
    return datetime.combine(shift.day, shift.starts_at, zone)


def ends_at(shift: Shift, site: Site) -> datetime:
    """Return the moment a shift ends: its minutes pass whatever clocks do."""
    begins = begins_at(shift, site)
    end = begins.astimezone(UTC) + timedelta(minutes=shift.minutes)
    return end.astimezone(begins.tzinfo)


def overlaps(shift: Shift, other: Shift, site: Site) -> bool:
    """Whether two shifts of a site share a moment."""
    # In UTC: clocks of one zone are compared by their hands alone.
    first, last = (
        moment(shift, site).astimezone(UTC) for moment in (begins_at, ends_at)
    )
    begins, ends = (
        moment(other, site).astimezone(UTC) for moment in (begins_at, ends_at)
    )
    return first < ends and begins < last
