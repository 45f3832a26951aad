"""When messages may come: quiet hours and the hour of the day's mail, by wall clocks.

On nights when clocks change, quiet hours last as long as their clock says or longer, and
the hour of a day's mail comes once.
"""

from datetime import UTC, date, datetime, time, timedelta, tzinfo
from zoneinfo import ZoneInfo

from orchard.models import Message, Person, Site

DAY = timedelta(days=1)


def zone_of(person: Person) -> ZoneInfo:
    """Return the time zone a person lives by: that of their first place, or UTC."""
    zones = Site.objects.filter(orchard__memberships__person=person)
    return ZoneInfo(
        zones.order_by("pk").values_list("time_zone", flat=True).first() or "UTC"
    )


def zone_of_message(message: Message) -> ZoneInfo:
    """Return the time zone of the place a message concerns, else its reader's."""
    if message.time_zone:
        return ZoneInfo(message.time_zone)
    sites = Site.objects.filter(orchard=message.orchard_id).order_by("pk")
    name = sites.values_list("time_zone", flat=True).first()
    return ZoneInfo(name) if name else zone_of(message.person)


def _moments(day: date, at: time, zone: tzinfo) -> tuple[datetime, datetime]:
    """Return when a clock shows a time: twice the same, but while clocks change."""
    first, second = (
        datetime.combine(day, at.replace(fold=fold), zone).astimezone(UTC)
        for fold in (0, 1)
    )
    return min(first, second), max(first, second)


def quiet_end(
    now: datetime, zone: tzinfo, starts: time | None, ends: time | None
) -> datetime | None:
    """Return when the quiet hours that now lies in end, ``None`` outside of them.

    Parameters
    ----------
    now : datetime
        Aware.
    starts, ends : time or None
        Of the wall clock of ``zone``, over midnight where it starts later than it ends.
        Without either, or with both the same, no hour is quiet.
    """
    if starts is None or ends is None or starts == ends:
        return None
    today = now.astimezone(zone).date()
    for day in (today - DAY, today):
        last = day if starts < ends else day + DAY
        begins, over = _moments(day, starts, zone)[0], _moments(last, ends, zone)[1]
        if begins <= now < over:
            return over
    return None


def last_slot(now: datetime, zone: tzinfo, at: time) -> datetime:
    """Return when a clock showed ``at`` last, now included."""
    today = now.astimezone(zone).date()
    slots = (
        _moments(day, at, zone)[0] for day in (today, today - DAY, today - 2 * DAY)
    )
    return next(slot for slot in slots if slot <= now)


def next_slot(now: datetime, zone: tzinfo, at: time) -> datetime:
    """Return when a clock shows ``at`` next, later than now."""
    today = now.astimezone(zone).date()
    slots = (
        _moments(day, at, zone)[0] for day in (today, today + DAY, today + 2 * DAY)
    )
    return next(slot for slot in slots if slot > now)
