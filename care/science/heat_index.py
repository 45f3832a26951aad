"""How hot a day feels to people at work: the heat index, and what it asks for."""

from enum import IntEnum
from math import sqrt

from care.science.evapotranspiration import saturation_vapour_pressure_kpa

# Rothfusz (1990), NWS Technical Attachment SR 90-23, as the Weather Prediction Center
# prints it: degF and per cent.
FULL_FROM_F = 80.0
DRY_PERCENT, DRY_FROM_F, DRY_TO_F = 13.0, 80.0, 112.0
DAMP_PERCENT, DAMP_FROM_F, DAMP_TO_F = 85.0, 80.0, 87.0


class HeatRisk(IntEnum):
    """OSHA, Using the heat index: a guide for employers; least index of each [degF]."""

    LOWER = 0
    MODERATE = 91
    HIGH = 103
    VERY_HIGH = 115  # above it


def heat_index_c(temperature_c: float, humidity_percent: float) -> float:
    """Return the heat index in the shade [degC]; full sun adds up to 8 degrees.

    Parameters
    ----------
    temperature_c : float
        Of the air [degC].
    humidity_percent : float
        Relative, 0 to 100.

    Returns
    -------
    float
        Source: Rothfusz (1990), NWS SR 90-23, with the two adjustments and the simple
        formula below 80 degF of the Weather Prediction Center.
    """
    degrees, humidity = temperature_c * 9 / 5 + 32, humidity_percent
    simple = 0.5 * (degrees + 61 + (degrees - 68) * 1.2 + humidity * 0.094)
    mild = (simple + degrees) / 2
    index = mild if mild < FULL_FROM_F else _full_f(degrees, humidity)
    return (index - 32) * 5 / 9


def _full_f(degrees: float, humidity: float) -> float:
    index = (
        -42.379
        + 2.04901523 * degrees
        + 10.14333127 * humidity
        - 0.22475541 * degrees * humidity
        - 0.00683783 * degrees**2
        - 0.05481717 * humidity**2
        + 0.00122874 * degrees**2 * humidity
        + 0.00085282 * degrees * humidity**2
        - 0.00000199 * degrees**2 * humidity**2
    )
    if humidity < DRY_PERCENT and DRY_FROM_F <= degrees <= DRY_TO_F:
        return index - (DRY_PERCENT - humidity) / 4 * sqrt(
            (17 - abs(degrees - 95)) / 17
        )
    if humidity > DAMP_PERCENT and DAMP_FROM_F <= degrees <= DAMP_TO_F:
        return index + (humidity - DAMP_PERCENT) / 10 * (DAMP_TO_F - degrees) / 5
    return index


def humidity_at_percent(
    temperature_c: float, minimum_c: float, maximum_c: float, mean_percent: float
) -> float:
    """Return the relative humidity at a moment of a day of known mean humidity [%].

    The vapour in the air is taken for the same all day.

    Parameters
    ----------
    temperature_c : float
        Of the moment [degC].
    minimum_c, maximum_c : float
        Of the day [degC].
    mean_percent : float
        The day's mean relative humidity.

    Returns
    -------
    float
        At most 100. Source: Allen et al. (1998), FAO-56, Eq. 10, 12 and 19.
    """
    at_low, at_high, now = (
        float(saturation_vapour_pressure_kpa(each))
        for each in (minimum_c, maximum_c, temperature_c)
    )
    vapour_kpa = mean_percent / 100 * (at_low + at_high) / 2
    return min(100.0, 100 * vapour_kpa / now)


def heat_risk(index_c: float) -> HeatRisk:
    """Return the band of a heat index [degC] in OSHA's guide."""
    index_f = index_c * 9 / 5 + 32
    if index_f > HeatRisk.VERY_HIGH:
        return HeatRisk.VERY_HIGH
    if index_f >= HeatRisk.HIGH:
        return HeatRisk.HIGH
    return HeatRisk.MODERATE if index_f >= HeatRisk.MODERATE else HeatRisk.LOWER
