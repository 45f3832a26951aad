"""A forecast in columns: one list of times, one list of values a quantity (JSON).

The form of Open-Meteo's forecast interface (open-meteo.com/en/docs), which others
serve too, so the address is a setting. Times are written without their zone and the
whole answer has one offset from UTC, that of the day it was asked on; it is asked for
in UTC by the hour and gathered into local days here, so that weeks in which the
clocks change come out right. Sums are of the hour before their time.
"""

import itertools
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from urllib.parse import urlencode

from django.conf import settings

from orchard.sources.answered_json import (
    FIRST_YEAR,
    LAST_YEAR,
    Fields,
    as_number,
    fields_of,
    list_of,
    number_of,
    read_fields,
    shown,
    text_of,
)
from orchard.sources.arriving import (
    Answer,
    Ask,
    AskedPlace,
    ForecastDay,
    strange_answer,
)
from orchard.sources.distance import distance_km
from orchard.sources.forecast_hours import (
    MOST_DAYS,
    LocalDays,
    checked_days,
    midnight,
)

DAYS_AHEAD = 16
FAR_KM = 25.0
FAR_ABOVE_M = 300.0
MOST_TIMES = 24 * 40
_HOUR = timedelta(hours=1)
_LONGEST_STEP = timedelta(hours=3)
_LARGEST_OFFSET_S = 15 * 3600
UNDEFINED = "undefined"

Conversion = Callable[[float], float]

_TEMPERATURE: Mapping[str, Conversion] = {
    "°C": lambda value: value,
    "°F": lambda value: (value - 32.0) / 1.8,
}
_DEPTH: Mapping[str, Conversion] = {
    "mm": lambda value: value,
    "cm": lambda value: value * 10.0,
    "inch": lambda value: value * 25.4,
}
_SPEED: Mapping[str, Conversion] = {
    "m/s": lambda value: value,
    "km/h": lambda value: value / 3.6,
    "mp/h": lambda value: value * 0.44704,
    "mph": lambda value: value * 0.44704,
    "kn": lambda value: value * 1852.0 / 3600.0,
}
_PERCENT: Mapping[str, Conversion] = {"%": lambda value: value}
_ENERGY: Mapping[str, Conversion] = {
    "MJ/m²": lambda value: value,
    # Of one hour; longer steps are multiplied where they are added.
    "W/m²": lambda value: value * 3600.0 / 1e6,
}


@dataclass(frozen=True, slots=True)
class _Column:
    """A quantity's names, newest first, and the units it may come in."""

    names: tuple[str, ...]
    units: Mapping[str, Conversion]
    is_sum: bool = False


_HOURLY = {
    "temperature": _Column(("temperature_2m",), _TEMPERATURE),
    "humidity": _Column(("relative_humidity_2m", "relativehumidity_2m"), _PERCENT),
    "wind": _Column(("wind_speed_10m", "windspeed_10m"), _SPEED),
    "gust": _Column(("wind_gusts_10m", "windgusts_10m"), _SPEED),
    "rain": _Column(("precipitation",), _DEPTH, is_sum=True),
    "radiation": _Column(("shortwave_radiation",), _ENERGY, is_sum=True),
    "et0": _Column(("et0_fao_evapotranspiration",), _DEPTH, is_sum=True),
}
_DAILY = {
    "tmin_c": _Column(("temperature_2m_min",), _TEMPERATURE),
    "tmax_c": _Column(("temperature_2m_max",), _TEMPERATURE),
    "rain_mm": _Column(("precipitation_sum",), _DEPTH),
    "gust_ms": _Column(("wind_gusts_10m_max", "windgusts_10m_max"), _SPEED),
    "radiation_mj": _Column(("shortwave_radiation_sum",), _ENERGY),
    "et0_mm": _Column(("et0_fao_evapotranspiration",), _DEPTH),
}


def fetch(place: AskedPlace, ask: Ask) -> Answer:
    """Ask the service whose address the settings name."""
    return parse(ask(address(settings.ORCHARD_FORECAST_URL, place)), place)


def address(base: str, place: AskedPlace) -> str:
    """Return what is asked for: the hours in UTC, every unit named.

    Parameters
    ----------
    base : str
        Such as ``https://forecast.example.org/v1/forecast``.
    place : AskedPlace
        Its height is sent too, so that the service corrects for it.
    """
    query = {
        "latitude": f"{place.latitude_deg:.4f}",
        "longitude": f"{place.longitude_deg:.4f}",
        "elevation": f"{place.elevation_m:.0f}",
        "hourly": ",".join(column.names[0] for column in _HOURLY.values()),
        "temperature_unit": "celsius",
        "wind_speed_unit": "ms",
        # What the unit was called before.
        "windspeed_unit": "ms",
        "precipitation_unit": "mm",
        "timeformat": "iso8601",
        "timezone": "GMT",
        # The local day may have begun on the day before in UTC.
        "past_days": "1",
        "forecast_days": str(DAYS_AHEAD),
    }
    mark = "&" if "?" in base else "?"
    return f"{base}{mark}{urlencode(query, safe=',')}"


def parse(body: bytes, place: AskedPlace) -> Answer:
    """Return the local days in an answer, by its hours or else by its days.

    Raises
    ------
    SourceError
        For an answer of another form, an unknown unit, a value that cannot be.
    """
    fields = read_fields(body)
    if fields.get("error"):
        message = f"it says “{shown(fields.get('reason') or 'error')}”"
        raise strange_answer(message)
    offset = _offset(fields)
    if fields.get("hourly") is not None:
        days = _by_hours(fields, offset, place)
    else:
        days = _by_days(fields, offset, place)
    return Answer(days=days, remarks=tuple(_remarks(fields, place)))


