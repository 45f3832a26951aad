"""Grams of a dry product as cups and spoons, for want of a scale.

A cup says less than a scale: granules differ in weight, and a heaped cup from a level
one. Weigh the product once, or trust the rule of thumb to a quarter.
"""

from dataclasses import dataclass
from math import floor

from care.science.ladder_sources import POUND_G

# US customary measures, exact: 231 cubic inches make a gallon of 16 cups; NIST
# Handbook 44, appendix C.
CUP_ML = 231 * 2.54**3 / 16
SPOON_ML = CUP_ML / 16  # tablespoon
TEASPOON_ML = SPOON_ML / 3

# A pint of 10-10-10 weighs about a pound (UGA Extension, Colquitt County, 2024), and a
# pound of dry granules fills about two cups (Press-Telegram, 21 May 2020).
PUBLISHED_DENSITY_G_PER_ML = POUND_G / (2 * CUP_ML)
# A pound of ground sulfur fills 2.5 cups (Extension Foundation, blueberry community).
SULFUR_DENSITY_G_PER_ML = POUND_G / (2.5 * CUP_ML)


@dataclass(frozen=True, slots=True)
class KitchenMeasure:
    """A volume as a person scoops it: so many level cups or spoons, in quarters.

    ``unit`` is ``cup``, ``tablespoon`` or ``teaspoon``. ``volume_ml`` is not rounded.
    """

    volume_ml: float
    count: float
    unit: str


def kitchen_measure(mass_g: float, density_g_per_ml: float) -> KitchenMeasure:
    """Return a mass of dry product in the largest measure that it fills at least once.

    Parameters
    ----------
    mass_g : float
        Not negative.
    density_g_per_ml : float
        Of the product as it lies loose in a cup, above zero.

    Raises
    ------
    ValueError
        If the density is not above zero.
    """
    if not density_g_per_ml > 0:
        message = f"not a density: {density_g_per_ml}"
        raise ValueError(message)
    volume_ml = mass_g / density_g_per_ml
    for unit, size_ml in (("cup", CUP_ML), ("tablespoon", SPOON_ML)):
        if volume_ml >= size_ml * (1 - 1e-9):
            return KitchenMeasure(volume_ml, _quarters(volume_ml / size_ml), unit)
    return KitchenMeasure(volume_ml, _quarters(volume_ml / TEASPOON_ML), "teaspoon")


def _quarters(count: float) -> float:
    """Round down to quarters: a measure that errs should err on the small side."""
    return floor(4 * count + 1e-9) / 4
