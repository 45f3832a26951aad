"""The hours of a day from its lowest and highest temperature.

Chill and growing degree hours are counted by the hour, while most records hold two
temperatures a day. Whoever counts from these hours should count twice, once with each
night curve, and show the two results as a range.
"""

from enum import StrEnum

import numpy as np

from care.facts import Array

HOURS = 24
# The sun's upper edge under mean refraction, where sunrise is seen.
SUNRISE_ALTITUDE_DEG = -0.833


class NightCurve(StrEnum):
    """How a night cools: from sunset towards the next minimum, logarithmically.

    ``LITERAL`` holds the sunset's warmth for the first hour and then falls with
    ln(t) / ln(24 - day length). ``CONTINUOUS`` falls from the start, with
    ln(t + 1) / ln(night length + 1), and meets the minimum at sunrise.
    """

    LITERAL = "literal"
    CONTINUOUS = "continuous"


def sunrise_to_sunset_hours(latitude_deg: float, day_number: Array | float) -> Array:
    """Return the length of the day between visible sunrise and sunset [h].

    Parameters
    ----------
    latitude_deg : float
        Latitude, south negative [deg].
    day_number : array of any shape, 1-366
        Day of the year.

    Returns
    -------
    array of the same shape, 0 in polar night and 24 in polar day
        Some minutes longer than the FAO-56 day length, which leaves out refraction.
        Source: declination of Spencer (1971); hour angle of Almorox et al. (2005).
    """
    angle = 2 * np.pi * (np.asarray(day_number, dtype=np.float64) - 1) / 365
    declination = (
        0.006918
        - 0.399912 * np.cos(angle)
        + 0.070257 * np.sin(angle)
        - 0.006758 * np.cos(2 * angle)
        + 0.000907 * np.sin(2 * angle)
        - 0.002697 * np.cos(3 * angle)
        + 0.00148 * np.sin(3 * angle)
    )
    latitude = np.radians(latitude_deg)
    altitude = np.sin(np.radians(SUNRISE_ALTITUDE_DEG))
    cosine = (altitude - np.sin(latitude) * np.sin(declination)) / (
        np.cos(latitude) * np.cos(declination)
    )
    return np.asarray(np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))) * 2 / 15)


def hourly_temperatures_c(
    tmin_c: Array,
    tmax_c: Array,
    latitude_deg: float,
    day_numbers: Array,
    night: NightCurve = NightCurve.CONTINUOUS,
) -> Array:
    """Return the temperature at each full hour, 0 to 23, of local solar time [degC].

    Parameters
    ----------
    tmin_c, tmax_c : arrays, shape (days,)
        Of days that follow each other; a missing day is NaN.
    latitude_deg : float
        Latitude, south negative [deg].
    day_numbers : array, shape (days,), 1-366
        Day of the year of each day.
    night : NightCurve
        How the night cools.

    Returns
    -------
    array, shape (days, 24)
        A missing day has 24 NaN. Where the day before is missing, the first hours
        cool from that day's own sunset; where the day after is missing, the evening
        cools towards that day's own minimum.

    Raises
    ------
    ValueError
        If a day's minimum lies above its maximum, or the shapes differ.

    Notes
    -----
    Between sunrise and sunset a sine that peaks two hours after noon; then the night
    curve. Days of polar light or darkness get their mean temperature, for the method
    says nothing of them.
    Source: Linvill (1990), HortScience 25:14-16.
    """
    tmin, tmax, length = _checked(tmin_c, tmax_c, latitude_deg, day_numbers)
    hours = np.arange(HOURS, dtype=np.float64)
    sunrise, sunset = 12 - length / 2, 12 + length / 2
    span = (length + 4)[:, None]
    by_day = tmin[:, None] + (tmax - tmin)[:, None] * np.sin(
        np.pi * (hours - sunrise[:, None]) / span
    )
    at_sunset = tmin + (tmax - tmin) * np.sin(np.pi * length / (length + 4))

    before = _shifted(at_sunset, 1)
    length_before = np.where(np.isnan(before), length, _shifted(length, 1))
    night_before = sunrise + 12 - length_before / 2
    morning = _cooled(
        np.where(np.isnan(before), at_sunset, before),
        tmin,
        hours + (12 - length_before / 2)[:, None],
        night_before if night is NightCurve.CONTINUOUS else HOURS - length_before,
        night,
    )
    after = _shifted(tmin, -1)
    length_after = np.where(np.isnan(after), length, _shifted(length, -1))
    evening = _cooled(
        at_sunset,
        np.where(np.isnan(after), tmin, after),
        hours - sunset[:, None],
        (
            HOURS - length / 2 - length_after / 2
            if night is NightCurve.CONTINUOUS
            else HOURS - length
        ),
        night,
    )
    course = np.where(hours <= sunrise[:, None], morning, by_day)
    course = np.where(hours > sunset[:, None], evening, course)
    has_no_night = (length <= 0) | (length >= HOURS)
    mean = ((tmin + tmax) / 2)[:, None]
    return np.asarray(np.where(has_no_night[:, None], mean, course))


def _checked(
    tmin_c: Array, tmax_c: Array, latitude_deg: float, day_numbers: Array
) -> tuple[Array, Array, Array]:
    tmin = np.asarray(tmin_c, dtype=np.float64)
    tmax = np.asarray(tmax_c, dtype=np.float64)
    if not tmin.shape == tmax.shape == np.shape(day_numbers):
        message = "minima, maxima and days differ in number"
        raise ValueError(message)
    if np.any(tmin > tmax):
        message = "a day's minimum lies above its maximum"
        raise ValueError(message)
    is_missing = np.isnan(tmin) | np.isnan(tmax)
    tmin, tmax = np.where(is_missing, np.nan, tmin), np.where(is_missing, np.nan, tmax)
    return tmin, tmax, sunrise_to_sunset_hours(latitude_deg, day_numbers)


def _shifted(values: Array, days: int) -> Array:
    """Return the values of an earlier (1) or later (-1) day; NaN beyond the ends."""
    moved = np.full_like(values, np.nan)
    if days > 0:
        moved[1:] = values[:-1]
    else:
        moved[:-1] = values[1:]
    return moved


def _cooled(
    start_c: Array, end_c: Array, since: Array, length: Array, night: NightCurve
) -> Array:
    """Return the night's temperature ``since`` hours after sunset, shape (days, 24)."""
    later = 1.0 if night is NightCurve.CONTINUOUS else 0.0
    passed = np.log(np.maximum(since + later, 1.0))
    whole = np.log(np.maximum(length + later, 1.0))[:, None]
    share = np.divide(passed, whole, out=np.zeros_like(passed), where=whole > 0)
    return start_c[:, None] - (start_c - end_c)[:, None] * np.minimum(share, 1.0)
