"""Wind as it blows two metres above the ground, where it is reckoned with."""

import math

LOWEST_M, HIGHEST_M = 0.5, 100.0


def at_two_metres(wind_ms: float, height_m: float) -> float:
    """Return the wind speed at 2 m from one measured at another height [m/s].

    Over short grass: FAO-56 (Allen et al. 1998), equation 47. Below half a metre the
    logarithm no longer holds, so lower heights count as that.
    """
    height = min(max(height_m, LOWEST_M), HIGHEST_M)
    return wind_ms * 4.87 / math.log(67.8 * height - 5.42)
