"""The chill of the winter at hand or to come, over all courses of the weather.

By the continuous night, the curve by which needs are reckoned.
"""

from collections.abc import Iterable
from datetime import date, timedelta

import numpy as np

from care.facts import Array, SiteFacts, WeatherSeries
from care.planning.courses import REACH_DAYS, Courses, first_days, imagine_courses
from care.planning.ensemble import (
    ChillAhead,
    Fan,
    LikelyAmount,
    LikelyDay,
    fan_of,
    likely_amount,
    likely_day,
)
from care.planning.winter import FIRST_MONTH, LAST_MONTH
from care.science.chill import dynamic_portions, hours_between
from care.science.season import Window, month_window, season_of

# After the season's end, in which a need may still be met; ours.
LATE_DAYS = 60


def chill_ahead(
    series: WeatherSeries,
    site: SiteFacts,
    today: date,
    needs: Iterable[float] = (),
) -> ChillAhead | None:
    """Return the chill of the winter at hand, or of the next one within reach.

    Parameters
    ----------
    series : WeatherSeries
        The site's.
    site : SiteFacts
    today : datetime.date
    needs : iterable of float
        Hours of 0 to 7.2 degC after which somebody asks.

    Returns
    -------
    ChillAhead or None
        ``None`` where the place is unknown, or between a winter that is over and the
        next that lies beyond reach.
    """
    span = winter_ahead(today, southern=site.is_southern)
    if span is None:
        return None
    until = min(
        span.end + timedelta(days=LATE_DAYS), today + timedelta(days=REACH_DAYS)
    )
    courses = imagine_courses(site, series, today, first=span.start, until=until)
    if courses is None:
        return None
    hours_c = courses.hours_c(site.latitude_deg)
    count = len(hours_c)
    hours = np.cumsum(np.nansum(hours_between(hours_c), axis=2), axis=1)
    season = (span.end - span.start).days + 1
    in_order = hours_c[:, :season].reshape(count, -1).T
    worth = np.nan_to_num(dynamic_portions(in_order)[0])
    portions = np.cumsum(worth.T.reshape(count, season, -1).sum(axis=2), axis=1)

    def total(sums: Array) -> LikelyAmount:
        return likely_amount(
            sums[:, season - 1],
            until=span.end,
            firm_until=courses.firm_until,
            members=courses.members,
        )

    def fan(sums: Array) -> Fan:
        return fan_of(
            sums[:, :season],
            span.start,
            firm_until=courses.firm_until,
            members=courses.members,
        )

    return ChillAhead(
        hours=total(hours),
        portions=total(portions),
        enough={need: _enough(courses, hours, need) for need in needs},
        hours_fan=fan(hours),
        portions_fan=fan(portions),
    )


def winter_ahead(today: date, *, southern: bool) -> Window | None:
    """Return the chill season that is not over and ends within reach, if any."""
    latest = season_of(today, southern=southern)
    spans = (
        month_window(season, FIRST_MONTH, LAST_MONTH, southern=southern)
        for season in (latest, latest + 1)
    )
    span = next(span for span in spans if span.end >= today)
    return span if (span.end - today).days <= REACH_DAYS else None


def _enough(courses: Courses, hours: Array, need: float) -> LikelyDay:
    """Return by what day's end so many hours have come."""
    return likely_day(
        first_days(hours >= need - 1e-6),
        courses.start,
        until=courses.until,
        firm_until=courses.firm_until,
        members=courses.members,
    )
