"""What a weather station at the site sends by itself, read into one reading in SI.

Such stations send a web form of fields that many of them share: ``dateutc`` and values
in US units, each in a field named after it. What a station cannot measure it leaves
out, leaves empty or fills with a code such as -9999.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from django.utils.translation import gettext, ngettext

from orchard.units import Quantity, UnitSystem, to_si

#: A station's clock may run ahead by this much; common practice, no source.
MOST_AHEAD = timedelta(minutes=15)
#: What a station kept while the network was away is taken for so long.
MOST_BEHIND = timedelta(days=2)
_RAIN_IN = "rainin"
_RAIN_DAY_IN = "dailyrainin"
#: Field sent: (field kept, what is measured); other fields are not looked at.
_KEPT: dict[str, tuple[str, Quantity | None]] = {
    "tempf": ("temp_c", Quantity.TEMPERATURE),
    "dewptf": ("dew_point_c", Quantity.TEMPERATURE),
    "humidity": ("humidity_percent", None),
    "windspeedmph": ("wind_ms", Quantity.SPEED),
    "windgustmph": ("gust_ms", Quantity.SPEED),
    _RAIN_IN: ("rain_hour_mm", Quantity.DEPTH),
    _RAIN_DAY_IN: ("rain_day_mm", Quantity.DEPTH),
    "solarradiation": ("radiation_wm2", None),
}
_NEVER_NEGATIVE = {"rain_hour_mm", "rain_day_mm", "wind_ms", "gust_ms"}
_MISSING_WORDS = frozenset({"", "-", "--", "nan", "null", "none", "na", "n/a"})
_MISSING_NUMBERS = frozenset({-9999.0, -999.9, -999.0, -99.9, -99.0})
_NUMBER = re.compile(r"[-+]?(\d{1,6}(\.\d{0,9})?|\.\d{1,9})", re.ASCII)
_MOMENT = re.compile(
    r"(\d{4})-(\d{1,2})-(\d{1,2})[ T+](\d{1,2}):(\d{1,2})(?::(\d{1,2}))?Z?", re.ASCII
)
_SHOWN = 24


class PushError(Exception):
    """A reading that cannot be taken; the message is for the station's people."""


@dataclass(frozen=True, slots=True)
class PushedReading:
    """One moment at a station, in SI; ``None`` is a value that it did not send.

    ``rain_hour_mm`` is of the last 60 minutes, ``rain_day_mm`` since the station's own
    midnight. Wind is as high above the ground as the station's anemometer.
    """

    at: datetime
    temp_c: float | None = None
    dew_point_c: float | None = None
    humidity_percent: float | None = None
    wind_ms: float | None = None
    gust_ms: float | None = None
    rain_hour_mm: float | None = None
    rain_day_mm: float | None = None
    radiation_wm2: float | None = None


def read_push(fields: Mapping[str, str], now: datetime) -> PushedReading:
    """Return the reading in the fields a station sent.

    Parameters
    ----------
    fields : mapping of str to str
        As sent; names in any case.
    now : datetime
        Aware; when they came.

    Raises
    ------
    PushError
        For no time or one that cannot be, for a value that is no number, and where
        nothing is measured at all.
    """
    sent = {name.casefold(): value.strip() for name, value in fields.items()}
    at = _moment(sent.get("dateutc", ""), now)
    values = {
        kept: _value(name, sent[name], kept, quantity)
        for name, (kept, quantity) in _KEPT.items()
        if name in sent
    }
    if all(value is None for value in values.values()):
        names = ", ".join(name for name in _KEPT if name in {"tempf", _RAIN_DAY_IN})
        message = gettext("The station sent no weather, such as {names}.").format(
            names=names
        )
        raise PushError(message)
    return PushedReading(at, **values)


def _moment(text: str, now: datetime) -> datetime:
    if text.casefold() == "now":
        return now.astimezone(UTC).replace(microsecond=0)
    if not text:
        message = gettext("The station sent no time (dateutc).")
        raise PushError(message)
    found = _MOMENT.fullmatch(text)
    try:
        parts = [int(part or 0) for part in found.groups()] if found else []
        at = datetime(*parts, tzinfo=UTC) if parts else None  # type: ignore[misc,arg-type]
    except ValueError:
        at = None
    if at is None:
        message = gettext(
            "Its time, “{text}”, is none; write it as 2025-07-02 14:05:00."
        ).format(text=_shown(text))
        raise PushError(message)
    if at - now > MOST_AHEAD:
        message = gettext(
            "Its clock is {long} ahead: it says {at} UTC. Set the station's "
            "clock and time zone."
        ).format(long=_long(at - now), at=f"{at:%Y-%m-%d %H:%M}")
        raise PushError(message)
    if now - at > MOST_BEHIND:
        message = gettext(
            "Its clock is {long} behind: it says {at} UTC. Set the station's "
            "clock; readings older than 2 days are not taken."
        ).format(long=_long(now - at), at=f"{at:%Y-%m-%d %H:%M}")
        raise PushError(message)
    return at


def _shown(text: str) -> str:
    """Return the beginning of a text that anybody may have sent."""
    return "".join(each if each.isprintable() else "?" for each in text[:_SHOWN])


def _long(span: timedelta) -> str:
    minutes = round(span.total_seconds() / 60)
    days, hours = minutes // 1440, minutes // 60
    if days:
        return ngettext("{number} day", "{number} days", days).format(number=days)
    if hours:
        return ngettext("{number} hour", "{number} hours", hours).format(number=hours)
    return gettext("{number} minutes").format(number=minutes)


def _value(name: str, text: str, kept: str, quantity: Quantity | None) -> float | None:
    plain = text.replace("\N{MINUS SIGN}", "-")
    if plain.casefold() in _MISSING_WORDS:
        return None
    if not _NUMBER.fullmatch(plain):
        message = gettext("{name}: “{text}” is not a number.").format(
            name=name, text=_shown(text)
        )
        raise PushError(message)
    number = float(plain)
    if number in _MISSING_NUMBERS:
        return None
    value = number if quantity is None else to_si(number, quantity, UnitSystem.US)
    if kept in _NEVER_NEGATIVE and value < 0:
        message = gettext("{name}: {plain} cannot be below zero.").format(
            name=name, plain=plain
        )
        raise PushError(message)
    return value
