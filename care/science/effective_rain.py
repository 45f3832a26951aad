"""How much of the rain counts: published rules, each for the time step it was made for.

A rule for months must not be fed days. Its curve bends because a month's rain comes
in storms, so thirty small steps of it are not one large one. The monthly rules of SCS
therefore take all twelve months and refuse anything else.
"""

import numpy as np

from care.facts import Array

NEGLIGIBLE_RAIN_SHARE = 0.2  # of ET0; FAO-56 p. 170
MM_PER_INCH = 25.4
MONTHS = 12
LINEAR_SCS_BEND_MM = 250.0
TRAINING_MANUAL_BEND_MM = 75.0


def counted_rain_mm(rain_mm: Array, et0_mm: Array) -> Array:
    """Return the rain that counts: a shower below a fifth of ET0 does not [mm/day].

    The rule of the daily balance, which itself lets drain what roots cannot hold.
    Arrays of one shape. Source: Allen et al. (1998), FAO-56, p. 170.
    """
    return np.asarray(np.where(rain_mm < NEGLIGIBLE_RAIN_SHARE * et0_mm, 0.0, rain_mm))


def landscape_rain_mm(day_mm: Array | float) -> Array:
    """Return the part of one day's rain that a planting can use [mm/day].

    Parameters
    ----------
    day_mm : array of any shape
        Rain of one day; NaN stays NaN.

    Returns
    -------
    array of the same shape
        Nothing of the first tenth of an inch, all of it up to one inch, two thirds of
        the second inch, nothing beyond. For a person who has no balance to let the
        surplus drain. Source: Texas A&M AgriLife Extension, daily rule.
    """
    inches = np.asarray(day_mm, dtype=np.float64) / MM_PER_INCH
    whole = np.clip(inches - 0.1, 0.0, 0.9)
    partly = 2 / 3 * np.clip(inches - 1.0, 0.0, 1.0)
    return np.asarray((whole + partly) * MM_PER_INCH)


def monthly_scs_rain_mm(
    month_mm: Array, crop_et_mm: Array, storage_mm: Array | float
) -> Array:
    """Return the effective rain of twelve months by soil and crop [mm/month].

    Parameters
    ----------
    month_mm, crop_et_mm : arrays (..., 12)
        Mean rain and crop evapotranspiration of each month.
    storage_mm : array that broadcasts to them
        Usable soil water: what an irrigation replaces.

    Returns
    -------
    array (..., 12)
        ``SF (0.70917 P^0.82416 - 0.11556) 10^(0.02426 ETc)`` in inches, within
        nothing and the lesser of P and ETc. Source: USDA-NRCS, National Engineering
        Handbook 623, chapter 2; its storage factor SF as a polynomial from memory.

    Raises
    ------
    ValueError
        If there are not twelve months.
    """
    rain = _months(month_mm) / MM_PER_INCH
    use = _months(crop_et_mm) / MM_PER_INCH
    d = np.asarray(storage_mm, dtype=np.float64) / MM_PER_INCH
    storage_factor = 0.531747 + 0.295164 * d - 0.057697 * d**2 + 0.003804 * d**3
    line = (0.70917 * rain**0.82416 - 0.11556) * 10 ** (0.02426 * use)
    most = np.minimum(rain, use)
    return np.asarray(np.clip(storage_factor * line, 0.0, most) * MM_PER_INCH)


def monthly_linear_scs_rain_mm(month_mm: Array) -> Array:
    """Return the effective rain of twelve months, whatever the soil [mm/month].

    Parameters
    ----------
    month_mm : array (..., 12)
        Mean rain of each month.

    Returns
    -------
    array (..., 12)
        ``P (125 - 0.2 P) / 125`` up to 250 mm, ``125 + 0.1 P`` above.
        Source: simplified SCS method as the R package FAO56 1.0 has it; its origin in
        FAO Irrigation and Drainage Paper 46 is from memory.

    Raises
    ------
    ValueError
        If there are not twelve months.
    """
    rain = _months(month_mm)
    curve = rain * (125 - 0.2 * rain) / 125
    return np.asarray(np.where(rain > LINEAR_SCS_BEND_MM, 125 + 0.1 * rain, curve))


def dependable_rain_mm(month_mm: Array) -> Array:
    """Return the part of a month's mean rain that roots can count on [mm/month].

    ``0.8 P - 25`` above 75 mm, ``0.6 P - 10`` below, never negative. For planning
    from monthly means only; daily rain has its own balance. Source: Brouwer and
    Heibloem (1986), FAO Irrigation Water Management Training Manual 3, from memory.
    """
    line = np.where(
        month_mm > TRAINING_MANUAL_BEND_MM, 0.8 * month_mm - 25.0, 0.6 * month_mm - 10.0
    )
    return np.asarray(np.maximum(line, 0.0))


def _months(values: Array) -> Array:
    months = np.asarray(values, dtype=np.float64)
    if months.ndim == 0 or months.shape[-1] != MONTHS:
        message = f"a monthly rule takes twelve months, never days: {months.shape}"
        raise ValueError(message)
    return months
