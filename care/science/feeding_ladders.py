"""Published nitrogen ladders, to stand beside a computed amount as a yardstick."""

from dataclasses import dataclass

POUND_G = 453.59237
SQUARE_FOOT_M2 = 0.09290304
FOOT_M = 0.3048

LADDER_SOURCES = {
    "florida_citrus": "UF/IFAS HS132, citrus culture in the home landscape",
    "california_citrus": "UC IPM, fertilizing citrus",
    "pennsylvania_stone": "Penn State Extension, stone fruit nutrition",
    "north_carolina_tree": "NC State Extension, fruit tree fertilizer",
    "louisiana_fig": "LSU AgCenter, figs",
    "georgia_fig": "UGA Extension, how to fertilize figs (2024)",
}

# Pounds of nitrogen a tree and year, and applications, by year since planting.
FLORIDA_CITRUS_LB = {
    1: (0.15, 0.30, 6),
    2: (0.30, 0.60, 5),
    3: (0.45, 0.90, 4),
    4: (0.80, 1.00, 3),
    5: (1.10, 1.40, 3),
}
CALIFORNIA_CITRUS_LB = {2: 0.25, 3: 0.50, 4: 0.75, 5: 1.0}
# University of Arizona AZ1671 (2015), as shares of the orange's amount.
ARIZONA_SHARE = {"grapefruit": 0.5, "pummelo": 0.5, "lemon": 1.1, "lime": 1.1}

PENNSYLVANIA_STEP_LB, PENNSYLVANIA_CAP_LB = 0.5, 5.0  # of 10-10-10
NORTH_CAROLINA_LB_PER_YEAR = (0.75, 1.0)  # of 10-10-10
LOUISIANA_FIG_CAP_LB = 10.0  # of 8-8-8, one pound a year of age
WIDE_FIG_SPACING_M = 20 * FOOT_M


@dataclass(frozen=True, slots=True)
class Ladder:
    """A published range of nitrogen for one plant and year."""

    low_g: float
    high_g: float
    applications: int | None
    source: str


def florida_citrus(year: int) -> Ladder:
    """Return the UF/IFAS range for citrus in its ``year``-th year (from 1).

    UF/IFAS "Citrus culture in the home landscape" (EDIS HS132), as printed by
    Badurek, UF/IFAS Pinellas.
    """
    low, high, times = FLORIDA_CITRUS_LB[min(max(year, 1), 5)]
    return Ladder(low * POUND_G, high * POUND_G, times, "florida_citrus")


def california_citrus_nitrogen_g(year: int) -> float | None:
    """Return UC IPM's nitrogen for citrus from the second year on, else ``None``."""
    pounds = CALIFORNIA_CITRUS_LB.get(min(year, 5))
    return None if pounds is None else pounds * POUND_G


def arizona_share(species_key: str) -> float:
    """Return a citrus species' amount as a share of the orange's (AZ1671, 2015)."""
    return ARIZONA_SHARE.get(species_key, 1.0)


def pennsylvania_stone_product_g(step: int) -> float:
    """Return grams of 10-10-10 for stone fruit, ``step`` feedings after planting.

    Half a pound, half a pound more each year, at most five (Penn State Extension).
    """
    return min(PENNSYLVANIA_STEP_LB * step, PENNSYLVANIA_CAP_LB) * POUND_G


def north_carolina_tree_product_g(age: int) -> tuple[float, float]:
    """Return grams of 10-10-10 for a fruit tree of an age, low and high (NC State)."""
    low, high = NORTH_CAROLINA_LB_PER_YEAR
    return low * age * POUND_G, high * age * POUND_G


def louisiana_fig_product_g(age: int) -> float:
    """Return grams of 8-8-8 for a fig of an age: a pound a year, at most ten (LSU)."""
    return min(float(age), LOUISIANA_FIG_CAP_LB) * POUND_G


def georgia_fig_product_g(height_m: float, spacing_m: float) -> float:
    """Return grams of 8-8-8 or 10-10-10 for a fig from its sixth year.

    Half a pound a foot of height (at most five) at 10 ft spacing, one pound (at most
    ten) at 20 ft (UGA Extension, 2024); the closer spacing's rate below 20 ft.
    """
    rate, cap = (1.0, 10.0) if spacing_m >= WIDE_FIG_SPACING_M - 1e-6 else (0.5, 5.0)
    return min(rate * height_m / FOOT_M, cap) * POUND_G


def yardstick(
    species_key: str,
    feed_group: str,
    year: int,
    *,
    height_m: float | None = None,
    spacing_m: float | None = None,
) -> Ladder | None:
    """Return the published range to set beside an amount, if there is one.

    Parameters
    ----------
    year : int
        Year since planting, from 1.
    height_m, spacing_m : float or None
        Used for figs from their sixth year.
    """
    if feed_group == "citrus":
        range_ = florida_citrus(year)
        share = arizona_share(species_key)
        return Ladder(
            range_.low_g * share,
            range_.high_g * share,
            range_.applications,
            range_.source,
        )
    if feed_group == "stone":
        amount = pennsylvania_stone_product_g(year) * 0.10
        return Ladder(amount, amount, None, "pennsylvania_stone")
    if feed_group == "pome":
        low, high = north_carolina_tree_product_g(year)
        return Ladder(low * 0.10, high * 0.10, None, "north_carolina_tree")
    return _fig(year, height_m, spacing_m) if species_key == "fig" else None


def _fig(year: int, height_m: float | None, spacing_m: float | None) -> Ladder:
    if year > 5 and height_m is not None and spacing_m is not None:  # noqa: PLR2004 - UGA
        amount = georgia_fig_product_g(height_m, spacing_m) * 0.08
        return Ladder(amount, amount, 1, "georgia_fig")
    amount = louisiana_fig_product_g(year) * 0.08
    return Ladder(amount, amount, 1, "louisiana_fig")


# Tennessee: pounds of sulfur for 1000 square feet of silt loam and 0.1 of pH.
SULFUR_LB = 2.0
SULFUR_TEXTURE = {"silt": 1.0, "clay": 4 / 3, "sand": 2 / 3}
# Around planted bushes, a year (Extension blueberry community: 0.7 lb/100 ft2).
PLANTED_SULFUR_LIMIT_G_PER_M2 = 0.7 * POUND_G / (100 * SQUARE_FOOT_M2)


def preplant_sulfur_g_per_m2(ph: float, target_ph: float, texture: str) -> float:
    """Return sulfur to mix into the soil well before planting acid-loving shrubs.

    Only before planting; around planted shrubs the surface limit is
    ``PLANTED_SULFUR_LIMIT_G_PER_M2`` a year, and none goes into pots.

    Parameters
    ----------
    ph, target_ph : float
        Measured and wanted; nothing is needed at or below the target.
    texture : str
        ``sand``, ``silt`` or ``clay``.

    Raises
    ------
    KeyError
        If the texture is not one of the three.

    Notes
    -----
    University of Tennessee, "Blueberries": 2 lb per 1000 ft2 and 0.1 pH on silt loam,
    four thirds of it on clay, two thirds on sand.
    """
    tenths = max(0.0, (ph - target_ph) * 10)
    pounds = SULFUR_LB * SULFUR_TEXTURE[texture] * tenths
    return pounds * POUND_G / (1000 * SQUARE_FOOT_M2)
