"""The warmth of a site's year so far beside other years."""

from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from care.facts import Array, SiteFacts, WeatherSeries
from care.planning.past_seasons import PastSeasons, by_season
from care.science.heat import single_sine_degree_days
from care.science.hottest_weeks import hottest_from
from care.science.season import season_date, season_of
from care.science.usual_climate import usual_climate

BASE_C = 10.0  # 50 degF; the usual base of tables for fruit growers
FROM_MONTH = 1  # of the northern year
MOST_UNOBSERVED_DAYS = 5  # of a past year that counts; ours
YEAR_DAYS = 365
ENOUGH_SHARE = 0.9  # of the days so far, to name a sum; ours


@dataclass(frozen=True, slots=True)
class YearsWarmth:
    """Degree days above 10 degC since the middle of winter [degC d].

    ``past`` are the sums of observed earlier years by the same day, ``None`` for
    ``degree_days`` if too many days are unknown.
    """

    since: date
    degree_days: float | None
    past: tuple[float, ...]


def years_warmth(
    series: WeatherSeries, today: date, *, southern: bool
) -> YearsWarmth | None:
    """Return the year's warmth through yesterday, ``None`` on its first day.

    Parameters
    ----------
    series : WeatherSeries
        Days that nobody observed count by their forecast or usual weather.
    today : datetime.date
        Not counted itself.
    southern : bool
        The year begins on 1 July instead of 1 January.
    """
    season = season_of(today, southern=southern)
    starts = [
        season_date(year, FROM_MONTH, 1, southern=southern)
        for year in range(season, series.start.year - 2, -1)
    ]
    starts = [start for start in starts if start < today]
    if not starts:
        return None
    days = (today - starts[0]).days
    by_day = _degree_days(series)
    now = _span(by_day, series, starts[0], days)
    known = int(np.sum(~np.isnan(now)))
    past = [
        float(np.nansum(_span(by_day, series, start, days)))
        for start in starts[1:]
        if _is_observed(series, start, days)
    ]
    is_told = known >= ENOUGH_SHARE * days
    return YearsWarmth(
        starts[0], float(np.nansum(now)) if is_told else None, tuple(past)
    )


def past_warmth(series: WeatherSeries, start: date) -> PastSeasons:
    """Return the running degree days of observed years before one [degC d].

    Parameters
    ----------
    series : WeatherSeries
    start : datetime.date
        First day of the year at hand.
    """
    starts = [
        start.replace(year=year)
        for year in range(start.year - 1, series.start.year - 1, -1)
    ]
    kept = tuple(each for each in starts if _is_observed(series, each, YEAR_DAYS))
    rows = by_season(_degree_days(series), series, kept, YEAR_DAYS)
    return PastSeasons(kept, np.cumsum(np.nan_to_num(rows), axis=1))


def with_hottest_weeks(site: SiteFacts, series: WeatherSeries | None) -> SiteFacts:
    """Return the site with the first of its six hottest weeks, where any stand out.

    By the usual days of its record or of the months that somebody typed.
    """
    climate = None if series is None else usual_climate(series)
    if climate is None:
        return site
    return replace(site, hottest_from=hottest_from(climate.tmin_c, climate.tmax_c))


def _degree_days(series: WeatherSeries) -> Array:
    is_sound = series.tmin_c <= series.tmax_c
    return single_sine_degree_days(
        np.where(is_sound, series.tmin_c, np.nan),
        np.where(is_sound, series.tmax_c, np.nan),
        BASE_C,
    )


def _span(values: Array, series: WeatherSeries, start: date, days: int) -> Array:
    """Return the values of some days, NaN for those outside the series."""
    places = series.index(start) + np.arange(days)
    is_inside = (places >= 0) & (places < len(series))
    found = np.full(days, np.nan)
    found[is_inside] = values[places[is_inside]]
    return found


def _is_observed(series: WeatherSeries, start: date, days: int) -> bool:
    first = series.index(start)
    letters = series.origin[max(first, 0) : max(first + days, 0)]
    return letters.count("o") >= days - MOST_UNOBSERVED_DAYS
