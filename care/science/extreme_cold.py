"""How cold it gets at a place: extreme minima and the hardiness zone they make."""

from dataclasses import dataclass
from datetime import date, timedelta
from math import sqrt

import numpy as np

from care.facts import Array
from care.science.frost import hardiness_zone

NORMAL_YEARS = 30  # of the USDA map
MOST_MISSING_DAYS = 10  # in a year; ours
# Usual spread of annual extreme minima from year to year, 2-3 degC; from memory.
EXTREME_SPREAD_C = 2.5


def extreme_minima_c(start: date, tmin_c: Array, first_month: int) -> Array:
    """Return the lowest temperature of every full year of a record [degC].

    Parameters
    ----------
    start : datetime.date
        First day of the record.
    tmin_c : array, shape (days,)
        Daily minima [degC]; NaN where missing.
    first_month : int, 1-12
        In which a year begins: 7 in the north and 1 in the south keep a winter whole.

    Returns
    -------
    array, shape (years,)
        Years with more than ten days missing are left out.
    """
    tmin = np.asarray(tmin_c, dtype=np.float64)
    end = start + timedelta(days=len(tmin) - 1)
    lowest = []
    for year in range(start.year - 1, end.year + 1):
        first, following = date(year, first_month, 1), date(year + 1, first_month, 1)
        place = max((first - start).days, 0)
        within = tmin[place : max((following - start).days, 0)]
        known = int(np.sum(~np.isnan(within)))
        if (following - first).days - known <= MOST_MISSING_DAYS:
            lowest.append(float(np.nanmin(within)))
    return np.asarray(lowest)


@dataclass(frozen=True, slots=True)
class ZoneEstimate:
    """A hardiness zone from extreme minima, and the zones it could as well be."""

    zone: str
    colder_zone: str
    warmer_zone: str
    mean_c: float
    years: int

    @property
    def is_indicative(self) -> bool:
        """Whether there are fewer years than the USDA map is made of."""
        return self.years < NORMAL_YEARS


def estimate_zone(minima_c: Array) -> ZoneEstimate | None:
    """Return the hardiness zone of annual extreme minima, or ``None`` for none.

    The range is two standard errors of the mean to either side, from the usual spread
    of such minima: four years leave a half zone open.

    Parameters
    ----------
    minima_c : array, shape (years,)
        Of :func:`extreme_minima_c`.
    """
    years = len(minima_c)
    if years == 0:
        return None
    mean_c = float(np.mean(minima_c))
    doubt_c = 2 * EXTREME_SPREAD_C / sqrt(years)
    return ZoneEstimate(
        zone=hardiness_zone(mean_c),
        colder_zone=hardiness_zone(mean_c - doubt_c),
        warmer_zone=hardiness_zone(mean_c + doubt_c),
        mean_c=mean_c,
        years=years,
    )
