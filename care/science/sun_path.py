"""Where the sun stands at every time of a day: elevation and azimuth."""

from dataclasses import dataclass

import numpy as np

from care.facts import Array

OBLIQUITY_RAD = np.radians(23.44)  # of the ecliptic, the sun's declination at solstice
EQUINOX_RAD = 0.0
#: Lower than this the sun warms and lights next to nothing; no source.
LOW_SUN_RAD = np.radians(5.0)
STEP_H = 0.25


@dataclass(frozen=True, slots=True)
class SunPath:
    """The sun at equal steps of one day while it stands high enough to count.

    ``elevation_rad`` above the horizon and ``azimuth_rad`` clockwise from north, both
    of shape (steps,); ``step_h`` is what each stands for [h].
    """

    elevation_rad: Array
    azimuth_rad: Array
    step_h: float


def sun_place_rad(
    latitude_deg: float, declination_rad: float, solar_hours: Array
) -> tuple[Array, Array]:
    """Return the sun's elevation and its azimuth, clockwise from north [rad].

    Parameters
    ----------
    latitude_deg : float
        South negative.
    declination_rad : float
        Of the day.
    solar_hours : array of any shape
        True solar time, 12 at noon [h].

    Returns
    -------
    tuple of two arrays of that shape
        Elevation without refraction, negative at night; azimuth from 0 to 2 pi. From
        the triangle of pole, zenith and sun: Duffie and Beckman, Solar Engineering of
        Thermal Processes, equations 1.6.5 and 1.6.6 (from memory; checked against
        pvlib).
    """
    latitude = np.radians(latitude_deg)
    hour_angle = np.radians(15.0 * (np.asarray(solar_hours, dtype=np.float64) - 12.0))
    up = np.sin(latitude) * np.sin(declination_rad) + np.cos(latitude) * np.cos(
        declination_rad
    ) * np.cos(hour_angle)
    north = np.cos(latitude) * np.sin(declination_rad) - np.sin(latitude) * np.cos(
        declination_rad
    ) * np.cos(hour_angle)
    east = -np.cos(declination_rad) * np.sin(hour_angle)
    return (
        np.arcsin(np.clip(up, -1.0, 1.0)),
        np.asarray(np.mod(np.arctan2(east, north), 2 * np.pi)),
    )


def sun_path(latitude_deg: float, declination_rad: float) -> SunPath:
    """Return the sun of one day, from where it stands 5 degrees high to there again."""
    hours = np.arange(STEP_H / 2, 24.0, STEP_H)
    elevation, azimuth = sun_place_rad(latitude_deg, declination_rad, hours)
    is_up = elevation > LOW_SUN_RAD
    return SunPath(elevation[is_up], azimuth[is_up], STEP_H)


def midsummer_rad(latitude_deg: float) -> float:
    """Return the declination of the longest day on this half of the earth [rad]."""
    return float(np.copysign(OBLIQUITY_RAD, latitude_deg))
