"""Water in a pot: what it holds, what it must be given, what rain brings it."""

import numpy as np

from care.facts import Array

AVAILABLE_SHARE_MIX = (
    0.30  # of the volume; nursery guidance gives 0.25-0.35, from memory
)
AVAILABLE_SHARE_SOIL = 0.13  # garden soil in a pot, as a field-soil ball; no source
LEACHING_FRACTION = 0.15  # UF/IFAS EP529: drained over entered, not above
SALTY_LEACHING_FRACTION = 0.25  # with salty, hard or softened water; from memory
SHED_SHARE = 0.5  # of the rain a crown wider than its pot throws off; no source
SLENDERNESS = 0.85  # height of a pot over its width; no source


def pot_volume_litres(diameter_m: float) -> float:
    """Return a pot's usual volume from its width alone [L]; a guess, so ask instead.

    A straight-sided pot a little lower than wide.
    """
    return float(1000 * np.pi / 4 * diameter_m**3 * SLENDERNESS)


def pot_diameter_m(litres: float) -> float:
    """Return the width of a pot of usual shape [m]; the inverse of that."""
    return float((litres / 1000 / (np.pi / 4 * SLENDERNESS)) ** (1 / 3))


def container_capacity_l(
    volume_l: Array | float, available_share: Array | float = AVAILABLE_SHARE_MIX
) -> Array:
    """Return the water in a drained pot that a plant can take out [L].

    Parameters
    ----------
    volume_l, available_share : arrays of one shape
        True volume of the medium and the share of it that is available water.
    """
    return np.asarray(np.asarray(volume_l) * np.asarray(available_share))


def rain_catch_m2(pot_diameter: Array | float, crown_width: Array | float) -> Array:
    """Return the area over which a pot catches rain [m2].

    The whole of its mouth under a crown no wider than itself; half of it under a
    wider one, which sheds the rest. So a wet season does not water a big-crowned pot.
    Both widths in metres, one shape.
    """
    mouth = np.pi / 4 * np.asarray(pot_diameter, dtype=np.float64) ** 2
    is_open = np.asarray(crown_width) <= np.asarray(pot_diameter)
    return np.asarray(np.where(is_open, mouth, SHED_SHARE * mouth))
