"""The cold nights ahead: how low each may fall at the place, and for how long.

A minimum falls in the early morning of its day. A forecast is of a station or of a
grid; where the place was learned to be colder on cold nights it is taken lower by that.
On the evening itself, what the air and its dew point were two hours after sunset says
more, once ten such nights were logged; the lower of the two counts.
"""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from math import isnan

import numpy as np

from care.facts import Array, Origin, SiteFacts, Situation, WeatherSeries
from care.science.frost_nights import (
    REPORT_SLACK_C,
    fit_radiation_frost,
    hours_at_or_below,
    night_course_c,
)
from care.science.hourly import HOURS, hourly_temperatures_c, sunrise_to_sunset_hours

STEPS_AN_HOUR = 6  # ten minutes: the shortest time that matters is thirty
NOON = 12
# A fitted line says little of evenings far from those logged: on a mild one it would
# promise a frost. FAO's own example reaches 4.4 degC beyond its nights; ours.
BEYOND_LOGGED_C = 5.0
CALM_MS = 2.0  # radiation frost comes below this wind (FAO, Frost Protection 2005)


@dataclass(frozen=True, slots=True)
class Night:
    """The minimum of one morning, where it comes from, and what was made of it.

    ``basis``: ``reading``, ``typed``, ``forecast`` or ``evening`` (from this evening's
    air and dew point). ``told_c`` is as read, typed or forecast, ``None`` where only
    the evening tells; ``pocket_c`` was taken off it; ``evening_c`` is what the evening
    alone says, where it says anything.
    """

    day: date
    minimum_c: float
    basis: str
    told_c: float | None = None
    pocket_c: float = 0.0
    evening_c: float | None = None
    course_c: tuple[float, ...] = ()  # hour by hour, where the evening tells


def nights_ahead(situation: Situation, nights: int) -> tuple[Night, ...]:
    """Return the minima of today and the next nights that somebody knows.

    Normals are left out, for a mean says nothing of one night; so are gaps. Today's
    may be a reading, which no offset changes; so is what a person typed for tonight.

    Parameters
    ----------
    situation : Situation
        One tree on one morning; two hours after sunset with that evening's readings.
    nights : int
        Days after today.
    """
    today, site = situation.today, situation.site
    found = {
        night.day: night
        for night in forecast_nights(situation.weather, site, today, nights)
    }
    typed_c = situation.typed_minimum_c
    if typed_c is not None:
        found[today] = Night(today, typed_c, "typed", told_c=typed_c)
    tonight = _by_evening(situation)
    if tonight is not None and nights > 0:
        told = found.get(tonight.day)
        found[tonight.day] = tonight if told is None else _lower(told, tonight)
    return tuple(found[day] for day in sorted(found))


def forecast_nights(
    series: WeatherSeries | None, site: SiteFacts, today: date, nights: int
) -> tuple[Night, ...]:
    """Return the minima that the weather alone tells, as :func:`nights_ahead`."""
    pocket_c = site.cold_pocket.offset_c if site.cold_pocket is not None else 0.0
    return _told_nights(series, pocket_c, today, nights)


@lru_cache(maxsize=32)  # the same for all trees of a site
def _told_nights(
    series: WeatherSeries | None, pocket_c: float, today: date, nights: int
) -> tuple[Night, ...]:
    days = (today + timedelta(days=ahead) for ahead in range(nights + 1))
    found = (_forecast(series, pocket_c, today, day) for day in days)
    return tuple(night for night in found if night is not None)


def _forecast(
    series: WeatherSeries | None, pocket_c: float, today: date, day: date
) -> Night | None:
    if series is None or not series.covers(day):
        return None
    origin, minimum_c = series.origin_on(day), float(series.tmin_c[series.index(day)])
    if isnan(minimum_c) or origin is Origin.NORMAL:
        return None
    if origin is Origin.OBSERVED:
        reading = Night(day, minimum_c, "reading", told_c=minimum_c)
        return reading if day == today else None
    return Night(day, minimum_c - pocket_c, "forecast", minimum_c, pocket_c)


def _lower(told: Night, evening: Night) -> Night:
    """Return the colder of two opinions, with both of them told."""
    if evening.minimum_c >= told.minimum_c:
        return replace(told, evening_c=evening.evening_c)
    return replace(evening, told_c=told.told_c, pocket_c=told.pocket_c)


