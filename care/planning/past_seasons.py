"""Running sums of one season beside those of the same season in past years.

Years are rows of one array, so that a chart and the words beside it read the same
numbers.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from care.facts import Array, WeatherSeries
from care.planning.ensemble import FAIR_YEARS, Fan, Members, fan_of
from care.planning.winter import WinterOutlook
from care.science.hourly import NightCurve

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, eq=False)
class PastSeasons:
    """Past seasons, newest first; ``sums`` has the shape (seasons, days).

    ``starts`` are their first days; a sum holds through the end of its day.
    """

    starts: tuple[date, ...]
    sums: Array

    @property
    def count(self) -> int:
        """How many seasons there are."""
        return len(self.starts)

    @property
    def is_fair(self) -> bool:
        """Whether they are enough for the range that eight of ten keep to."""
        return self.count >= FAIR_YEARS

    def usual_after(self, days: int) -> float | None:
        """Return the middle sum after so many days, ``None`` without any season."""
        if not self.count:
            return None
        return float(np.median(self.sums[:, days - 1])) if days else 0.0


def past_winters(outlook: WinterOutlook) -> PastSeasons:
    """Return the running chill hours of the observed winters before the latest one.

    By the continuous night, as needs and what is likely are reckoned.
    """
    days = (outlook.latest.last - outlook.latest.first).days + 1
    by_day = _by_continuous_night(outlook)[1:, :days]
    return PastSeasons(
        tuple(winter.first for winter in outlook.past), np.cumsum(by_day, axis=1)
    )


def usual_hours_by_now(outlook: WinterOutlook) -> float | None:
    """Return the middle of what past winters had by this day, ``None`` without any.

    Halfway between the two ways in which a night may cool, as :func:`hours so far
    <care.planning.winter.winter_outlook>` are told.
    """
    past = outlook.hours_by_day.mean(axis=0)[1:, : outlook.latest.days]
    return float(np.median(past.sum(axis=1))) if len(past) else None


def whole_winter(outlook: WinterOutlook) -> Fan:
    """Return a winter that is over, in which nothing is likely any more."""
    winter = outlook.latest
    sums = np.cumsum(_by_continuous_night(outlook)[:1, : winter.days], axis=1)
    members = Members(0, 0, 0)
    return fan_of(sums, winter.first, firm_until=winter.last, members=members)


def _by_continuous_night(outlook: WinterOutlook) -> Array:
    return np.asarray(
        outlook.hours_by_day[list(NightCurve).index(NightCurve.CONTINUOUS)]
    )


def firm_until(series: WeatherSeries, today: date) -> date:
    """Return the last day before this one that was observed.

    The day before the series if none was.
    """
    return series.start + timedelta(
        days=series.origin[: max(series.index(today), 0)].rfind("o")
    )


def season_fan(
    start: date, so_far: Array, past: PastSeasons, made: Array, firm: date
) -> Fan:
    """Return a season's running sum, gone on with the rest of each other season.

    Parameters
    ----------
    start : datetime.date
        First day of the season.
    so_far : array (days gone,)
        Running sums through the end of each day that is over.
    past : PastSeasons
        Real ones.
    made : array (seasons, days)
        Running sums of generated ones; without either the fan ends where the season
        stands.
    firm : datetime.date
        The last day observed.
    """
    gone, sums = len(so_far), np.concatenate([past.sums, made])
    rests = sums[:, gone:]
    if gone:
        rests = rests - sums[:, gone - 1 : gone] + so_far[-1]
    begun = np.broadcast_to(so_far, (len(sums), gone))
    courses = np.concatenate([begun, rests], axis=1) if len(sums) else so_far[None]
    yesterday = start + timedelta(days=gone - 1)
    members = Members(len(sums), past.count, len(made))
    return fan_of(courses, start, firm_until=min(firm, yesterday), members=members)


def by_season(
    values: Array, series: WeatherSeries, starts: Sequence[date], days: int
) -> Array:
    """Return the values of some days of each season, NaN outside the series.

    Parameters
    ----------
    values : array (days of the series,)
    series : WeatherSeries
    starts : sequence of datetime.date
        First days of the seasons.
    days : int
        How many of each.

    Returns
    -------
    array (seasons, days)
    """
    firsts = np.array([series.index(start) for start in starts], dtype=np.int64)
    places: NDArray[np.int64] = firsts[:, None] + np.arange(days)
    is_inside = (places >= 0) & (places < len(values))
    padded = np.append(values, np.nan)
    return np.asarray(padded[np.where(is_inside, places, len(values))])


def known_days(values: Array) -> NDArray[np.int64]:
    """Return how many days of each season have a value."""
    return np.asarray((~np.isnan(values)).sum(axis=1))
