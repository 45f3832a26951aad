"""How much a tree may bear, and how fast it is picked."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from care.facts import TreeFacts
from care.science.canopy import crown_area_m2

# 80 lb: a third to a half (from memory) of what pickers of apples and pears are paid
# for (Oregon State University Bulletin 420, read in a copy).
NOVICE_KG_PER_HOUR = 36.0
# Years from the first crop to the full one (common practice, no source).
FULL_AFTER_YEARS = 5.0
# In a pot: a third of what as wide a crown bears in the ground (common practice, no
# source) up to all of it (Myers 1992, Acta Hortic. 322:215-220; lower in pots of 30
# litres: Vizzotto et al. 1997, on peaches).
POT_SHARE = 1 / 3
LEARNED_CROPS = 3
LEARNED_BOUNDS = (0.5, 2.0)


@dataclass(frozen=True, slots=True)
class Expected:
    """A crop to expect [kg], from the share of a full one; ``basis`` is crown or age."""

    least_kg: float
    most_kg: float
    share: float
    basis: str


def learned_yield(expected_kg: float, crops_kg: Sequence[float]) -> float:
    """Return how many times what was expected a tree bore, as its pickings have it.

    The mean of up to three crops; 1 without any, and never below a half or above
    twice, for a season can fail and a picking go unlogged. Common practice, no source.
    """
    crops = list(crops_kg)[-LEARNED_CROPS:]
    if not crops or expected_kg <= 0:
        return 1.0
    return float(np.clip(np.mean(crops) / expected_kg, *LEARNED_BOUNDS))


def crown_share(tree: TreeFacts) -> float | None:
    """Return the part of an orchard tree's canopy that this one holds, 0-1."""
    width_m, mature_m = tree.crown_width_m, tree.species.mature_spread_m
    if width_m is None or not mature_m:
        return None
    share = crown_area_m2(width_m) / crown_area_m2(mature_m)
    return float(np.clip(share, 0.0, 1.0))


def age_share(tree: TreeFacts, day: date) -> float | None:
    """Return the part of a full crop a tree in the ground bears at its age, 0-1."""
    years, first = tree.years_since_planting(day), tree.species.years_to_first_crop
    if years is None or first is None or tree.in_container:
        return None
    share = (years - first + 1.0) / (FULL_AFTER_YEARS + 1.0)
    return float(np.clip(share, 0.0, 1.0))


def expected_crop(tree: TreeFacts, day: date) -> Expected | None:
    """Return what a tree may bear, by the crown it holds now or else by its age.

    The catalogue's figures are an orchard tree's. ``None`` where the species has no
    figure, and for a pot whose crown nobody measured.
    """
    full_kg = tree.species.yield_mature_kg
    by_crown, by_age = crown_share(tree), age_share(tree, day)
    share = by_age if by_crown is None else by_crown
    if full_kg is None or share is None:
        return None
    least = POT_SHARE if tree.in_container else 1.0
    basis = "age" if by_crown is None else "crown"
    return Expected(least * share * full_kg, share * full_kg, share, basis)
