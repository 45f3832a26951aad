"""What the log says of work that reached it later than it was done, and of wrong clocks."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from django.utils.translation import gettext, ngettext

from care.models import LogEntry
from care.views.days import full_day
from orchard.languages import clock

#: Sooner than this it is not worth a word; ours.
LATER = timedelta(minutes=15)
MINUTE_S, HOUR_S, DAY_S, YEAR_S = 60, 3600, 86_400, 365 * 86_400


def late_words(entry: LogEntry) -> str:
    """Return when a phone kept what it sent later, and whether its clock was wrong."""
    parts = [_sent_later(entry), _clock_words(entry.clock_off_s)]
    return ", ".join(part for part in parts if part)


def _sent_later(entry: LogEntry) -> str:
    happened_at = entry.happened_at
    if happened_at is None or entry.recorded_at - happened_at <= LATER:
        return ""
    local = happened_at.astimezone(ZoneInfo(entry.site.time_zone))
    # A demonstration's days are its own: only the hour means anything there.
    if entry.site.own_today is not None or local.date() == entry.on:
        return gettext("at {time}, sent later").format(time=clock(local))
    return gettext("written down on {day} at {time}, sent later").format(
        day=full_day(local.date()), time=clock(local)
    )


def _clock_words(off_s: int | None) -> str:
    """Return by how much a phone's clock was wrong, or nothing where it was right."""
    if off_s is None:
        return ""
    far = _far(abs(off_s))
    if off_s > 0:
        return gettext("that phone's clock was {time} ahead").format(time=far)
    return gettext("that phone's clock was {time} behind").format(time=far)


def _far(off_s: int) -> str:
    if off_s >= YEAR_S:
        number = round(off_s / YEAR_S)
        return ngettext("{number} year", "{number} years", number).format(number=number)
    if off_s >= 2 * DAY_S:
        number = round(off_s / DAY_S)
        return ngettext("{number} day", "{number} days", number).format(number=number)
    if off_s >= HOUR_S:
        return gettext("{number} h").format(number=round(off_s / HOUR_S))
    return gettext("{number} min").format(number=round(off_s / MINUTE_S))
