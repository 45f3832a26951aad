"""The years in which kinds are tried at a site: of its record, else made up.

Three observed winters are enough to go by; with fewer, thirty years are made up from
what is usual there, always the same ones for the same place.
"""

from datetime import date, timedelta

import numpy as np

from care.facts import Array, Flags, SiteFacts, WeatherSeries
from care.facts.fit import FitBasis
from care.planning.frost_outlook import observed_before
from care.planning.futures import COURSES, made_up
from care.planning.past_seasons import by_season
from care.planning.season_ahead import knows_the_year
from care.science.extreme_cold import extreme_minima_c
from care.science.fit_years import (
    YEAR_DAYS,
    FitYears,
    YearsOfDays,
    daily_worths,
    made_up_minima_c,
    winter_days,
)
from care.science.heat import is_hot_day
from care.science.hot_days import hot_years
from care.science.hourly import NightCurve
from care.science.season import CARE_YEAR_FIRST_MONTH, season_date, season_of
from care.science.usual_climate import usual_climate

LEAST_WINTERS = 3  # observed, to go by them; ours
MOST_UNOBSERVED_DAYS = 5  # of a winter that counts; ours
# Made-up years are those of one care year, so that a fit does not change by the day.
MADE_UP_SEASON = 2001
DAY = timedelta(days=1)


def fit_years(
    series: WeatherSeries, site: SiteFacts, today: date, *, has_typed_months: bool
) -> FitYears | None:
    """Return the years to try kinds in, ``None`` where too little is known.

    Parameters
    ----------
    series : WeatherSeries
        The site's, the longer the better.
    site : SiteFacts
        Its latitude, and whether it has frost.
    today : datetime.date
        Only days before it count as observed.
    has_typed_months : bool
        Whether somebody typed what is usual; only told.
    """
    observed = _observed(series, site, today)
    if observed is not None:
        return observed
    is_known = ~np.isnan(observed_before(series, series.tmin_c, today))
    basis = FitBasis(
        made_up=COURSES,
        is_from_months=has_typed_months,
        observed_days=int(is_known.sum()),
    )
    return _made_up(series, site, basis)


def _observed(series: WeatherSeries, site: SiteFacts, today: date) -> FitYears | None:
    southern = site.is_southern
    seasons = range(series.start.year, season_of(today, southern=southern) + 1)
    starts = tuple(_start(season, southern=southern) for season in seasons)
    low, high = (
        observed_before(series, values, today)
        for values in (series.tmin_c, series.tmax_c)
    )
    days = _around(low, high, series, starts)
    is_winter = _known_winters(days, southern=southern)
    minima_c = extreme_minima_c(series.start, low, first_month=1 if southern else 7)
    if is_winter.sum() < LEAST_WINTERS or not len(minima_c):
        return None
    rows = np.flatnonzero(is_winter)
    kept = YearsOfDays(
        days.tmin_c[rows], days.tmax_c[rows], tuple(starts[row] for row in rows)
    )
    hot = hot_years(series.start, high, first_month=7 if southern else 1)
    basis = FitBasis(seasons=tuple(seasons[row] for row in rows))
    return _years(kept, site, basis, minima_c, None if hot is None else hot.days_a_year)


def _start(season: int, *, southern: bool) -> date:
    return season_date(season, CARE_YEAR_FIRST_MONTH, 1, southern=southern)


def _around(
    low: Array, high: Array, series: WeatherSeries, starts: tuple[date, ...]
) -> YearsOfDays:
    """Return care years with the day before and the day after each."""
    before = [start - DAY for start in starts]
    return YearsOfDays(
        by_season(low, series, before, YEAR_DAYS + 2),
        by_season(high, series, before, YEAR_DAYS + 2),
        starts,
    )


def _known_winters(days: YearsOfDays, *, southern: bool) -> Flags:
    season = slice(1, winter_days(southern=southern) + 1)
    is_known = days.tmin_c[:, season] <= days.tmax_c[:, season]
    return np.asarray((~is_known).sum(axis=1) <= MOST_UNOBSERVED_DAYS)


def _made_up(
    series: WeatherSeries, site: SiteFacts, basis: FitBasis
) -> FitYears | None:
    climate = usual_climate(series) if knows_the_year(series) else None
    if climate is None:
        return None
    start = _start(MADE_UP_SEASON, southern=site.is_southern)
    made = made_up(site, climate, start - DAY, YEAR_DAYS + 2, COURSES)
    days = YearsOfDays(made.tmin_c, made.tmax_c, (start,) * COURSES)
    minima_c = made_up_minima_c(made.tmin_c, is_frost_free=site.is_frost_free)
    hot_days = float(is_hot_day(made.tmax_c[:, 1:-1]).sum(axis=1).mean())
    return _years(days, site, basis, minima_c, hot_days)


def _years(
    days: YearsOfDays,
    site: SiteFacts,
    basis: FitBasis,
    minima_c: Array,
    hot_days: float | None,
) -> FitYears:
    worths = daily_worths(days, site.latitude_deg)
    season = slice(0, winter_days(southern=site.is_southern))
    continuous = list(NightCurve).index(NightCurve.CONTINUOUS)
    return FitYears(
        basis=basis,
        chill_hours=np.nansum(worths.chill_hours[:, :, season], axis=2),
        portions=worths.portions.sum(axis=2),
        minima_c=minima_c,
        tmin_c=days.tmin_c[:, 1 : YEAR_DAYS + 1],
        chill_by_day=worths.chill_hours[continuous],
        warmth_by_day=worths.warmth,
        starts=days.starts,
        hot_days=hot_days,
    )
