"""What usual weather is worth: the mean over days that depart from it, not its own.

Usual weather is smooth: it has no cold spells to chill and no warm ones to grow in.
Whatever is not proportional to temperature comes out wrong on it: Seattle's smooth
normals have a third more chill hours than its winters had.
"""

from collections.abc import Callable

import numpy as np

from care.facts import Array, Flags

# Days depart from the usual by some three degrees: 2.7 in Seattle, 3.6 in New York
# (records of 2012-2015).
DEPARTURE_C = 3.0
# Gauss-Hermite quadrature of a normal distribution at three points.
DEPARTURES_C = (-DEPARTURE_C * 3**0.5, DEPARTURE_C * 3**0.5)
MIDDLE_WEIGHT = 2 / 3


def worth_with_departures(worth: Callable[[float], Array], is_usual: Flags) -> Array:
    """Return the worth of days, of the usual ones as the mean over their departures.

    Parameters
    ----------
    worth : callable
        Worth of each day, shape (..., days), if all were warmer by so much [degC].
    is_usual : bool array, shape (days,)
        Which days stand for the usual weather of their date.

    Returns
    -------
    array, shape (..., days)
    """
    plain = worth(0.0)
    if not np.any(is_usual):
        return plain
    apart = sum(worth(departure) for departure in DEPARTURES_C) / len(DEPARTURES_C)
    mean = MIDDLE_WEIGHT * plain + (1 - MIDDLE_WEIGHT) * apart
    return np.asarray(np.where(is_usual, mean, plain))
