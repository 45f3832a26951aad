"""When a row of a station's file was measured, whichever clock the station keeps."""

import re
from datetime import UTC, date, datetime, time, timedelta, timezone
from zoneinfo import ZoneInfo

from django.utils.translation import gettext

from orchard.sources.station_columns import Clock, DateOrder
from orchard.sources.station_dates import DateError, read_date
from orchard.sources.station_day import OLDEST

_TIME = re.compile(
    r"(?P<hour>\d{1,2})(?::?(?P<minute>\d\d)(?::?(?P<second>\d\d)(?:\.\d+)?)?)?"
    r" ?(?P<half>[AaPp]\.?[Mm]\.?)?(?P<zone>Z|[-+]\d\d:?\d\d)?",
    re.ASCII,
)
_IN_DATE = re.compile(r"(?P<day>[^T ]+)[T ](?P<time>.+)", re.ASCII)
_NOON, _MIDNIGHT = 12, 24
LAST_YEAR = 2200


def read_moment(
    day_text: str,
    time_text: str | None,
    order: DateOrder | None,
    clock: Clock,
    zone: ZoneInfo,
) -> datetime:
    """Return when a row was measured, in UTC.

    Parameters
    ----------
    day_text : str
        The cell with the date, which holds the time too where there is no other.
    time_text : str or None
        The cell with the time of day: ``13:05``, ``1305``, ``1:05 PM``, ``24:00``.
    order : DateOrder or None
        Of day and month.
    clock : Clock
        What the station's clock does; a time that names its own zone is believed.
    zone : ZoneInfo
        Of the site. Of an hour that comes twice the first is meant.

    Raises
    ------
    DateError
        For no date, no time, or an hour that the clock left out.
    """
    if time_text is None:
        match = _IN_DATE.fullmatch(day_text)
        if match is None:
            message = gettext("“{text}” has no time of day").format(text=day_text[:30])
            raise DateError(message)
        day_text, time_text = match["day"], match["time"]
    day = read_date(day_text, order)
    if not OLDEST.year < day.year < LAST_YEAR:
        message = gettext("{day} is no day of a weather station").format(day=day)
        raise DateError(message)
    found = _TIME.fullmatch(time_text.strip())
    if found is None:
        message = gettext("“{text}” is not a time; write it as 13:05").format(
            text=time_text[:30]
        )
        raise DateError(message)
    at = _on(day, found, time_text)
    if found["zone"]:
        return at.replace(tzinfo=_offset(found["zone"])).astimezone(UTC)
    return _by_clock(at, clock, zone)


def second_time(at: datetime, zone: ZoneInfo) -> datetime | None:
    """Return the later moment of an hour that a clock shows twice, or ``None``."""
    local = at.astimezone(zone)
    later = local.replace(fold=1).astimezone(UTC)
    return later if local.fold == 0 and later != at else None


def _on(day: date, found: re.Match[str], text: str) -> datetime:
    hour, minute = int(found["hour"]), int(found["minute"] or 0)
    if found["half"]:
        if not 1 <= hour <= _NOON:
            message = gettext("“{text}” is not a time; write it as 13:05").format(
                text=text[:30]
            )
            raise DateError(message)
        hour = hour % _NOON + (_NOON if found["half"].lower().startswith("p") else 0)
    is_end = hour == _MIDNIGHT and minute == 0
    try:
        of_day = time(0 if is_end else hour, minute, int(found["second"] or 0))
    except ValueError:
        message = gettext("“{text}” is not a time; write it as 13:05").format(
            text=text[:30]
        )
        raise DateError(message) from None
    return datetime.combine(day + timedelta(days=is_end), of_day)


def _offset(text: str) -> timezone:
    if text == "Z":
        return UTC
    minutes = int(text[1:3]) * 60 + int(text[-2:])
    if minutes >= _MIDNIGHT * 60:
        message = gettext("“{text}” is no time zone").format(text=text)
        raise DateError(message)
    return timezone(timedelta(minutes=-minutes if text[0] == "-" else minutes))


def _by_clock(at: datetime, clock: Clock, zone: ZoneInfo) -> datetime:
    if clock is Clock.UTC:
        return at.replace(tzinfo=UTC)
    if clock is Clock.WINTER:
        return (at - _winter_offset(at.year, zone)).replace(tzinfo=UTC)
    moment = at.replace(tzinfo=zone).astimezone(UTC)
    if moment.astimezone(zone).replace(tzinfo=None) != at:
        message = gettext(
            "{at} was left out when the clocks went forward; does the station "
            "keep winter time all year?"
        ).format(at=f"{at:%Y-%m-%d %H:%M}")
        raise DateError(message)
    return moment


def _winter_offset(year: int, zone: ZoneInfo) -> timedelta:
    """Return a year's smaller offset from UTC, north or south of the equator."""
    offsets = [
        datetime(year, month, 1, tzinfo=zone).utcoffset() or timedelta(0)
        for month in (1, 7)
    ]
    return min(offsets)