def _offset(fields: Fields) -> timedelta:
    """Return the one offset of the whole answer; never a zone's own for each day."""
    seconds = number_of(fields, "utc_offset_seconds")
    if seconds is None or abs(seconds) > _LARGEST_OFFSET_S:
        message = "it does not say how far its clock is from UTC"
        raise strange_answer(message)
    return timedelta(seconds=seconds)


def _by_hours(
    fields: Fields, offset: timedelta, place: AskedPlace
) -> tuple[ForecastDay, ...]:
    table = fields_of(fields, "hourly")
    units = fields_of(fields, "hourly_units")
    times = [at - offset for at in _times(table)]
    step = _step(times)
    days = LocalDays(place)
    for name, column in _HOURLY.items():
        for at, value in zip(times, _values(table, units, column), strict=True):
            if value is None:
                continue
            if column.is_sum:
                is_power = name == "radiation" and _unit(units, column) == "W/m²"
                factor = step / _HOUR if is_power else 1.0
                days.add(name, at - step, at, value * factor)
            elif name == "gust":
                days.hold(name, at - step, at, value)
            else:
                days.hold(name, at, at + step, value)
    return days.days()


def _by_days(
    fields: Fields, offset: timedelta, place: AskedPlace
) -> tuple[ForecastDay, ...]:
    table = fields_of(fields, "daily")
    units = fields_of(fields, "daily_units")
    found: dict[date, dict[str, float]] = {}
    for at in _times(table):
        day = at.date()
        _check_offset(day, offset, place)
        if day in found:
            message = f"{day} is in it twice"
            raise strange_answer(message)
        found[day] = {}
    for name, column in _DAILY.items():
        for day, value in zip(found, _values(table, units, column), strict=True):
            if value is not None:
                found[day][name] = value
    return checked_days(
        [
            ForecastDay(day, **values)  # type: ignore[arg-type]  # hours stay 24
            for day, values in sorted(found.items())
            if values and 0 <= (day - place.today).days < MOST_DAYS
        ]
    )


def _check_offset(day: date, offset: timedelta, place: AskedPlace) -> None:
    """Refuse days of another place's clock; an hour of summer time is no matter."""
    local = midnight(day, place.zone).astimezone(place.zone).utcoffset()
    if local is not None and abs(local - offset) > _HOUR:
        message = "its days are not those of this place's clock"
        raise strange_answer(message)


def _times(table: Fields) -> list[datetime]:
    texts = list_of(table, "time")
    if not texts or len(texts) > MOST_TIMES:
        message = f"it has {len(texts)} times"
        raise strange_answer(message)
    return [_time(text) for text in texts]


def _time(text: object) -> datetime:
    try:
        at = datetime.fromisoformat(text) if isinstance(text, str) else None
    except ValueError:
        at = None
    if at is None or at.tzinfo is not None or not FIRST_YEAR <= at.year <= LAST_YEAR:
        message = f"“{shown(text)}” is not a local time"
        raise strange_answer(message)
    return at.replace(tzinfo=UTC)


def _step(times: list[datetime]) -> timedelta:
    """Return the time from one value to the next, the same all along."""
    steps = {after - before for before, after in itertools.pairwise(times)}
    step = steps.pop() if steps else _HOUR
    if steps or not timedelta(0) < step <= _LONGEST_STEP:
        message = "its times do not follow each other evenly"
        raise strange_answer(message)
    return step


def _values(table: Fields, units: Fields, column: _Column) -> list[float | None]:
    """Return a column in SI; nothing where it is missing or has no unit."""
    count = len(list_of(table, "time"))
    name = next((name for name in column.names if table.get(name) is not None), "")
    unit = _unit(units, column)
    if not name or unit == UNDEFINED:
        return [None] * count
    raw = [as_number(value, f"“{name}”") for value in list_of(table, name)]
    if len(raw) != count:
        message = f"“{name}” has {len(raw)} values for {count} times"
        raise strange_answer(message)
    convert = column.units.get(unit)
    if convert is None:
        if all(value is None for value in raw):
            return raw
        message = f"“{name}” is in “{shown(unit)}”, which is not known"
        raise strange_answer(message)
    return [None if value is None else convert(value) for value in raw]


def _unit(units: Fields, column: _Column) -> str:
    named = (text_of(units, name) for name in column.names)
    return next((unit for unit in named if unit), "")


def _remarks(fields: Fields, place: AskedPlace) -> Iterator[str]:
    """Yield what is worth knowing about the cell the forecast is for."""
    latitude, longitude = number_of(fields, "latitude"), number_of(fields, "longitude")
    if latitude is not None and longitude is not None:
        away_km = distance_km(
            latitude, longitude, place.latitude_deg, place.longitude_deg
        )
        if away_km > FAR_KM:
            yield f"The forecast is for a point {away_km:.0f} km away."
    elevation = number_of(fields, "elevation")
    if elevation is not None:
        higher_m = elevation - place.elevation_m
        if abs(higher_m) > FAR_ABOVE_M:
            side = "higher" if higher_m > 0 else "lower"
            yield f"The forecast is for a point {abs(higher_m):.0f} m {side}."
