"""The forecast of the National Weather Service, for places in the United States.

Its interface (weather.gov/documentation/services-web-api) names the grid square of a
point first; the square's raw layers follow. A layer is a list of values, each over a
span written as ISO 8601 ``start/duration``. Temperature, humidity and wind hold over
their span; rain is the sum of it. ``maxTemperature`` and ``minTemperature`` are of
one day and one night: the high belongs to the local day the span begins on, the low
to the one it ends on.
"""

import re
from collections.abc import Callable, Iterator, Mapping
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
from orchard.sources.arriving import (
    Answer,
    Ask,
    AskedPlace,
    IssuedWarning,
    SourceUnavailable,
    Unchanged,
    strange_answer,
)
from orchard.sources.forecast_hours import LocalDays, local_day
from orchard.sources.problems import SourceError
from orchard.sources.us_warnings import fetch_warnings, point

HOST = "https://api.weather.gov"
#: What the square's address is kept under, and how long: squares are redrawn.
GRID = "grid"
GRID_KEPT = timedelta(days=7)
MOST_VALUES = 2000
_LONGEST = timedelta(days=16)

_DURATION = re.compile(
    r"P(?:(?P<days>\d{1,3})D)?"
    r"(?:T(?=\d)(?:(?P<hours>\d{1,4})H)?(?:(?P<minutes>\d{1,4})M)?)?",
    re.ASCII,
)
_GRID_ID = re.compile(r"[A-Z]{3}", re.ASCII)
_GRID_NUMBER = re.compile(r"\d{1,4}", re.ASCII)

Conversion = Callable[[float], float]
_SPEED: Mapping[str, Conversion] = {
    "km_h-1": lambda value: value / 3.6,
    "m_s-1": lambda value: value,
    "kt": lambda value: value * 1852.0 / 3600.0,
}
_UNITS: Mapping[str, Mapping[str, Conversion]] = {
    "temperature": {
        "degC": lambda value: value,
        "degF": lambda value: (value - 32.0) / 1.8,
    },
    "humidity": {"percent": lambda value: value},
    "wind": _SPEED,
    "gust": _SPEED,
    "rain": {"mm": lambda value: value, "in": lambda value: value * 25.4},
}
_HELD = {
    "temperature": "temperature",
    "relativeHumidity": "humidity",
    "windSpeed": "wind",
    "windGust": "gust",
}


def fetch(place: AskedPlace, ask: Ask) -> Answer:
    """Ask for the forecast of a place, and for the warnings in force there.

    Where only the warnings fail, the forecast still counts.

    Raises
    ------
    Unchanged
        The forecast is the one known already and no warnings could be read.
    """
    warnings, remarks = _warnings(place, ask)
    try:
        body = _ask_grid(place, ask)
    except Unchanged:
        if warnings is None:
            raise
        return Answer(days=(), warnings=warnings, remarks=remarks)
    answer = parse(body, place)
    return Answer(
        days=answer.days,
        issued_at=answer.issued_at,
        warnings=warnings,
        remarks=remarks,
    )


def _warnings(
    place: AskedPlace, ask: Ask
) -> tuple[tuple[IssuedWarning, ...] | None, tuple[str, ...]]:
    try:
        return fetch_warnings(place, ask), ()
    except (SourceUnavailable, SourceError):
        return None, ("The official warnings could not be read this time.",)


def _ask_grid(place: AskedPlace, ask: Ask) -> bytes:
    known = ask.recall(GRID, no_older_than=GRID_KEPT)
    if known is None:
        return ask(_find_grid(place, ask))
    try:
        return ask(known)
    except SourceUnavailable as error:
        if not error.is_lasting:
            raise
    # The square may have moved since.
    return ask(_find_grid(place, ask))


def _find_grid(place: AskedPlace, ask: Ask) -> str:
    address = grid_address(ask(point_address(place), is_main=False))
    ask.remember(GRID, address)
    return address


def point_address(place: AskedPlace) -> str:
    """Return where the square of a place is asked for; no zeros at the end."""
    return f"{HOST}/points/{point(place)}"


