"""The last frost of spring and the first of autumn, over all courses of the weather."""

from collections.abc import Iterable
from datetime import date, timedelta

import numpy as np

from care.facts import Flags, SiteFacts, WeatherSeries
from care.planning.courses import REACH_DAYS, Courses, first_days, imagine_courses
from care.planning.ensemble import NEVER, FrostAhead, LikelyDay, Whole, likely_day
from care.science.frost_dates import TIE, frost_halves, reported_threshold_c
from care.science.season import Window

# Annual minima of made-up years lie so much above real ones: 1.65 in Seattle, 1.8 in
# New York (records of 2012-2015).
TOO_MILD_C = 1.7


def frosts_ahead(
    series: WeatherSeries,
    site: SiteFacts,
    today: date,
    thresholds_c: Iterable[float] = (0.0,),
) -> tuple[FrostAhead, ...]:
    """Return the next frosts at some bounds, in their order; none where nothing is known.

    Parameters
    ----------
    series : WeatherSeries
        The site's.
    site : SiteFacts
    today : datetime.date
    thresholds_c : iterable of float
        At or below each is a frost, read in tenths of a degree.
    """
    spring, autumn = halves_ahead(today, southern=site.is_southern)
    reach = today + timedelta(days=REACH_DAYS)
    first = min(today, spring.start, autumn.start)
    until = min(max(spring.end, autumn.end), reach)
    courses = imagine_courses(site, series, today, first=first, until=until)
    if courses is None:
        return ()
    return tuple(
        FrostAhead(
            threshold_c,
            last_spring=(
                _last(courses, spring, threshold_c) if spring.end <= reach else None
            ),
            first_autumn=_first(courses, autumn, threshold_c),
        )
        for threshold_c in thresholds_c
    )


def halves_ahead(today: date, *, southern: bool) -> tuple[Window, Window]:
    """Return the spring half and the autumn half that are not over, or come next."""
    springs, autumns = [], []
    for year in range(today.year - 1, today.year + 2):
        first, middle, following = frost_halves(year, southern=southern)
        springs.append(Window(first, middle - timedelta(days=1)))
        autumns.append(Window(middle, following - timedelta(days=1)))
    return (
        next(half for half in springs if half.end >= today),
        next(half for half in autumns if half.end >= today),
    )


def _last(courses: Courses, half: Window, threshold_c: float) -> LikelyDay:
    is_frost = _frosts(courses, half, threshold_c)
    days = is_frost.shape[1] - 1 - np.argmax(is_frost[:, ::-1], axis=1)
    return _likely(courses, half, np.where(is_frost.any(axis=1), days, NEVER))


def _first(courses: Courses, half: Window, threshold_c: float) -> LikelyDay:
    return _likely(courses, half, first_days(_frosts(courses, half, threshold_c)))


def _frosts(courses: Courses, half: Window, threshold_c: float) -> Flags:
    """Return which days of a half have a frost; (courses, days within reach)."""
    first, last = courses.place(half.start), courses.place(half.end)
    limit_c = reported_threshold_c(threshold_c) + TIE
    return np.asarray(courses.tmin_c[:, first : last + 1] <= limit_c)


def _likely(courses: Courses, half: Window, days: Whole) -> LikelyDay:
    return likely_day(
        days,
        half.start,
        until=min(half.end, courses.until),
        firm_until=courses.firm_until,
        members=courses.members,
    )
