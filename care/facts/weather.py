"""A site's weather, day by day."""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import IntEnum, StrEnum

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Marks = NDArray[np.int8]


class Origin(StrEnum):
    """Where a day's weather comes from, best first."""

    OBSERVED = "observed"
    FORECAST = "forecast"
    NORMAL = "normal"


_ORIGINS = {"o": Origin.OBSERVED, "f": Origin.FORECAST}

#: What a day may hold, in the order of every table of days.
VALUES = (
    "tmin_c",
    "tmax_c",
    "rain_mm",
    "humidity_percent",
    "wind_ms",
    "radiation_mj",
    "et0_mm",
)
_EPOCH = date(1970, 1, 1)
NOBODY = -1


class Known(IntEnum):
    """How one value of one day is known."""

    UNKNOWN = 0  # missing, and not filled: never zero
    OBSERVED = 1
    FORECAST = 2
    NORMAL = 3  # nobody measured or forecast anything of that day
    BETWEEN = 4  # a short gap, filled between its neighbours
    USUAL = 5  # a longer gap, filled with the usual of the time of year


@dataclass(frozen=True, slots=True)
class ValueOrigin:
    """Where one value comes from; ``series`` is empty for what nobody measured."""

    known: Known
    series: str = ""
    issued_on: date | None = None

    @property
    def is_filled(self) -> bool:
        """Whether it stands in for a value that somebody should have measured."""
        return self.known in {Known.BETWEEN, Known.USUAL}


@dataclass(frozen=True, slots=True, eq=False)
class Provenance:
    """Where every value of a series comes from; arrays (values, days).

    ``series`` holds places in ``names``, :data:`NOBODY` where there is none;
    ``issued`` holds days since 1970, 0 for what is no forecast.
    """

    names: tuple[str, ...]
    known: Marks
    series: Marks
    issued: NDArray[np.int32]

    def of(self, value: int, day: int) -> ValueOrigin:
        """Return where one value comes from, by its places."""
        who, issued = int(self.series[value, day]), int(self.issued[value, day])
        return ValueOrigin(
            Known(int(self.known[value, day])),
            "" if who == NOBODY else self.names[who],
            _EPOCH + timedelta(days=issued) if issued else None,
        )


# Compared by identity, for arrays have no one answer to ``==``: what was reckoned from
# a series can be kept by it.
@dataclass(frozen=True, slots=True, eq=False)
class WeatherSeries:
    """Daily weather of one site; arrays of one length, gaps are NaN, never zero.

    ``origin`` holds one letter a day: ``o`` observed, ``f`` forecast, ``n`` normal.
    ``provenance`` tells the same of each value, where it is known. The filled low and
    high have no gaps; how these were filled stands in the provenance.
    """

    start: date
    tmin_c: Array
    tmax_c: Array
    rain_mm: Array
    origin: str
    humidity_percent: Array | None = None
    wind_ms: Array | None = None
    radiation_mj: Array | None = None
    et0_mm: Array | None = None
    provenance: Provenance | None = None
    filled_tmin_c: Array | None = None
    filled_tmax_c: Array | None = None

    def __len__(self) -> int:
        return len(self.tmin_c)

    @property
    def end(self) -> date:
        """The last day of the series."""
        return self.start + timedelta(days=len(self) - 1)

    def index(self, day: date) -> int:
        """Return the position of ``day``; may lie outside the arrays."""
        return (day - self.start).days

    def covers(self, day: date) -> bool:
        """Whether ``day`` lies inside the series."""
        return 0 <= self.index(day) < len(self)

    def origin_on(self, day: date) -> Origin:
        """Return where the weather of ``day`` comes from."""
        return _ORIGINS.get(self.origin[self.index(day)], Origin.NORMAL)

    def told(self, value: str, day: date) -> ValueOrigin:
        """Return where one value of a day comes from, by its name in ``VALUES``.

        A series without provenance knows no more than each day's letter.
        """
        if self.provenance is not None:
            return self.provenance.of(VALUES.index(value), self.index(day))
        array = getattr(self, value)
        if array is None or np.isnan(array[self.index(day)]):
            return ValueOrigin(Known.UNKNOWN)
        return ValueOrigin(_KNOWN[self.origin_on(day)])


_KNOWN = {
    Origin.OBSERVED: Known.OBSERVED,
    Origin.FORECAST: Known.FORECAST,
    Origin.NORMAL: Known.NORMAL,
}


class RainState(StrEnum):
    """What can be said of a site's rains."""

    UNKNOWN = "unknown"  # not all months are known, so nobody knows the usual season
    NO_SEASON = "no_season"
    UNREAD = "unread"  # no rain was measured since the search began
    AWAITED = "awaited"
    SET_IN = "set_in"
    ENDED = "ended"


@dataclass(frozen=True, slots=True)
class RainFacts:
    """The rains as of a morning, for windows and cautions.

    ``began_on`` and ``ended_on`` are of the season at hand; ``is_provisional`` until
    the days that could still prove a false start have passed. ``usual_start`` and
    ``usual_end`` are days of the year of the wet season, where there is one.
    """

    state: RainState
    began_on: date | None = None
    ended_on: date | None = None
    is_provisional: bool = False
    usual_start: int | None = None
    usual_end: int | None = None
    days_since_soaking: int | None = None
