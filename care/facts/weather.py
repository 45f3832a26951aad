"""A site's weather, day by day."""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


class Origin(StrEnum):
    """Where a day's weather comes from, best first."""

    OBSERVED = "observed"
    FORECAST = "forecast"
    NORMAL = "normal"


_ORIGINS = {"o": Origin.OBSERVED, "f": Origin.FORECAST}


# Compared by identity, for arrays have no one answer to ``==``: what was reckoned from
# a series can be kept by it.
@dataclass(frozen=True, slots=True, eq=False)
class WeatherSeries:
    """Daily weather of one site; arrays of one length, gaps are NaN, never zero.

    ``origin`` holds one letter a day: ``o`` observed, ``f`` forecast, ``n`` normal.
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
