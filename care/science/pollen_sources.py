"""Where the pollen of a place stands: like flowers together, the nearest of them found.

A large orchard holds many trees of few cultivars, so that each pair of cultivars is
judged once, and only distances are compared tree by tree.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property

import numpy as np
import numpy.typing as npt

from care.facts import PlantFacts, Point, Standing
from care.science.cross_pollination import Flowers, grafted_flowers, own_flowers
from care.science.pollination_kinds import ReachRule, cross

Floats = npt.NDArray[np.float64]


class Reach(IntEnum):
    """How a partner stands to a plant, worst first."""

    TOO_FAR = 0
    PERHAPS = 1
    FAR = 2
    NEAR = 3


@dataclass(frozen=True, slots=True)
class Spot:
    """One set of flowers where it is; ``distance_m`` stands in for no place."""

    ref: str
    name: str
    place_m: Point | None
    distance_m: float | None
    is_graft: bool


@dataclass(frozen=True, slots=True)
class Found:
    """The best placed of a crowd, ``distance_m`` away where that is known."""

    spot: Spot
    reach: Reach
    distance_m: float | None


@dataclass(eq=False)
class Crowd:
    """All that flower alike and stand alike (ours, wanted, a neighbour's)."""

    flowers: Flowers
    standing: Standing
    spots: list[Spot]

    @cached_property
    def places_m(self) -> Floats:
        """Return the places as an array (n, 2), not a number where unknown."""
        nowhere = (np.nan, np.nan)
        places = [spot.place_m or nowhere for spot in self.spots]
        return np.array(places, dtype=np.float64)

    @cached_property
    def refs(self) -> npt.NDArray[np.str_]:
        """Return whose each spot is."""
        return np.array([spot.ref for spot in self.spots])

    @cached_property
    def _given_m(self) -> Floats:
        given = [np.nan if s.distance_m is None else s.distance_m for s in self.spots]
        return np.array(given, dtype=np.float64)

    @cached_property
    def _is_graft(self) -> npt.NDArray[np.bool_]:
        return np.array([spot.is_graft for spot in self.spots], dtype=np.bool_)

    def distances_m(self, plant: PlantFacts) -> Floats:
        """Return how far each spot is from a plant; not a number where unknown."""
        distances_m = self._given_m
        if plant.place_m is not None:
            measured_m = np.hypot(*(self.places_m - np.array(plant.place_m)).T)
            distances_m = np.where(np.isnan(measured_m), distances_m, measured_m)
        return np.where(self.refs == plant.ref, 0.0, distances_m)

    def others(self, plant: PlantFacts) -> npt.NDArray[np.bool_]:
        """Return which spots are not the plant's own first flowers."""
        is_another: npt.NDArray[np.bool_] = self.refs != plant.ref
        return is_another | self._is_graft


def reaches(distances_m: Floats, rule: ReachRule) -> npt.NDArray[np.int8]:
    """Return the `Reach` of each distance; not a number is a distance nobody knows.

    Where no farthest distance is known, whatever is not near is perhaps.
    """
    unknown = np.isnan(distances_m)
    known_m = np.where(unknown, 0.0, distances_m)
    if rule.farthest_m is None:
        beyond = np.full(distances_m.shape, int(Reach.PERHAPS))
    else:
        is_far = known_m <= rule.farthest_m
        beyond = np.where(is_far, int(Reach.FAR), int(Reach.TOO_FAR))
    graded = np.where(known_m <= rule.near_m, int(Reach.NEAR), beyond)
    return np.where(unknown, int(Reach.PERHAPS), graded).astype(np.int8)


def nearest(crowd: Crowd, plant: PlantFacts, rule: ReachRule) -> Found | None:
    """Return the best placed of a crowd that is not the plant itself."""
    distances_m = crowd.distances_m(plant)
    graded = reaches(distances_m, rule)
    is_other = crowd.others(plant)
    if not is_other.any():
        return None
    best = graded[is_other].max()
    length_m = np.where(np.isnan(distances_m), np.inf, distances_m)
    order = np.where(is_other & (graded == best), length_m, np.inf)
    allowed = np.flatnonzero(is_other & (graded == best))
    index = int(allowed[np.argmin(order[allowed])])
    length = distances_m[index]
    known = None if np.isnan(length) else float(length)
    return Found(crowd.spots[index], Reach(int(best)), known)


def crowds_of(plants: Iterable[PlantFacts]) -> tuple[Crowd, ...]:
    """Return all flowers of some plants by what they are, in an order of their own.

    Neither the order of the plants nor that of their grafts changes it.
    """
    found: dict[tuple[str, ...], Crowd] = {}
    for plant in sorted(plants, key=lambda each: each.ref):
        flowers = [(own_flowers(plant), False)]
        flowers += [(graft, True) for graft in grafted_flowers(plant)]
        for each, is_graft in flowers:
            key = (*_signature(each), plant.standing)
            crowd = found.setdefault(key, Crowd(each, plant.standing, []))
            crowd.spots.append(
                Spot(plant.ref, plant.name, plant.place_m, plant.distance_m, is_graft)
            )
    return tuple(found[key] for key in sorted(found))


def _signature(flowers: Flowers) -> tuple[str, ...]:
    months = flowers.bloom_months
    return (
        flowers.species_key,
        flowers.identity,
        flowers.sex,
        f"{months.start_month}-{months.end_month}" if months else "",
    )


def crowds_by_species(crowds: Iterable[Crowd]) -> dict[str, list[Crowd]]:
    """Return crowds by the kind that may look at them: its own and what it knows of."""
    by_own: dict[str, list[Crowd]] = {}
    for crowd in crowds:
        by_own.setdefault(crowd.flowers.species_key, []).append(crowd)
    return {
        key: [
            crowd
            for other, some in by_own.items()
            if other == key or cross(key, other) is not None
            for crowd in some
        ]
        for key in by_own
    }
