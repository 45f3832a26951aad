"""How dry a spell is beside the same days of other years.

The standardized precipitation index says how many standard deviations of a normal
distribution the rain of some days lies from the usual: McKee, Doesken and Kleist
(1993), 8th Conference on Applied Climatology. Thirty years are asked for; with fewer
than twenty the tails are guesswork, and no index is given.
"""

from dataclasses import dataclass
from enum import StrEnum
from math import exp, lgamma, log
from statistics import NormalDist

import numpy as np

from care.facts import Array

LEAST_YEARS = 20  # ours; McKee and others advise thirty
# The fit says nothing beyond what comes once in a thousand years.
MOST_INDEX = 3.09
SMALLEST = 1e-14
LEAST_SPREAD = 1e-6  # of logarithms; years as alike as that are one year


class Wetness(StrEnum):
    """Classes of the index: McKee and others (1993), as the IRI data library has them.

    Moderate from 1, severe from 1.5, extreme from 2, on either side.
    """

    EXTREMELY_DRY = "extremely_dry"
    SEVERELY_DRY = "severely_dry"
    MODERATELY_DRY = "moderately_dry"
    NEAR_NORMAL = "near_normal"
    MODERATELY_WET = "moderately_wet"
    SEVERELY_WET = "severely_wet"
    EXTREMELY_WET = "extremely_wet"


@dataclass(frozen=True, slots=True)
class GammaFit:
    """A gamma distribution of rain, and the share of years that had none."""

    shape: float
    scale_mm: float
    dry_share: float

    def probability(self, rain_mm: float) -> float:
        """Return the share of years with no more rain than this."""
        if rain_mm <= 0:
            return self.dry_share
        wet = gamma_share(self.shape, rain_mm / self.scale_mm)
        return self.dry_share + (1 - self.dry_share) * wet


def fit_gamma(totals_mm: Array) -> GammaFit | None:
    """Return the distribution of the same days' rain over years.

    Parameters
    ----------
    totals_mm : array, shape (years,)
        Rain of the same days of each year.

    Returns
    -------
    GammaFit or None
        ``None`` where fewer than two years were wet, or all wet years alike.
        Source: Thom (1958), Mon. Weather Rev. 86:117-122, maximum likelihood
        approximated.
    """
    totals = np.asarray(totals_mm, dtype=np.float64)
    wet = totals[totals > 0]
    if wet.size <= 1:
        return None
    mean = float(wet.mean())
    spread = log(mean) - float(np.log(wet).mean())
    if spread < LEAST_SPREAD:
        return None
    shape = (1 + (1 + 4 * spread / 3) ** 0.5) / (4 * spread)
    return GammaFit(shape, mean / shape, 1 - wet.size / totals.size)


def standardized_precipitation(rain_mm: float, totals_mm: Array) -> float | None:
    """Return the standardized precipitation index of some days' rain.

    Parameters
    ----------
    rain_mm : float
        Of the days in question.
    totals_mm : array, shape (years,)
        Rain of the same days of each year on record.

    Returns
    -------
    float or None
        Between -3.09 and 3.09; ``None`` with fewer than twenty years, or where the
        years cannot be fitted, as in a season that is always dry.
    """
    fit = fit_gamma(totals_mm)
    if fit is None or np.size(totals_mm) < LEAST_YEARS:
        return None
    probability = fit.probability(rain_mm)
    least = NormalDist().cdf(-MOST_INDEX)
    return NormalDist().inv_cdf(min(max(probability, least), 1 - least))


def wetness(index: float) -> Wetness:
    """Return the class of an index; the bounds 1, 1.5 and 2 belong to the worse."""
    wet = (Wetness.MODERATELY_WET, Wetness.SEVERELY_WET, Wetness.EXTREMELY_WET)
    dry = (Wetness.MODERATELY_DRY, Wetness.SEVERELY_DRY, Wetness.EXTREMELY_DRY)
    steps = sum(abs(index) >= bound for bound in (1.0, 1.5, 2.0))
    if not steps:
        return Wetness.NEAR_NORMAL
    return (wet if index > 0 else dry)[steps - 1]


def gamma_share(shape: float, value: float) -> float:
    """Return the share of a gamma distribution of scale 1 that lies below a value.

    Parameters
    ----------
    shape : float
        Above 0.
    value : float
        At least 0.

    Notes
    -----
    The regularized lower incomplete gamma function: its power series below the
    distribution's bulk, its continued fraction above. Source: Abramowitz and Stegun
    (1964), Eq. 6.5.29 and 6.5.31.
    """
    if value <= 0:
        return 0.0
    front = exp(shape * log(value) - value - lgamma(shape))
    if value < shape + 1:
        return min(front * _series(shape, value), 1.0)
    return max(1 - front * _fraction(shape, value), 0.0)


def _series(shape: float, value: float) -> float:
    term = total = 1 / shape
    step = 0
    while term >= total * SMALLEST:
        step += 1
        term *= value / (shape + step)
        total += term
    return total


def _fraction(shape: float, value: float) -> float:
    """Evaluate the continued fraction from the front, by Lentz's method."""
    below = value + 1 - shape
    above, over = 1 / SMALLEST**2, 1 / below
    total = over
    step, change = 0, 0.0
    while abs(change - 1) >= SMALLEST:
        step += 1
        part = -step * (step - shape)
        below += 2
        over = 1 / (part * over + below)
        above = below + part / above
        change = above * over
        total *= change
    return total
