"""How large a plant is, as measured or else as guessed from what else is known."""

from datetime import date

from care.facts import Stock, TreeFacts
from care.science.canopy import (
    caliper_from_pot_mm,
    crown_from_caliper_m,
    grown_crown_width_m,
)
from care.science.establishment import ball_litres, caliper_mm
from care.science.planting import BARE_ROOT_HOLE_L
from care.science.potting import pot_litres as known_pot_litres
from care.science.rootstocks import grown_spread_m

USUAL_CROWN_M = 3.0  # a mature tree of which nothing is known
WIDEST_GUESS_M = 4.0  # garden trees are kept smaller than they could be; no source
SMALLEST_CROWN_M = 0.2


def crown_width_m(tree: TreeFacts, today: date) -> tuple[float, bool]:
    """Return a crown's width [m] and whether somebody measured it.

    Guessed from the trunk, else from the pot, else from the species on its rootstock.
    """
    if tree.crown_width_m is not None:
        return max(tree.crown_width_m, SMALLEST_CROWN_M), True
    if tree.caliper_mm is not None:
        return max(crown_from_caliper_m(tree.caliper_mm), SMALLEST_CROWN_M), False
    mature = grown_spread_m(tree.species, tree.rootstock)
    years = tree.years_since_planting(today)
    if tree.in_container:
        width = crown_from_caliper_m(caliper_from_pot_mm(pot_litres(tree)))
        return max(min(width, mature or width), SMALLEST_CROWN_M), False
    if years is None and tree.stock_litres is None:
        return min(mature or USUAL_CROWN_M, WIDEST_GUESS_M), False
    start = crown_from_caliper_m(caliper_mm(tree))
    width = grown_crown_width_m(start, mature, years or 0.0)
    return max(width, SMALLEST_CROWN_M), False


def pot_litres(tree: TreeFacts) -> float:
    """Return the true volume of a pot [L], 0 where neither it nor its width is known."""
    return known_pot_litres(tree) or 0.0


def rooted_litres(tree: TreeFacts) -> float:
    """Return the volume of the root ball a tree was planted with, or of its hole [L]."""
    if tree.stock is Stock.BARE_ROOT:
        # Bare roots are spread out in their hole, however small the bag they came in.
        return max(tree.stock_litres or 0.0, BARE_ROOT_HOLE_L)
    return ball_litres(tree)


def tree_height_m(tree: TreeFacts, crown_width_m: float) -> float:
    """Return a tree's height [m]; unmeasured, it is as high as wide (no source)."""
    return tree.height_m or crown_width_m
