"""Published nitrogen for blueberries and grapes."""

from care.science.kitchen_measures import CUP_ML, PUBLISHED_DENSITY_G_PER_ML, SPOON_ML
from care.science.ladder_sources import POUND_G, Ladder

TEN = 0.10  # nitrogen in 10-10-10
EVERY_DAYS = 42  # both young blueberries and young vines: every six weeks
# Pounds of 10-10-10 a part, and parts: a quarter every six weeks, March to mid-June;
# half in March, May and June.
GRAPE_YOUNG_LB = {1: (0.25, 3), 2: (0.50, 3)}
GRAPE_GROWN_LB = (2.0, 3.0)  # one to two in March and one in mid-June
BLUEBERRY_SPOONS = {1: 1, 2: 2}  # tablespoons a part
BLUEBERRY_PARTS = 3  # first full leaf in April, then every six weeks to early July
YOUNG_YEARS = 2


def north_carolina_blueberry(year: int) -> Ladder:
    """Return NC Extension's nitrogen for a blueberry in its ``year``-th year.

    A tablespoon of 10-10-10 at first full leaf and every six weeks to early July, two
    in the second year; a grown bush a cup at the start of growth. The weight of a
    spoon is UGA's: a pint weighs about a pound.
    """
    if year > YOUNG_YEARS:
        grams = CUP_ML * PUBLISHED_DENSITY_G_PER_ML * TEN
        return Ladder(grams, grams, 1, "nc_sylva")
    spoons = BLUEBERRY_PARTS * BLUEBERRY_SPOONS[max(year, 1)]
    grams = spoons * SPOON_ML * PUBLISHED_DENSITY_G_PER_ML * TEN
    return Ladder(grams, grams, BLUEBERRY_PARTS, "nc_sylva")


def north_carolina_grape(year: int) -> Ladder:
    """Return NC Extension's nitrogen for a grape vine in its ``year``-th year."""
    if year > YOUNG_YEARS:
        low, high = (pounds * POUND_G * TEN for pounds in GRAPE_GROWN_LB)
        return Ladder(low, high, 2, "nc_sylva")
    pounds, parts = GRAPE_YOUNG_LB[max(year, 1)]
    grams = pounds * parts * POUND_G * TEN
    return Ladder(grams, grams, parts, "nc_sylva")
