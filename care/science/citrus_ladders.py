"""Published nitrogen for citrus: Florida, California, Arizona."""

from care.science.ladder_sources import POUND_G, Ladder

# Pounds of nitrogen a tree and year, low and high, and parts, by year since planting.
FLORIDA_LB = {
    1: (0.15, 0.30, 6),
    2: (0.30, 0.60, 5),
    3: (0.45, 0.90, 4),
    4: (0.80, 1.00, 3),
    5: (1.10, 1.40, 3),
}
CALIFORNIA_LB = {2: 0.25, 3: 0.50, 4: 0.75, 5: 1.0}
# As shares of the orange's amount.
ARIZONA_SHARE = {"grapefruit": 0.5, "pummelo": 0.5, "lemon": 1.1, "lime": 1.1}
ARIZONA_PARTS = 3
LAST_STEP = 5


def florida_citrus(year: int) -> Ladder:
    """Return the UF/IFAS range for citrus in its ``year``-th year (from 1).

    UF/IFAS "Citrus culture in the home landscape" (EDIS HS132), as printed by
    Badurek, UF/IFAS Pinellas.
    """
    low, high, times = FLORIDA_LB[min(max(year, 1), LAST_STEP)]
    return Ladder(low * POUND_G, high * POUND_G, times, "uf_hs132_citrus")


def california_citrus(year: int) -> Ladder | None:
    """Return UC IPM's nitrogen for citrus from the second year on, else ``None``.

    UC IPM, "Fertilizing citrus": two or three parts; the first year is given in
    spoons of product and not in nitrogen.
    """
    pounds = CALIFORNIA_LB.get(min(year, LAST_STEP))
    if pounds is None:
        return None
    return Ladder(pounds * POUND_G, pounds * POUND_G, 3, "uc_ipm_citrus")


def arizona_share(species_key: str) -> float:
    """Return a citrus species' amount as a share of the orange's.

    University of Arizona AZ1671 (2015): grapefruit and pummelo half, lemons and limes
    a tenth more.
    """
    return ARIZONA_SHARE.get(species_key, 1.0)


def arizona_part_g(orange_year_g: float, species_key: str) -> float:
    """Return one of Arizona's three equal parts of a year (AZ1671, 2015).

    January-February, March-April and May-June.
    """
    return orange_year_g * arizona_share(species_key) / ARIZONA_PARTS
