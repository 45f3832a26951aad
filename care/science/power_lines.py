"""How far to keep from a power line: the distance of those who are not qualified."""

import math

LOW_VOLTAGE_KV = 50.0  # to ground
FOOT_M, INCH_M = 0.3048, 0.0254
LEAST_M = 10 * FOOT_M
STEP_M, STEP_KV = 4 * INCH_M, 10.0


def minimum_distance_m(kv_to_ground: float) -> float:
    """Return how far a person, tool or branch stays from a live line [m].

    10 ft up to 50 kV to ground and 4 in more for every 10 kV, or part of it, above.
    Source: 29 CFR 1910.269, definition of line-clearance tree trimming (10 ft, and 4 in
    for every 10 kV over 50 kV); the part step rounded up.

    Parameters
    ----------
    kv_to_ground : float
        Voltage to ground [kV]; above 0. An unknown voltage has no distance: stop.

    Raises
    ------
    ValueError
        If the voltage is not positive.
    """
    if not kv_to_ground > 0:
        message = f"no voltage: {kv_to_ground}"
        raise ValueError(message)
    steps = math.ceil(max(kv_to_ground - LOW_VOLTAGE_KV, 0.0) / STEP_KV)
    return LEAST_M + steps * STEP_M
