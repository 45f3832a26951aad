"""The rain of the last weeks beside what is usual on the same days.

Only rain that somebody measured counts; days without a reading are told beside it.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import Array, WeatherSeries
from care.planning.rains import measured_rain_mm, usual_rain_mm
from care.science.drought import Wetness, standardized_precipitation, wetness
from care.science.rain_normals import MONTH_DAYS

SPANS_DAYS = (30, 90)
MOST_UNREAD_SHARE = 0.1  # of a past year's days that another is measured by; ours
ENOUGH_YEARS = 10  # to go by the same days of other years; ours
UNUSUAL_MM = 10.0  # a share of less than this says nothing; ours


@dataclass(frozen=True, slots=True)
class RainLately:
    """Rain of the days before this morning.

    ``usual_mm`` is that of the same days in other years, or by the months where few
    years are known; ``None`` where neither is. ``index`` is the standardized
    precipitation index, from ``years`` years; ``None`` where they are too few.
    """

    days: int
    fell_mm: float
    unread_days: int
    usual_mm: float | None
    index: float | None
    years: int

    @property
    def share(self) -> float | None:
        """What fell of what is usual, ``None`` where hardly any is usual."""
        if self.usual_mm is None or self.usual_mm < UNUSUAL_MM:
            return None
        return self.fell_mm / self.usual_mm

    @property
    def wetness(self) -> Wetness | None:
        """The class of the index, where there is one."""
        return None if self.index is None else wetness(self.index)


def rain_lately(series: WeatherSeries, today: date) -> tuple[RainLately, ...]:
    """Return the rain of the last 30 and 90 days; nothing where none was read.

    Parameters
    ----------
    series : WeatherSeries
        The longer, the more years to go by; forecasts and usual rain are no readings.
    today : datetime.date
        Not counted itself.
    """
    rain_mm = measured_rain_mm(series, today)[: max(series.index(today), 0)]
    monthly = usual_rain_mm(series)
    found = []
    for days in SPANS_DAYS:
        span = rain_mm[max(len(rain_mm) - days, 0) :]
        unread = days - int(np.sum(~np.isnan(span)))
        if unread == days:
            continue
        fell = float(np.nansum(span))
        totals = _same_days(rain_mm, days)
        is_whole = unread <= MOST_UNREAD_SHARE * days
        found.append(
            RainLately(
                days=days,
                fell_mm=fell,
                unread_days=unread,
                usual_mm=_usual_mm(totals, monthly, days, today),
                index=standardized_precipitation(fell, totals) if is_whole else None,
                years=len(totals),
            )
        )
    return tuple(found)


def _same_days(rain_mm: Array, days: int) -> Array:
    """Return the rain of the same days of each earlier year that was read."""
    totals = []
    years = 1
    while (end := len(rain_mm) - round(365.25 * years)) >= days:
        span = rain_mm[end - days : end]
        if np.isnan(span).sum() <= MOST_UNREAD_SHARE * days:
            totals.append(float(np.nansum(span)))
        years += 1
    return np.array(totals)


def _usual_mm(
    totals: Array, monthly_mm: Array | None, days: int, today: date
) -> float | None:
    if len(totals) >= ENOUGH_YEARS:
        return float(totals.mean())
    if monthly_mm is None:
        return None
    months = [(today - timedelta(days=back)).month - 1 for back in range(1, days + 1)]
    daily_mm = monthly_mm / np.asarray(MONTH_DAYS)
    return float(daily_mm[months].sum())
