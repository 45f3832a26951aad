"""Where the sun stands: radiation above the atmosphere and the length of the day."""

from datetime import date

import numpy as np

from care.facts import Array

SOLAR_CONSTANT_MJ_PER_MIN = 0.0820  # per m2 of a plane facing the sun; FAO-56 p. 46
MJ_TO_MM = 0.408  # evaporation that 1 MJ/m2 can drive; FAO-56 Eq. 20


def day_of_year(day: date) -> int:
    """Return the number of a day in its year, 1 to 366 [-].

    Source: Allen et al. (1998), FAO-56, Table 2.5.
    """
    return day.timetuple().tm_yday


def inverse_relative_distance(day_number: Array | float) -> Array:
    """Return the inverse relative distance from the Earth to the sun [-].

    Parameters
    ----------
    day_number : array of any shape, 1-366
        Day of the year.

    Returns
    -------
    array of the same shape
        Source: Allen et al. (1998), FAO-56, Eq. 23.
    """
    number = np.asarray(day_number, dtype=np.float64)
    return np.asarray(1 + 0.033 * np.cos(2 * np.pi / 365 * number))


def declination_rad(day_number: Array | float) -> Array:
    """Return the solar declination [rad].

    Source: Allen et al. (1998), FAO-56, Eq. 24. ``day_number`` is 1-366, any shape.
    """
    number = np.asarray(day_number, dtype=np.float64)
    return np.asarray(0.409 * np.sin(2 * np.pi / 365 * number - 1.39))


def sunset_hour_angle_rad(latitude_deg: float, day_number: Array | float) -> Array:
    """Return the hour angle of sunset, 0 (polar night) to pi (polar day) [rad].

    Notes
    -----
    Eq. 25 takes the arccosine of ``-tan(latitude) tan(declination)``, which leaves
    [-1, 1] inside the polar circles; it is clamped there, so that polar night gives
    no light and polar day twenty-four hours of it.

    Source: Allen et al. (1998), FAO-56, Eq. 25.
    """
    latitude_rad = np.radians(latitude_deg)
    cosine = -np.tan(latitude_rad) * np.tan(declination_rad(day_number))
    return np.asarray(np.arccos(np.clip(cosine, -1.0, 1.0)))


def extraterrestrial_radiation_mj(
    latitude_deg: float, day_number: Array | float
) -> Array:
    """Return the daily radiation above the atmosphere, Ra [MJ/m2/day].

    Parameters
    ----------
    latitude_deg : float
        Latitude, south negative [deg].
    day_number : array of any shape, 1-366
        Day of the year.

    Returns
    -------
    array of the same shape, never negative
        Of limited validity in winter above 55 degrees (FAO-56 p. 47).
        Source: Allen et al. (1998), FAO-56, Eq. 21.
    """
    latitude_rad = np.radians(latitude_deg)
    tilt = declination_rad(day_number)
    sunset = sunset_hour_angle_rad(latitude_deg, day_number)
    lit = sunset * np.sin(latitude_rad) * np.sin(tilt) + np.cos(latitude_rad) * np.cos(
        tilt
    ) * np.sin(sunset)
    minutes = 24 * 60 / np.pi * SOLAR_CONSTANT_MJ_PER_MIN
    radiation = minutes * inverse_relative_distance(day_number) * lit
    return np.asarray(np.maximum(radiation, 0.0))


def daylight_hours(latitude_deg: float, day_number: Array | float) -> Array:
    """Return the length of the day, N, without twilight or refraction [h].

    Source: Allen et al. (1998), FAO-56, Eq. 34.
    """
    return np.asarray(24 / np.pi * sunset_hour_angle_rad(latitude_deg, day_number))


def noon_elevation_rad(latitude_deg: float, day_number: Array | float) -> Array:
    """Return how high the sun stands at noon, negative in polar night [rad].

    Source: Allen et al. (1998), FAO-56, chapter 9, beside Eq. 97-98.
    """
    from_overhead = np.radians(latitude_deg) - declination_rad(day_number)
    return np.asarray(np.pi / 2 - np.abs(from_overhead))
