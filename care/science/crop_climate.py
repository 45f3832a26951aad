"""How wind, dry air, height and the plant's own leaves change a crop coefficient.

Table figures hold for a wind of 2 m/s and a driest humidity of 45 %; elsewhere a tall
crop draws more or less than the short grass it is compared with.
"""

import numpy as np

from care.facts import Array
from care.science.evapotranspiration import vapour_pressure_slope_kpa

TABLE_WIND_MS = 2.0
TABLE_HUMIDITY_PERCENT = 45.0
WIND_RANGE_MS = (1.0, 6.0)  # bounds of validity: FAO-56, Eq. 62
HUMIDITY_RANGE_PERCENT = (20.0, 80.0)
HEIGHT_RANGE_M = (0.1, 10.0)
LEAST_ADJUSTED_KC_END = 0.45  # below it the end is dry or leafless: FAO-56, Eq. 65
TALL_COVER_KCB = 1.2  # ceiling of Eq. 101
GRASS_RESISTANCE_S_M = 100.0  # of a leaf of the reference: FAO-56, chapter 9


def _climate_step(
    wind_ms: Array | float, humidity_min_percent: Array | float, height_m: float
) -> Array:
    wind = np.clip(np.asarray(wind_ms, dtype=np.float64), *WIND_RANGE_MS)
    humidity = np.clip(
        np.asarray(humidity_min_percent, dtype=np.float64), *HUMIDITY_RANGE_PERCENT
    )
    height = np.clip(height_m, *HEIGHT_RANGE_M)
    pull = 0.04 * (wind - TABLE_WIND_MS) - 0.004 * (humidity - TABLE_HUMIDITY_PERCENT)
    return np.asarray(pull * (height / 3) ** 0.3)


def climate_adjusted_kc_mid(
    table_kc: float,
    *,
    wind_ms: Array | float,
    humidity_min_percent: Array | float,
    height_m: float,
) -> Array:
    """Return the mid-season crop coefficient of a climate, Kc mid [-].

    Parameters
    ----------
    table_kc : float
        Of FAO-56 Table 12, or Kcb of Table 17.
    wind_ms, humidity_min_percent : arrays of one shape
        Means over the stage: wind at 2 m, held within 1-6 m/s, and each day's least
        humidity, held within 20-80 %.
    height_m : float
        Of the crop, held within 0.1-10 m.

    Returns
    -------
    array of that shape
        Source: Allen et al. (1998), FAO-56, Eq. 62 (Eq. 70 for Kcb).
    """
    return np.asarray(table_kc + _climate_step(wind_ms, humidity_min_percent, height_m))


def climate_adjusted_kc_end(
    table_kc: float,
    *,
    wind_ms: Array | float,
    humidity_min_percent: Array | float,
    height_m: float,
) -> Array:
    """Return the crop coefficient of a climate at the season's end, Kc end [-].

    As :func:`climate_adjusted_kc_mid`; a figure below 0.45 belongs to plants that
    have dried or dropped their leaves and stays as the table has it.
    Source: Allen et al. (1998), FAO-56, Eq. 65.
    """
    step = _climate_step(wind_ms, humidity_min_percent, height_m)
    if table_kc < LEAST_ADJUSTED_KC_END:
        return np.full_like(step, table_kc)
    return np.asarray(table_kc + step)


def full_cover_kcb(
    *,
    wind_ms: Array | float,
    humidity_min_percent: Array | float,
    height_m: float,
) -> Array:
    """Return the basal crop coefficient of plants that shade all ground, Kcb full [-].

    ``1 + 0.1 h``, at most 1.2, then by wind and humidity. For stands of more than
    500 m2; a single tree in the open can exceed it.
    Source: Allen et al. (1998), FAO-56, Eq. 99-101.
    """
    still = min(1 + 0.1 * height_m, TALL_COVER_KCB)
    return np.asarray(still + _climate_step(wind_ms, humidity_min_percent, height_m))


def stomatal_factor(
    *,
    leaf_resistance_s_m: float,
    temperature_c: Array | float,
    wind_ms: Array | float,
    psychrometric_kpa: float,
) -> Array:
    """Return the share that leaves with closer stomata than grass transpire, Fr [-].

    Parameters
    ----------
    leaf_resistance_s_m : float
        Of a leaf, 100 for grass and most annual crops.
    temperature_c, wind_ms : arrays of one shape
        Means of the stage.
    psychrometric_kpa : float
        Psychrometric constant of the place [kPa/degC].

    Returns
    -------
    array of that shape, 1 at 100 s/m
        Source: Allen et al. (1998), FAO-56, chapter 9, stomatal control.
    """
    slope = vapour_pressure_slope_kpa(temperature_c)
    drag = 0.34 * np.asarray(wind_ms, dtype=np.float64)
    share = leaf_resistance_s_m / GRASS_RESISTANCE_S_M
    return np.asarray(
        (slope + psychrometric_kpa * (1 + drag))
        / (slope + psychrometric_kpa * (1 + drag * share))
    )