def _by_evening(situation: Situation) -> Night | None:
    """Return what this evening says of the coming morning, or ``None``."""
    logged = situation.site.frost_nights
    air_c, dew_c = situation.tonight_evening_c, situation.tonight_dew_point_c
    if logged is None or air_c is None or dew_c is None:
        return None
    fit = fit_radiation_frost(
        np.asarray(logged.evening_c),
        np.asarray(logged.dew_point_c),
        np.asarray(logged.minimum_c),
    )
    if fit is None:
        return None
    warmest_c, coldest_c = max(logged.evening_c), min(logged.evening_c)
    if not coldest_c - BEYOND_LOGGED_C <= air_c <= warmest_c + BEYOND_LOGGED_C:
        return None
    # A night that warms is no radiation frost: the fit says nothing of it.
    minimum_c = min(float(fit.minimum_c(air_c, dew_c)), air_c)
    tomorrow = situation.today + timedelta(days=1)
    hours = _night_hours(situation.site.latitude_deg, tomorrow)
    course = night_course_c(air_c, minimum_c, max(hours, 3))
    return Night(
        tomorrow,
        minimum_c,
        "evening",
        evening_c=minimum_c,
        course_c=tuple(float(each) for each in course),
    )


def _night_hours(latitude_deg: float, day: date) -> int:
    number = day.timetuple().tm_yday
    return round(HOURS - float(sunrise_to_sunset_hours(latitude_deg, number)))


def hours_below(situation: Situation, night: Night, threshold_c: float) -> float | None:
    """Return how long a night is at or below a threshold [h], or ``None`` if unknown.

    From the evening's trend where the evening tells; else from the curve through the
    lows and highs of the days around it, the low as expected at the place, from noon
    to noon in steps of ten minutes. Unknown where the high of the day before is.

    Parameters
    ----------
    situation : Situation
        For the weather and the latitude.
    night : Night
        Of :func:`nights_ahead`.
    threshold_c : float
        A reading in tenths of a degree meets it.
    """
    if night.course_c:
        return float(hours_at_or_below(np.asarray(night.course_c), threshold_c))
    hourly = _course_noon_to_noon(situation, night)
    if hourly is None:
        return None
    steps = np.arange(len(hourly) * STEPS_AN_HOUR - STEPS_AN_HOUR + 1) / STEPS_AN_HOUR
    fine = np.interp(steps, np.arange(len(hourly)), hourly)
    cold = np.sum(fine <= threshold_c + REPORT_SLACK_C)
    return float(cold) / STEPS_AN_HOUR


def _course_noon_to_noon(situation: Situation, night: Night) -> Array | None:
    series = situation.weather
    if series is None:
        return None
    days = [night.day + timedelta(days=step) for step in (-1, 0, 1)]
    lows, highs = (_values(series, days, name) for name in ("tmin_c", "tmax_c"))
    if np.isnan(highs[0]):
        return None
    lows[1] = night.minimum_c
    lows[0] = min(night.minimum_c if np.isnan(lows[0]) else lows[0], highs[0])
    # The high of the day itself matters little before noon, but lies above its low.
    highs[1] = max(highs[0] if np.isnan(highs[1]) else highs[1], lows[1])
    lows[2] = min(lows[2], highs[2])
    hourly = hourly_temperatures_c(
        lows,
        highs,
        situation.site.latitude_deg,
        np.array([float(day.timetuple().tm_yday) for day in days]),
    )
    return np.concatenate([hourly[0, NOON:], hourly[1, : NOON + 1]])


def _values(series: WeatherSeries, days: list[date], name: str) -> Array:
    values = getattr(series, name)
    return np.array(
        [values[series.index(day)] if series.covers(day) else np.nan for day in days]
    )


def is_radiation_night(series: WeatherSeries | None, day: date) -> bool:
    """Return whether the frost of a morning may be one of a clear, calm night.

    A wind above 2 m/s rules it out; an unknown wind does not.
    """
    if series is None or series.wind_ms is None or not series.covers(day):
        return True
    return not float(series.wind_ms[series.index(day)]) > CALM_MS
