"""Cold that has been: when a cover comes off, and what froze until growth tells."""

from dataclasses import dataclass
from datetime import date, timedelta
from math import asin, pi

import numpy as np

from care.facts import Origin, Situation, WeatherSeries
from care.science.cold_limits import Limit, wood_limit
from care.science.cold_nights import Night, nights_ahead
from care.science.frost import ROUNDING_C, must_protect
from care.science.hourly import HOURS, sunrise_to_sunset_hours
from care.science.season import season_of, start_of_growth

COVER_HEIGHT_M = 3.0  # common practice, no source: taller crowns are not covered
COVERED_DAYS = 2  # one covering serves the nights of so many days after it; ours
THAW_DAYS = 7  # no forecast of a thaw reaches further
GROWING_DAYS = 150  # after its start a tree still grows anew; ours
WINTER_DAYS = 180  # damage of longer ago was seen or outgrown


def last_cold_morning(
    situation: Situation, since: date, alarm_c: float | None
) -> date | None:
    """Return the last morning, up to tomorrow's, that was or will be at an alarm.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    since : datetime.date
        The first morning to look at.
    alarm_c : float or None
        Minimum from which the tree is protected; ``None``: nothing alarms.
    """
    if alarm_c is None:
        return None
    past = (day for day, _ in _past_minima(situation, since, alarm_c))
    coming = (
        night.day
        for night in nights_ahead(situation, 1)
        if must_protect(night.minimum_c, alarm_c, 0.0) and night.day >= since
    )
    return max((*past, *coming), default=None)


def thaw_day(series: WeatherSeries | None, first: date) -> date:
    """Return the first day from ``first`` on that is not known to stay frozen."""
    days = (first + timedelta(days=ahead) for ahead in range(THAW_DAYS))
    thawed = (day for day in days if not _stays_frozen(series, day))
    return next(thawed, first + timedelta(days=THAW_DAYS))


def _stays_frozen(series: WeatherSeries | None, day: date) -> bool:
    if series is None or not series.covers(day):
        return False
    is_known = series.origin_on(day) is not Origin.NORMAL
    return is_known and bool(series.tmax_c[series.index(day)] <= 0)


def thaw_after_sunrise_h(situation: Situation, night: Night) -> float | None:
    """Return how long after sunrise it is above freezing again [h].

    Parameters
    ----------
    situation : Situation
        For the weather and the latitude.
    night : Night
        Whose minimum is taken for that of sunrise.

    Returns
    -------
    float or None
        0 where it does not freeze; ``None`` where it stays frozen, where nobody knows
        the day's maximum, and without sunrise. By the sine of the day.
        Source: Linvill (1990), HortScience 25:14-16.
    """
    if night.minimum_c > 0:
        return 0.0
    series, day = situation.weather, night.day
    if series is None or not series.covers(day):
        return None
    if series.origin_on(day) is Origin.NORMAL:
        return None
    maximum_c = float(series.tmax_c[series.index(day)])
    number = float(day.timetuple().tm_yday)
    length_h = float(sunrise_to_sunset_hours(situation.site.latitude_deg, number))
    if not maximum_c > 0 or not 0 < length_h < HOURS:
        return None
    share = -night.minimum_c / (maximum_c - night.minimum_c)
    return (length_h + 4) / pi * asin(share)


def _past_minima(
    situation: Situation, since: date, limit_c: float
) -> list[tuple[date, float]]:
    """Return observed minima at or below a limit, from a day up to yesterday."""
    series, today = situation.weather, situation.today
    if series is None:
        return []
    first = max(series.index(since), 0)
    minima = series.tmin_c[first : max(series.index(today), first)]
    cold = np.flatnonzero(minima <= limit_c + ROUNDING_C)
    days = (series.start + timedelta(days=first + int(place)) for place in cold)
    return [
        (day, float(minima[place]))
        for day, place in zip(days, cold, strict=True)
        if series.origin_on(day) is Origin.OBSERVED
    ]


@dataclass(frozen=True, slots=True)
class FrozenNight:
    """A night that was colder than the wood bears [degC]."""

    day: date
    minimum_c: float
    threshold_c: float


def frozen_night(situation: Situation) -> FrozenNight | None:
    """Return the coldest night of the last half year that hurt the wood, or ``None``.

    Observed minima at or below the limit itself, without margins; a night under a
    logged cover counts only where it was 5 degF colder still.
    """
    limit = wood_limit(situation)
    if limit is None:
        return None
    since = situation.today - timedelta(days=WINTER_DAYS)
    planted = situation.tree.planted_on
    first = since if planted is None else max(since, planted)
    hurt = [
        FrozenNight(day, minimum_c, limit.threshold_c)
        for day, minimum_c in _past_minima(situation, first, limit.threshold_c)
        if minimum_c <= _bears_c(situation, limit, day) + ROUNDING_C
        and not _was_indoors(situation, day)
    ]
    return min(hurt, key=lambda night: (night.minimum_c, night.day), default=None)


def _bears_c(situation: Situation, limit: Limit, day: date) -> float:
    covers = (
        work.on
        for work in situation.logged("cold")
        if work.key == "next" and work.what == "done"
    )
    is_covered = any(0 <= (day - on).days <= COVERED_DAYS for on in covers)
    return (
        limit.worst_c if is_covered and limit.worst_c is not None else limit.threshold_c
    )


def _was_indoors(situation: Situation, day: date) -> bool:
    tree = situation.tree
    return tree.in_container and tree.place_on(day).is_indoors


def growth_after(situation: Situation, frozen_on: date) -> date:
    """Return when growth starts first after a freeze, as seen, modelled or guessed."""
    season = season_of(frozen_on, southern=situation.site.is_southern)
    began_on = start_of_growth(situation, season).on
    if frozen_on <= began_on + timedelta(days=GROWING_DAYS):
        return max(began_on, frozen_on)
    return start_of_growth(situation, season + 1).on
