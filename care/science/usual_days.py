"""What usual weather is worth: the mean over days that depart from it, not its own.

Usual weather is smooth: it has no cold spells to chill and no warm ones to grow in.
Whatever is not proportional to temperature comes out wrong on it: Seattle's smooth
normals have a third more chill hours than its winters had.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from care.facts import Array, Flags

Places = NDArray[np.intp]

# Days depart from the usual by some three degrees: 2.7 in Seattle, 3.6 in New York
# (records of 2012-2015).
DEPARTURE_C = 3.0
# Gauss-Hermite quadrature of a normal distribution at three points.
DEPARTURES_C = (-DEPARTURE_C * 3**0.5, DEPARTURE_C * 3**0.5)
MIDDLE_WEIGHT = 2 / 3


def worth_with_departures(
    worth: Callable[[Places, float], Array], is_usual: Flags
) -> Array:
    """Return the worth of days, of the usual ones as the mean over their departures.

    Parameters
    ----------
    worth : callable
        Worth of the days at some places, shape (..., places), if all were warmer by so
        much [degC].
    is_usual : bool array, shape (days,)
        Which days stand for the usual weather of their date.

    Returns
    -------
    array, shape (..., days)
        Only the days from the first usual one to the last are reckoned again, with
        their neighbours.
    """
    days = np.arange(len(is_usual))
    plain = worth(days, 0.0)
    usual = np.flatnonzero(is_usual)
    if not usual.size:
        return plain
    span = days[max(int(usual[0]) - 1, 0) : int(usual[-1]) + 2]
    apart = sum(worth(span, departure) for departure in DEPARTURES_C)
    mean = MIDDLE_WEIGHT * plain[..., span] + (1 - MIDDLE_WEIGHT) / 2 * apart
    found = plain.copy()
    found[..., span] = np.where(is_usual[span], mean, plain[..., span])
    return found