def grid_address(body: bytes) -> str:
    """Return the address of a point's square.

    It is made of the square's name and numbers, never taken as it comes.
    """
    fields = fields_of(read_fields(body), "properties")
    grid = text_of(fields, "gridId")
    numbers = [_grid_number(fields.get(name)) for name in ("gridX", "gridY")]
    if not _GRID_ID.fullmatch(grid):
        message = f"“gridId” is “{shown(grid)}”"
        raise strange_answer(message)
    return f"{HOST}/gridpoints/{grid}/{numbers[0]},{numbers[1]}"


def _grid_number(value: object) -> str:
    """Return a square's number, which may come as a text."""
    text = str(value) if isinstance(value, int | str) else ""
    if isinstance(value, bool) or not _GRID_NUMBER.fullmatch(text):
        message = f"a square's number is “{shown(value)}”"
        raise strange_answer(message)
    return text


def parse(body: bytes, place: AskedPlace) -> Answer:
    """Return the local days in a square's raw layers.

    Raises
    ------
    SourceError
        For an answer of another form, an unknown unit, a value that cannot be.
    """
    fields = fields_of(read_fields(body), "properties")
    days = LocalDays(place)
    for layer, name in _HELD.items():
        for begin, end, value in _spans(fields, layer, _UNITS[name]):
            days.hold(name, begin, end, value)
    for begin, end, value in _spans(
        fields, "quantitativePrecipitation", _UNITS["rain"]
    ):
        days.add("rain", begin, end, value)
    for begin, _, value in _spans(fields, "maxTemperature", _UNITS["temperature"]):
        days.give_high(local_day(begin, place.zone), value)
    for _, end, value in _spans(fields, "minTemperature", _UNITS["temperature"]):
        last = end - timedelta(seconds=1)
        days.give_low(local_day(last, place.zone), value)
    updated_at = text_of(fields, "updateTime")
    return Answer(
        days=days.days(),
        issued_at=moment(updated_at, "“updateTime”") if updated_at else None,
    )


def _spans(
    fields: Fields, layer: str, units: Mapping[str, Conversion]
) -> Iterator[tuple[datetime, datetime, float]]:
    """Yield a layer's spans and values in SI; what is null is not there."""
    found = fields.get(layer)
    if found is None:
        return
    part = as_fields(found, f"“{layer}”")
    values = list_of(part, "values") if part.get("values") is not None else []
    if len(values) > MOST_VALUES:
        message = f"“{layer}” has {len(values)} values"
        raise strange_answer(message)
    convert = _conversion(part, layer, units) if values else None
    known_until: datetime | None = None
    for item in values:
        entry = as_fields(item, f"a value of “{layer}”")
        begin, end = span(text_of(entry, "validTime"))
        value = number_of(entry, "value")
        if value is None or convert is None:
            continue
        if known_until is not None and begin < known_until:
            message = f"the spans of “{layer}” overlap"
            raise strange_answer(message)
        known_until = end
        yield begin, end, convert(value)


def _conversion(
    part: Fields, layer: str, units: Mapping[str, Conversion]
) -> Conversion:
    """Return how a layer's unit becomes SI; its prefix has changed over the years."""
    unit = text_of(part, "uom") or text_of(part, "unitCode")
    convert = units.get(unit.rpartition(":")[2])
    if convert is None:
        message = f"“{layer}” is in “{shown(unit)}”, which is not known"
        raise strange_answer(message)
    return convert


def span(text: str) -> tuple[datetime, datetime]:
    """Return the begin and end of ``2026-11-26T06:00:00+00:00/PT3H``, in UTC.

    Raises
    ------
    SourceError
        For another form, no duration, or one of more than sixteen days.
    """
    start, _, duration = text.partition("/")
    begin = moment(start, "“validTime”")
    length = duration_of(duration)
    if not timedelta(0) < length <= _LONGEST:
        message = f"“{shown(text)}” lasts {length}"
        raise strange_answer(message)
    return begin, begin + length


def duration_of(text: str) -> timedelta:
    """Return an ISO 8601 duration of days, hours and minutes, such as ``P1DT6H``."""
    match = _DURATION.fullmatch(text)
    if match is None or text in {"P", ""}:
        message = f"“{shown(text)}” is not a length of time"
        raise strange_answer(message)
    return timedelta(
        **{name: int(part or 0) for name, part in match.groupdict().items()}
    )
