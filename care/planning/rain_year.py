"""The rain of the season at hand beside that of past years, as running sums.

Where a wet season stands out the year is counted from before it, elsewhere from
midwinter as warmth is. Only rain that somebody measured counts.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import Array, SiteFacts, WeatherSeries
from care.planning.ensemble import Fan
from care.planning.futures import COURSES, FEW_YEARS, made_up
from care.planning.past_seasons import (
    DAY,
    PastSeasons,
    by_season,
    known_days,
    season_fan,
)
from care.planning.rain_lately import MOST_UNREAD_SHARE
from care.planning.rains import (
    SEARCH_BEFORE_START_DAYS,
    measured_rain_mm,
    rains_of,
    usual_rain_mm,
)
from care.science.season import season_date, season_of
from care.science.usual_climate import usual_climate

YEAR_DAYS = 365
COMMON_YEAR = 2001  # has no 29 February


@dataclass(frozen=True, slots=True, eq=False)
class RainYear:
    """Rain since ``start`` [mm]; the fan is ``None`` where nothing tells of it.

    ``unread_days`` up to the last reading count as dry, and are told; after it the fan
    goes on as other years did.
    """

    start: date
    fan: Fan | None
    past: PastSeasons
    unread_days: int
    read_until: date | None

    @property
    def fell_mm(self) -> float | None:
        """What fell through the last reading."""
        if self.fan is None or self.read_until is None:
            return None
        return float(self.fan.middle[(self.read_until - self.start).days])


def rain_year(series: WeatherSeries, site: SiteFacts, today: date) -> RainYear:
    """Return the rain of the year at hand and of past ones.

    Parameters
    ----------
    series : WeatherSeries
        The longer, the more years; forecasts and usual rain are no readings.
    site : SiteFacts
        In the south a year begins on 1 July instead of 1 January where no season stands
        out.
    today : datetime.date
        Counts only once its rain was read.

    Notes
    -----
    A past year counts where nine of ten of its days were read. Where fewer than five
    do, years generated from the usual rain of the place join them.
    """
    start = _year_start(series, today, southern=site.is_southern)
    rain_mm = measured_rain_mm(series, today)
    starts = [
        _years_before(start, n) for n in range(start.year - series.start.year + 2)
    ]
    rows = by_season(rain_mm, series, starts, YEAR_DAYS)
    counts = known_days(rows) >= (1 - MOST_UNREAD_SHARE) * YEAR_DAYS
    kept = [place for place in range(1, len(starts)) if counts[place]]
    past = PastSeasons(
        tuple(starts[place] for place in kept),
        np.cumsum(np.nan_to_num(rows[kept]), axis=1),
    )
    read = np.flatnonzero(~np.isnan(rows[0]))
    gone = int(read[-1]) + 1 if read.size else 0
    last = start + timedelta(days=gone - 1)
    made = _made_up(series, site, start, past)
    fan = None
    if gone or past.count or len(made):
        so_far = np.cumsum(np.nan_to_num(rows[0, :gone]))
        fan = season_fan(start, so_far, past, made, last)
    behind = max((today - DAY - last).days, 0)
    unread = gone - len(read) + behind
    return RainYear(start, fan, past, unread, last if gone else None)


def _made_up(
    series: WeatherSeries, site: SiteFacts, start: date, past: PastSeasons
) -> Array:
    """Return running sums of generated years, where past ones are too few."""
    climate = usual_climate(series)
    if past.count >= FEW_YEARS or climate is None or usual_rain_mm(series) is None:
        return np.zeros((0, YEAR_DAYS))
    count = COURSES - past.count
    return np.cumsum(made_up(site, climate, start, YEAR_DAYS, count).rain_mm, axis=1)


def _year_start(series: WeatherSeries, today: date, *, southern: bool) -> date:
    """Return the first day of a month: before the wet season, or of midwinter."""
    usual = rains_of(series, today).usual
    if usual is None:
        season = season_of(today, southern=southern)
        starts = (
            season_date(year, 1, 1, southern=southern) for year in (season, season - 1)
        )
        return next(start for start in starts if start <= today)
    number = (usual.first_day - SEARCH_BEFORE_START_DAYS - 1) % YEAR_DAYS
    month = (date(COMMON_YEAR, 1, 1) + timedelta(days=number)).month
    year = today.year if (today.month, today.day) >= (month, 1) else today.year - 1
    return date(year, month, 1)


def _years_before(start: date, years: int) -> date:
    return start.replace(year=start.year - years)
