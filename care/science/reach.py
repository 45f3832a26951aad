"""How high the work on a tree is, and who may do it."""

from datetime import date

from care.facts import TreeFacts

REACH_M = 2.0  # from the ground; common practice, no source
# Trees above 15-20 ft are for a professional (Oregon State University Extension in The
# Oregonian, 2011): from the lower bound a caution, from the upper one a stop.
CAREFUL_M = 4.57
STOP_M = 6.10
FRESH_YEARS = 2.0  # no fruit in the first year or two: it grows roots instead


def working_height_m(tree: TreeFacts, day: date) -> float:
    """Return how high a tree is, as measured or else as its kind grows [m].

    A pot or a fresh planting that nobody measured is within reach.
    """
    if tree.height_m is not None:
        return tree.height_m
    years = tree.years_since_planting(day)
    if tree.in_container or (years is not None and years < FRESH_YEARS):
        return 0.0
    return tree.species.mature_height_m or 0.0


def needs_professional(tree: TreeFacts) -> bool:
    """Return whether a tree was measured taller than helpers may work on."""
    return tree.height_m is not None and tree.height_m > STOP_M
