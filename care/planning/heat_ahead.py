"""Hot days to come and the warmth of the year, over all courses of the weather."""

from datetime import date, timedelta

import numpy as np

from care.facts import SiteFacts, WeatherSeries
from care.planning.courses import REACH_DAYS, imagine_courses
from care.planning.ensemble import HeatAhead, fan_of, likely_amount
from care.planning.warmth import BASE_C, FROM_MONTH
from care.science.heat import is_hot_day, single_sine_degree_days
from care.science.season import season_date, season_of


def heat_ahead(series: WeatherSeries, site: SiteFacts, today: date) -> HeatAhead | None:
    """Return the hot days from today to the year's end, and its degree days.

    Parameters
    ----------
    series : WeatherSeries
        The site's.
    site : SiteFacts
        In the south a year begins on 1 July.
    today : datetime.date

    Returns
    -------
    HeatAhead or None
        ``None`` where nothing is known of the place.
    """
    southern = site.is_southern
    season = season_of(today, southern=southern)
    first = season_date(season, FROM_MONTH, 1, southern=southern)
    if first > today:
        first = season_date(season - 1, FROM_MONTH, 1, southern=southern)
    year_end = first.replace(year=first.year + 1) - timedelta(days=1)
    until = min(year_end, today + timedelta(days=REACH_DAYS))
    courses = imagine_courses(site, series, today, first=first, until=until)
    if courses is None:
        return None
    ahead = courses.tmax_c[:, courses.place(today) :]
    warmth = np.nan_to_num(
        single_sine_degree_days(courses.tmin_c, courses.tmax_c, BASE_C)
    )
    return HeatAhead(
        hot_days=likely_amount(
            np.nansum(is_hot_day(ahead), axis=1),
            until=until,
            firm_until=courses.firm_until,
            members=courses.members,
        ),
        degree_days_fan=fan_of(
            np.cumsum(warmth, axis=1),
            first,
            firm_until=courses.firm_until,
            members=courses.members,
        ),
    )
