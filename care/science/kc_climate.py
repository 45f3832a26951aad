"""Crop coefficients corrected for the place's wind and dry air.

The table's figures stand for a sub-humid climate of light wind: 2 m/s, and 45 % of
relative humidity in the driest hour.
"""

import numpy as np

from care.facts import Array
from care.science.evapotranspiration import (
    saturation_vapour_pressure_kpa,
    vapour_pressure_from_mean_humidity_kpa,
)

STANDARD_WIND_MS = 2.0
STANDARD_HUMIDITY_PERCENT = 45.0
WIND_RANGE_MS = (1.0, 6.0)  # in which Eq. 62 and 65 hold
HUMIDITY_RANGE_PERCENT = (20.0, 80.0)
HEIGHT_RANGE_M = (0.1, 10.0)
LEAST_KC_END = 0.45  # below it a crop has dried on the field and wind takes no more


def minimum_humidity_percent(
    tmin_c: Array, tmax_c: Array, humidity_percent: Array
) -> Array:
    """Return the relative humidity of a day's warmest hour [%].

    Parameters
    ----------
    tmin_c, tmax_c, humidity_percent : arrays, one shape
        Daily minimum and maximum, and the day's mean relative humidity.

    Returns
    -------
    array of that shape; NaN where an input is NaN
        Source: Allen et al. (1998), FAO-56, Eq. 19 for the vapour in the air and
        Eq. 63 for what share of the possible it is at noon.
    """
    held = vapour_pressure_from_mean_humidity_kpa(
        tmin_c=tmin_c, tmax_c=tmax_c, humidity_percent=humidity_percent
    )
    return np.asarray(100 * held / saturation_vapour_pressure_kpa(tmax_c))


def climate_term(wind_ms: Array | float, humidity_percent: Array | float) -> Array:
    """Return the bracket of Eq. 62, which the crop's height scales [-].

    Parameters
    ----------
    wind_ms, humidity_percent : arrays, one shape
        Means of a stage: wind at 2 m, and minimum relative humidity. Taken into
        1-6 m/s and 20-80 %, where the equation holds.

    Returns
    -------
    array of that shape
        ``0.04 (u2 - 2) - 0.004 (RHmin - 45)``. Source: FAO-56, Eq. 62.
    """
    wind = np.clip(wind_ms, *WIND_RANGE_MS)
    humidity = np.clip(humidity_percent, *HUMIDITY_RANGE_PERCENT)
    windy = 0.04 * (wind - STANDARD_WIND_MS)
    return np.asarray(windy - 0.004 * (humidity - STANDARD_HUMIDITY_PERCENT))


def climate_adjusted_kc(
    table_kc: Array | float, term: Array | float, height_m: Array | float
) -> Array:
    """Return a middle or late crop coefficient for the place's climate [-].

    Parameters
    ----------
    table_kc, term, height_m : arrays that broadcast
        The table's figure, :func:`climate_term` of its stage, and the mean height of
        the crop, taken into 0.1-10 m.

    Returns
    -------
    array, not below zero
        ``Kc + term (h / 3)^0.3``; a figure below 0.45 is left as it is.
        Source: FAO-56, Eq. 62 and 65.
    """
    height = np.clip(height_m, *HEIGHT_RANGE_M)
    kc = np.asarray(table_kc, dtype=np.float64)
    moved = np.maximum(kc + np.asarray(term) * (height / 3) ** 0.3, 0.0)
    return np.asarray(np.where(kc < LEAST_KC_END, kc, moved))
