"""Which column of a station file means what, guessed from its heading.

A guess is only a start: the person confirms or changes it before anything is read.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from orchard.units import UnitSystem


class StationQuantity(StrEnum):
    """What a column of a station file can hold."""

    DATE = "date"
    TMIN = "tmin"
    TMAX = "tmax"
    RAIN = "rain"
    TIME = "time"
    TEMPERATURE = "temperature"
    HUMIDITY = "humidity"
    WIND = "wind"
    RADIATION = "radiation"
    ET0 = "et0"


class Clock(StrEnum):
    """What the clock of a station does in summer."""

    LOCAL = "local"
    WINTER = "winter"
    UTC = "utc"


class RainMode(StrEnum):
    """What a number of rain says: of its own row, since midnight, or since ever."""

    ROW = "row"
    SINCE_MIDNIGHT = "midnight"
    TOTAL = "total"


class ColumnUnit(StrEnum):
    """The unit that a column is in."""

    NONE = ""
    CELSIUS = "°C"
    FAHRENHEIT = "°F"
    MILLIMETRES = "mm"
    INCHES = "in"
    PERCENT = "%"
    METRES_A_SECOND = "m/s"
    KILOMETRES_AN_HOUR = "km/h"
    MILES_AN_HOUR = "mph"
    MEGAJOULES = "MJ/m²"
    WATTS = "W/m²"


class DateOrder(StrEnum):
    """The order of day, month and year in a written date."""

    YEAR_MONTH_DAY = "ymd"
    DAY_MONTH_YEAR = "dmy"
    MONTH_DAY_YEAR = "mdy"


@dataclass(frozen=True, slots=True)
class ColumnChoice:
    """A column, counted from 0, and its unit."""

    index: int
    unit: ColumnUnit


@dataclass(frozen=True, slots=True)
class ColumnMapping:
    """Which column holds what; without ``date_order`` the dates themselves tell.

    ``is_several`` says that a day has several rows, each measured up to its time, which
    ``clock`` shows. ``wind_height_m`` is that of the anemometer.
    """

    columns: Mapping[StationQuantity, ColumnChoice]
    date_order: DateOrder | None = None
    is_several: bool = False
    clock: Clock = Clock.LOCAL
    rain_mode: RainMode = RainMode.ROW
    wind_height_m: float = 2.0

    def needed(self) -> tuple[StationQuantity, ...]:
        """Return what there must be a column for."""
        if not self.is_several:
            return REQUIRED
        extremes = {StationQuantity.TMIN, StationQuantity.TMAX}
        if extremes & self.columns.keys():
            return (StationQuantity.DATE, *sorted(extremes))
        return (StationQuantity.DATE, StationQuantity.TEMPERATURE)


REQUIRED = (
    StationQuantity.DATE,
    StationQuantity.TMIN,
    StationQuantity.TMAX,
    StationQuantity.RAIN,
)

#: The units a column may be in, by quantity: metric default, US default, others.
UNITS_OF: dict[StationQuantity, tuple[ColumnUnit, ...]] = {
    StationQuantity.DATE: (ColumnUnit.NONE,),
    StationQuantity.TIME: (ColumnUnit.NONE,),
    StationQuantity.TEMPERATURE: (ColumnUnit.CELSIUS, ColumnUnit.FAHRENHEIT),
    StationQuantity.TMIN: (ColumnUnit.CELSIUS, ColumnUnit.FAHRENHEIT),
    StationQuantity.TMAX: (ColumnUnit.CELSIUS, ColumnUnit.FAHRENHEIT),
    StationQuantity.RAIN: (ColumnUnit.MILLIMETRES, ColumnUnit.INCHES),
    StationQuantity.HUMIDITY: (ColumnUnit.PERCENT,),
    StationQuantity.WIND: (
        ColumnUnit.METRES_A_SECOND,
        ColumnUnit.MILES_AN_HOUR,
        ColumnUnit.KILOMETRES_AN_HOUR,
    ),
    StationQuantity.RADIATION: (ColumnUnit.MEGAJOULES, ColumnUnit.WATTS),
    StationQuantity.ET0: (ColumnUnit.MILLIMETRES, ColumnUnit.INCHES),
}

_HEADINGS: dict[StationQuantity, str] = {
    StationQuantity.DATE: r"^(obs |observation |local )?"
    r"(date(time|utc)?|timestamp|day|datum|fecha|time)\b",
    StationQuantity.TMIN: r"^(tmin|tn|mint)\b|(min|low)\w* (air )?t(emp\w*)?\b"
    r"|\bt(emp\w*)? (min|low)\w*|^(daily )?(min(imum)?|low)\b",
    StationQuantity.TMAX: r"^(tmax|tx|maxt)\b|(max|high)\w* (air )?t(emp\w*)?\b"
    r"|\bt(emp\w*)? (max|high)\w*|^(daily )?(max(imum)?|high)\b",
    StationQuantity.RAIN: r"rain|precip|\bprcp\b|\bppt\b|^rr\b",
    StationQuantity.TIME: r"^(local |obs )?(time|hour|hora|uhrzeit)\b",
    StationQuantity.TEMPERATURE: r"^((out(door|side)?|air) )?t(emp\w*)?\b",
    StationQuantity.HUMIDITY: r"humid|\brh(um|mean|avg)?\b",
    StationQuantity.WIND: r"\bwind|^(wspd|ws|awnd|ff|u2)\b",
    StationQuantity.RADIATION: r"\brad|solar|\bsrad\b|^rs\b",
    StationQuantity.ET0: r"\bet ?[0o]\b|\bet ref|reference evapotr|^etr?\b",
}
#: Words of headings that mean something else than a day's value.
_OTHER = re.compile(
    r"\b(flag|quality|qc|gust\w*|dir\w*|days|hours?|soil|grass|snow\w*|dew\w*|record)\b"
)
_EXTREME = re.compile(r"\b(min|max|low|high)")
_NO_EXTREMES = frozenset(
    {StationQuantity.HUMIDITY, StationQuantity.WIND, StationQuantity.TEMPERATURE}
)

_UNIT_WORDS: tuple[tuple[ColumnUnit, frozenset[str]], ...] = (
    (ColumnUnit.FAHRENHEIT, frozenset({"f", "degf", "fahrenheit"})),
    (ColumnUnit.CELSIUS, frozenset({"c", "degc", "celsius"})),
    (ColumnUnit.INCHES, frozenset({"in", "inch", "inches"})),
    (ColumnUnit.MILLIMETRES, frozenset({"mm"})),
    (ColumnUnit.MILES_AN_HOUR, frozenset({"mph", "mi h"})),
    (ColumnUnit.KILOMETRES_AN_HOUR, frozenset({"kmh", "kph", "km h"})),
    (ColumnUnit.METRES_A_SECOND, frozenset({"ms", "mps", "m s"})),
    (ColumnUnit.WATTS, frozenset({"w m2", "w m²", "wm2", "watts"})),
    (ColumnUnit.MEGAJOULES, frozenset({"mj", "mj m2", "mj m²"})),
)


def guess_mapping(
    header: tuple[str, ...], system: UnitSystem = UnitSystem.METRIC
) -> ColumnMapping:
    """Return the columns whose headings say what they hold.

    Parameters
    ----------
    header : tuple of str
        The headings, such as ``("date", "tmin_c", "tmax_c", "rain_mm")``.
    system : UnitSystem
        The units of columns whose heading names none.

    Returns
    -------
    ColumnMapping
        May lack any quantity; never gives one column two meanings.
    """
    words = [_words(heading) for heading in header]
    columns: dict[StationQuantity, ColumnChoice] = {}
    for quantity in StationQuantity:
        taken = {choice.index for choice in columns.values()}
        for index, heading in enumerate(words):
            if index not in taken and _names(heading, quantity):
                columns[quantity] = ColumnChoice(
                    index, _unit(heading, quantity, system)
                )
                break
    return ColumnMapping(columns)


def _words(heading: str) -> str:
    """Return a heading in lower case, its words split by single spaces."""
    spaced = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", heading)
    words = re.findall(r"[^\W_]+", spaced)
    # The height of a thermometer ("temperature 2m max") says nothing here.
    return " ".join(word.casefold() for word in words if word.casefold() != "2m")


def _names(heading: str, quantity: StationQuantity) -> bool:
    if not re.search(_HEADINGS[quantity], heading):
        return False
    if quantity is not StationQuantity.TIME and _OTHER.search(heading):
        return False
    return not (_EXTREME.search(heading) and quantity in _NO_EXTREMES)


def _unit(heading: str, quantity: StationQuantity, system: UnitSystem) -> ColumnUnit:
    allowed = UNITS_OF[quantity]
    for unit, names in _UNIT_WORDS:
        if unit in allowed and any(f" {name} " in f" {heading} " for name in names):
            return unit
    return _default_unit(quantity, system)


def _default_unit(quantity: StationQuantity, system: UnitSystem) -> ColumnUnit:
    allowed = UNITS_OF[quantity]
    if system is UnitSystem.US and quantity is not StationQuantity.RADIATION:
        return allowed[min(1, len(allowed) - 1)]
    return allowed[0]
