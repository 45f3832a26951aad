"""How fast bare ground dries: at the sky's pace while wet, then ever more slowly."""

from dataclasses import dataclass

import numpy as np

from care.facts import Array


@dataclass(frozen=True, slots=True)
class DryingCourse:
    """A bare soil's surface, day by day; arrays of shape (days, ...)."""

    depletion_mm: Array  # of the surface layer, at the end of each day
    evaporation_coefficient: Array  # Ke
    evaporation_mm: Array  # over the whole floor


def evaporation_reduction(
    depletion_mm: Array | float, total_mm: Array | float, readily_mm: Array | float
) -> Array:
    """Return how far a drying surface holds its water back, Kr, 1 to 0 [-].

    Parameters
    ----------
    depletion_mm, total_mm, readily_mm : arrays of one shape
        Water missing from the surface layer, what can leave it at all, TEW, and what
        leaves it unhindered, REW.

    Returns
    -------
    array of that shape
        Source: Allen et al. (1998), FAO-56, Eq. 74.
    """
    total = np.asarray(total_mm, dtype=np.float64)
    span = total - np.asarray(readily_mm)
    left = total - np.asarray(depletion_mm)
    share = np.divide(left, span, out=np.zeros_like(left + span), where=span > 0)
    return np.asarray(np.clip(share, 0.0, 1.0))


def fold_drying(
    *,
    et0_mm: Array,
    kcb: Array,
    kc_max: Array,
    exposed_share: Array,
    total_mm: Array | float,
    readily_mm: Array | float,
    start_depletion_mm: Array | float = 0.0,
) -> DryingCourse:
    """Return how the surface dries over days without rain or watering.

    Parameters
    ----------
    et0_mm, kcb, kc_max : arrays (days, ...)
        Reference evapotranspiration, the plants' basal coefficient and the most that
        plants and ground can use together.
    exposed_share : array (days, ...)
        Of the ground: wetted and not shaded, few.
    total_mm, readily_mm : arrays (...)
        TEW and REW.
    start_depletion_mm : array (...)
        On the evening before the first day.

    Returns
    -------
    DryingCourse
        Source: Allen et al. (1998), FAO-56, Eq. 71, 74 and 77.
    """
    coefficient, dried, depletion = (np.zeros_like(et0_mm) for _ in range(3))
    missing = np.asarray(start_depletion_mm, dtype=np.float64)
    for day in range(len(et0_mm)):
        held = evaporation_reduction(missing, total_mm, readily_mm)
        open_to_the_sky = exposed_share[day] * kc_max[day]
        coefficient[day] = np.minimum(held * (kc_max[day] - kcb[day]), open_to_the_sky)
        leaving = coefficient[day] * et0_mm[day] / exposed_share[day]
        leaving = np.minimum(leaving, total_mm - missing)
        missing = missing + leaving
        dried[day] = exposed_share[day] * leaving
        depletion[day] = missing
    return DryingCourse(depletion, coefficient, dried)
