"""Published nitrogen for apples, pears, stone fruit and figs."""

from care.science.ladder_sources import FOOT_M, INCH_MM, OUNCE_G, POUND_G, Ladder

TEN = 0.10  # nitrogen in 10-10-10
EIGHT = 0.08  # in 8-8-8
TWENTY_ONE = 0.21  # in ammonium sulfate, 21-0-0

PENNSYLVANIA_STEP_LB, PENNSYLVANIA_CAP_LB = 0.5, 5.0  # of 10-10-10
NORTH_CAROLINA_LB_PER_YEAR = (0.75, 1.0)  # of 10-10-10
NEW_HAMPSHIRE_LB_PER_INCH = {"pome": 0.10, "stone": 0.125}  # of nitrogen
CALIFORNIA_MATURE_YEAR = 5
LOUISIANA_CAP_LB = 10.0  # of 8-8-8, one pound a year of age
WIDE_SPACING_M = 20 * FOOT_M
# Cups of 21-0-0 a part and parts a year, by year since planting.
TEXAS_APPLE_CUPS = {1: (1, 3), 2: (1, 4), 3: (2, 4), 4: (3, 4)}
TEXAS_CUP_G = POUND_G / 2  # a pound of dry granules fills about two cups
GEORGIA_YOUNG_OUNCES = {1: 1.5, 2: 3.0}  # a part, of 8-8-8, three parts
GEORGIA_LB_PER_FOOT = 1 / 3  # a part, third to fifth year
GEORGIA_PARTS = 3
GEORGIA_GROWN_YEAR = 6


def pennsylvania_stone_product_g(step: int) -> float:
    """Return grams of 10-10-10 for stone fruit, ``step`` feedings after planting.

    Half a pound, half a pound more each year, at most five (Penn State Extension,
    stone fruit nutrition).
    """
    return min(PENNSYLVANIA_STEP_LB * step, PENNSYLVANIA_CAP_LB) * POUND_G


def pennsylvania_stone(year: int) -> Ladder:
    """Return Penn State's nitrogen for stone fruit in its ``year``-th year."""
    amount = pennsylvania_stone_product_g(max(year, 1)) * TEN
    return Ladder(amount, amount, None, "psu_stone")


def north_carolina_product_g(age: int) -> tuple[float, float]:
    """Return grams of 10-10-10 for a fruit tree of an age, low and high (NC State)."""
    low, high = NORTH_CAROLINA_LB_PER_YEAR
    return low * age * POUND_G, high * age * POUND_G


def north_carolina_tree(age: int) -> Ladder:
    """Return NC State's nitrogen for a fruit tree of an age in years."""
    low, high = north_carolina_product_g(max(age, 1))
    return Ladder(low * TEN, high * TEN, 1, "ncsu_fert")


def new_hampshire_tree(feed_group: str, caliper_mm: float) -> Ladder | None:
    """Return UNH's nitrogen by the trunk's width a foot above ground.

    A tenth of a pound an inch for apple and pear, an eighth for stone fruit; ``None``
    for other groups.
    """
    rate = NEW_HAMPSHIRE_LB_PER_INCH.get(feed_group)
    if rate is None:
        return None
    amount = rate * caliper_mm / INCH_MM * POUND_G
    return Ladder(amount, amount, 1, "unh_trunk")


def california_mature(year: int) -> Ladder | None:
    """Return a pound of nitrogen in three parts from the fifth year on, else ``None``.

    UC Master Gardeners of San Diego County: any mature fruit tree, the parts six
    weeks apart from spring growth.
    """
    if year < CALIFORNIA_MATURE_YEAR:
        return None
    return Ladder(POUND_G, POUND_G, 3, "ucmg_san_diego")


def texas_apple(year: int) -> Ladder:
    """Return Texas A&M's nitrogen for a young apple, of cups of 21-0-0.

    One cup three times in the first year, only after six inches of growth, four times
    in the second; two and three cups four times in the third and fourth. The weight
    of a cup is a rule of thumb.
    """
    cups, times = TEXAS_APPLE_CUPS[min(max(year, 1), 4)]
    amount = cups * times * TEXAS_CUP_G * TWENTY_ONE
    return Ladder(amount, amount, times, "tamu_fruit")


def texas_peach() -> Ladder:
    """Return Texas A&M's nitrogen for a peach in its second year.

    One cup of 21-0-0 on the first of March, April, May and June.
    """
    amount = 4 * TEXAS_CUP_G * TWENTY_ONE
    return Ladder(amount, amount, 4, "tamu_fruit")


def louisiana_fig_product_g(age: int) -> float:
    """Return grams of 8-8-8 for a fig of an age: a pound a year, at most ten (LSU)."""
    return min(float(age), LOUISIANA_CAP_LB) * POUND_G


def louisiana_fig(age: int) -> Ladder:
    """Return LSU AgCenter's nitrogen for a fig of an age, in one part."""
    amount = louisiana_fig_product_g(max(age, 1)) * EIGHT
    return Ladder(amount, amount, 1, "lsu_fig")


def georgia_fig_product_g(height_m: float, spacing_m: float) -> float:
    """Return grams of 8-8-8 or 10-10-10 for a fig from its sixth year.

    Half a pound a foot of height (at most five) at 10 ft spacing, one pound (at most
    ten) at 20 ft (UGA Extension, 2024); the closer spacing's rate below 20 ft.
    """
    rate, cap = (1.0, 10.0) if spacing_m >= WIDE_SPACING_M - 1e-6 else (0.5, 5.0)
    return min(rate * height_m / FOOT_M, cap) * POUND_G


def georgia_young_fig_part_g(year: int, height_m: float) -> float:
    """Return grams of 8-8-8 for one of three parts, first to fifth year (UGA, 2024).

    An ounce and a half, then three ounces, then a third of a pound a foot of height.
    """
    ounces = GEORGIA_YOUNG_OUNCES.get(year)
    if ounces is not None:
        return ounces * OUNCE_G
    return GEORGIA_LB_PER_FOOT * height_m / FOOT_M * POUND_G


def georgia_fig(year: int, height_m: float, spacing_m: float) -> Ladder:
    """Return UGA's nitrogen for a fig, from 8-8-8 to 10-10-10."""
    if year < GEORGIA_GROWN_YEAR:
        product_g = GEORGIA_PARTS * georgia_young_fig_part_g(max(year, 1), height_m)
        return Ladder(product_g * EIGHT, product_g * TEN, GEORGIA_PARTS, "uga_fig")
    product_g = georgia_fig_product_g(height_m, spacing_m)
    return Ladder(product_g * EIGHT, product_g * TEN, 1, "uga_fig")
