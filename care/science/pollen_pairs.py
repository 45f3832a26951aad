"""Two partners of a plant without good pollen that are partners of each other."""

import numpy as np

from care.facts import PlantFacts, Standing
from care.science.cross_pollination import Match
from care.science.pollen_partners import Partner, partner_at
from care.science.pollen_sources import Crowd, Floats, Reach, reaches
from care.science.pollination_kinds import ReachRule

Reached = tuple[Crowd, Match]


def best_pair(
    plant: PlantFacts, one: Reached, other: Reached, rule: ReachRule
) -> tuple[int, Partner, Partner]:
    """Return the reach of the best two spots of two crowds, and these as partners."""
    (crowd, match), (its_crowd, its_match) = one, other
    first_m, second_m = crowd.distances_m(plant), its_crowd.distances_m(plant)
    first, second = reaches(first_m, rule), reaches(second_m, rule)
    grid = np.minimum(first[:, None], second[None, :])
    if Standing.NEIGHBOUR not in {crowd.standing, its_crowd.standing}:
        grid = np.minimum(grid, reaches(_between_m(crowd, its_crowd), rule))
    near, its_near = np.unravel_index(int(np.argmax(grid)), grid.shape)
    partners = [
        partner_at(
            each,
            each.spots[index],
            Reach(int(graded[index])),
            None if np.isnan(lengths_m[index]) else float(lengths_m[index]),
            its,
        )
        for each, index, graded, lengths_m, its in (
            (crowd, int(near), first, first_m, match),
            (its_crowd, int(its_near), second, second_m, its_match),
        )
    ]
    return int(grid.max()), partners[0], partners[1]


def _between_m(one: Crowd, other: Crowd) -> Floats:
    """Return the distances of two crowds' spots; nought within one plant."""
    apart = one.places_m[:, None, :] - other.places_m[None, :, :]
    is_one_plant = one.refs[:, None] == other.refs[None, :]
    return np.where(is_one_plant, 0.0, np.hypot(apart[..., 0], apart[..., 1]))
