"""The forecast of the Norwegian Meteorological Institute, for any place on Earth.

Locationforecast 2.0, "complete" (docs.api.met.no/doc/ForecastJSON): a line of moments
in UTC, hourly at first and six-hourly later, each with the state at that moment and
sums of the hours after it. The last moment has no sums. A span of time has one sum
here, though the service gives several of the same hours.
"""

from collections.abc import Mapping
from datetime import datetime, timedelta

from orchard.sources.answered_json import (
    Fields,
    as_fields,
    fields_of,
    list_of,
    moment,
    number_of,
    read_fields,
    shown,
    text_of,
)
from orchard.sources.arriving import Answer, Ask, AskedPlace, strange_answer
from orchard.sources.forecast_hours import LocalDays

ADDRESS = "https://api.met.no/weatherapi/locationforecast/2.0/complete"
MOST_MOMENTS = 400
#: Heights the service takes (metres).
LOWEST_M, HIGHEST_M = -500, 9000
_HOUR = timedelta(hours=1)
_SIX_HOURS = timedelta(hours=6)

_UNITS = {
    "air_temperature": "celsius",
    "air_temperature_max": "celsius",
    "air_temperature_min": "celsius",
    "precipitation_amount": "mm",
    "relative_humidity": "%",
    "wind_speed": "m/s",
    "wind_speed_of_gust": "m/s",
}
_INSTANTS: Mapping[str, str] = {
    "humidity": "relative_humidity",
    "wind": "wind_speed",
    "gust": "wind_speed_of_gust",
}


def fetch(place: AskedPlace, ask: Ask) -> Answer:
    """Ask for the forecast of a place."""
    return parse(ask(address(place)), place)


def address(place: AskedPlace) -> str:
    """Return what is asked for: four decimals at most, and the height."""
    height_m = round(min(max(place.elevation_m, LOWEST_M), HIGHEST_M))
    return (
        f"{ADDRESS}?lat={place.latitude_deg:.4f}&lon={place.longitude_deg:.4f}"
        f"&altitude={height_m}"
    )


def parse(body: bytes, place: AskedPlace) -> Answer:
    """Return the local days in an answer.

    Raises
    ------
    SourceError
        For an answer of another form, another unit, a value that cannot be.
    """
    properties = fields_of(read_fields(body), "properties")
    meta = fields_of(properties, "meta")
    _check_units(fields_of(meta, "units"))
    series = list_of(properties, "timeseries")
    if not series or len(series) > MOST_MOMENTS:
        message = f"it has {len(series)} moments"
        raise strange_answer(message)
    moments = [_moment(item) for item in series]
    days = LocalDays(place)
    _gather(days, moments)
    issued_at = moment(text_of(meta, "updated_at"), "“updated_at”")
    return Answer(days=days.days(), issued_at=issued_at)


def _check_units(units: Fields) -> None:
    for name, expected in _UNITS.items():
        unit = text_of(units, name)
        if unit and unit != expected:
            message = f"“{name}” is in “{shown(unit)}” instead of {expected}"
            raise strange_answer(message)


def _moment(item: object) -> tuple[datetime, Fields]:
    fields = as_fields(item, "a moment")
    return moment(text_of(fields, "time"), "“time”"), fields_of(fields, "data")


def _gather(days: LocalDays, moments: list[tuple[datetime, Fields]]) -> None:
    summed_until = moments[0][0]
    for number, (at, data) in enumerate(moments):
        is_last = number + 1 == len(moments)
        step = _HOUR if is_last else moments[number + 1][0] - at
        if step <= timedelta(0):
            message = "its moments are not in order"
            raise strange_answer(message)
        step = min(step, _SIX_HOURS)
        _instant(days, at, step, data)
        if at >= summed_until:
            summed_until = _sum(days, at, step, data)


def _instant(days: LocalDays, at: datetime, step: timedelta, data: Fields) -> None:
    now = _details(data, "instant")
    for name, key in _INSTANTS.items():
        value = number_of(now, key)
        if value is not None:
            days.hold(name, at, at + step, value)
    later = _details(data, "next_6_hours")
    low, high = (
        number_of(later, "air_temperature_min"),
        number_of(later, "air_temperature_max"),
    )
    if low is not None and high is not None and low > high:
        message = f"at {at:%Y-%m-%d %H:%M} UTC the low is above the high"
        raise strange_answer(message)
    temperature = number_of(now, "air_temperature")
    if step > _HOUR and low is not None and high is not None:
        days.meet(at, at + step, low, high)
    elif temperature is not None:
        # Between moments further apart nobody knows how far it went.
        days.hold("temperature", at, at + min(step, _HOUR), temperature)


def _sum(days: LocalDays, at: datetime, step: timedelta, data: Fields) -> datetime:
    """Take one sum of what follows; return until when."""
    next_1 = number_of(_details(data, "next_1_hours"), "precipitation_amount")
    next_6 = number_of(_details(data, "next_6_hours"), "precipitation_amount")
    if next_1 is not None and (step <= _HOUR or next_6 is None):
        days.add("rain", at, at + _HOUR, next_1)
        return at + _HOUR
    if next_6 is not None:
        days.add("rain", at, at + _SIX_HOURS, next_6)
        return at + _SIX_HOURS
    return at


def _details(data: Fields, name: str) -> Fields:
    part = data.get(name)
    if part is None:
        return {}
    found = as_fields(part, f"“{name}”").get("details")
    return {} if found is None else as_fields(found, f"details of “{name}”")
