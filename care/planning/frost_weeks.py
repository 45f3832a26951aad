"""In what share of years each week of the year has a night at or below a bound."""

from dataclasses import dataclass
from datetime import date

import numpy as np

from care.facts import Array, SiteFacts, WeatherSeries
from care.planning.frost_outlook import FreezeDates, observed_before
from care.planning.past_seasons import by_season
from care.science.frost_dates import TIE, reported_threshold_c

WEEKS, WEEK = 52, 7
MOST_UNREAD_NIGHTS = 1  # of a week without a frost that counts as one; ours


@dataclass(frozen=True, slots=True, eq=False)
class FrostWeeks:
    """One year of weeks with winter in its middle.

    ``start`` is the first day of the year shown, ``share`` the share of years with
    such a night in each week, NaN where no year tells; ``years`` how many tell at most.
    """

    start: date
    share: Array
    years: int


def frost_weeks(
    series: WeatherSeries, site: SiteFacts, today: date, bound: FreezeDates
) -> FrostWeeks:
    """Return the share of years with a night at or below a bound, week by week.

    Parameters
    ----------
    series : WeatherSeries
        Forecasts, normals and days from today on are not counted.
    site : SiteFacts
        In the north the year shown begins on 1 July, in the south on 1 January.
    today : datetime.date
        Lies in the year shown.
    bound : FreezeDates
        For its threshold.

    Returns
    -------
    FrostWeeks
        The last week has a day or two more than the others.
    """
    month = 1 if site.is_southern else 7
    start = date(today.year - (today.month < month), month, 1)
    starts = [
        date(year, month, 1) for year in range(series.start.year - 1, start.year + 1)
    ]
    minima = observed_before(series, series.tmin_c, today)
    nights = by_season(minima, series, starts, WEEKS * WEEK)
    weeks = nights.reshape(len(starts), WEEKS, WEEK)
    limit_c = reported_threshold_c(bound.threshold_c) + TIE
    has_frost = (weeks <= limit_c).any(axis=2)
    unread = np.isnan(weeks).sum(axis=2)
    is_told = has_frost | (unread <= MOST_UNREAD_NIGHTS)
    told = is_told.sum(axis=0)
    share = np.divide(
        (has_frost & is_told).sum(axis=0),
        told,
        out=np.full(WEEKS, np.nan),
        where=told > 0,
    )
    return FrostWeeks(start, share, int(told.max()))
