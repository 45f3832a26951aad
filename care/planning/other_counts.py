"""Chill and warmth by every published way to count, for whoever compares places.

Only days that were observed; what the plan itself goes by is reckoned elsewhere.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import Array, Origin, SiteFacts, WeatherSeries
from care.planning.warmth import BASE_C, FROM_MONTH
from care.planning.winter import FIRST_MONTH, LAST_MONTH
from care.science.chill import ChillSums, winter_chill
from care.science.heat import (
    DegreeDays,
    HeatNeed,
    growing_degree_hours,
)
from care.science.hourly import NightCurve, hourly_temperatures_c
from care.science.season import month_window, season_date, season_of

DAY = timedelta(days=1)
UPPER_C = 30.0  # 86 degF, the cut-off of maize's "50/86"
Span = tuple[float, float]  # of the two ways in which a night may cool

CHILL_WAYS = ("hours_below", "hours_between", "utah", "positive_utah", "portions")


@dataclass(frozen=True, slots=True)
class OtherCounts:
    """Sums of the winter that began last, and of the year since its middle.

    ``chill`` by model; ``degree_days`` above 10 degC by method and cut-off, which is
    ``None`` for those without one. The days are those that went into the sums.
    """

    winter_since: date
    winter_days: int
    chill: dict[str, Span]
    year_since: date
    year_days: int
    degree_days: dict[tuple[str, float | None], float]
    degree_hours: Span


def other_counts(
    series: WeatherSeries, site: SiteFacts, today: date
) -> OtherCounts | None:
    """Return the sums through yesterday, ``None`` where no such day was observed."""
    southern = site.is_southern
    season = season_of(today, southern=southern)
    winter = month_window(season, FIRST_MONTH, LAST_MONTH, southern=southern)
    year_since = season_date(season, FROM_MONTH, 1, southern=southern)
    if year_since >= today:
        year_since = season_date(season - 1, FROM_MONTH, 1, southern=southern)
    winter_end = min(winter.end, today - DAY)
    cold = _observed(series, winter.start, winter_end)
    warm = _observed(series, year_since, today - DAY)
    if not cold.known or not warm.known:
        return None
    return OtherCounts(
        winter_since=winter.start,
        winter_days=cold.known,
        # The days around only shape the first night and the last.
        chill=_chill(
            _observed(series, winter.start - DAY, winter_end + DAY), site.latitude_deg
        ),
        year_since=year_since,
        year_days=warm.known,
        degree_days=_degree_days(warm),
        degree_hours=_degree_hours(warm, site.latitude_deg),
    )


@dataclass(frozen=True, slots=True)
class _Days:
    """Days that follow each other; NaN where nobody observed them."""

    tmin_c: Array
    tmax_c: Array
    numbers: Array

    @property
    def known(self) -> int:
        """How many were observed."""
        return int(np.sum(~np.isnan(self.tmin_c)))


def _observed(series: WeatherSeries, first: date, last: date) -> _Days:
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    low = np.full(len(days), np.nan)
    high = np.full(len(days), np.nan)
    for place, day in enumerate(days):
        if series.covers(day) and series.origin_on(day) is Origin.OBSERVED:
            tmin, tmax = (
                each[series.index(day)] for each in (series.tmin_c, series.tmax_c)
            )
            if tmin <= tmax:
                low[place], high[place] = tmin, tmax
    return _Days(low, high, np.array([day.timetuple().tm_yday for day in days]))


def _chill(days: _Days, latitude_deg: float) -> dict[str, Span]:
    sums = winter_chill(
        days.tmin_c,
        days.tmax_c,
        latitude_deg,
        days.numbers,
        first=1,
        last=len(days.numbers) - 2,
    )
    return {way: _ends(sums, way) for way in CHILL_WAYS}


def _ends(sums: dict[NightCurve, ChillSums], way: str) -> Span:
    found = [float(getattr(each, way)) for each in sums.values()]
    return min(found), max(found)


def _degree_days(days: _Days) -> dict[tuple[str, float | None], float]:
    ways = (
        (DegreeDays.AVERAGE, None),
        (DegreeDays.MODIFIED, UPPER_C),
        (DegreeDays.SINGLE_SINE, None),
        (DegreeDays.SINGLE_SINE, UPPER_C),
    )
    return {
        (method.value, upper_c): float(
            np.nansum(
                HeatNeed(0.0, BASE_C, method, upper_c).degree_days(
                    days.tmin_c, days.tmax_c
                )
            )
        )
        for method, upper_c in ways
    }


def _degree_hours(days: _Days, latitude_deg: float) -> Span:
    found = [
        float(
            np.nansum(
                growing_degree_hours(
                    hourly_temperatures_c(
                        days.tmin_c, days.tmax_c, latitude_deg, days.numbers, night
                    )
                )
            )
        )
        for night in NightCurve
    ]
    return min(found), max(found)
