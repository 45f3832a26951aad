"""What placing looks at: trees to place, what stands, how near is too near or a cost.

Arrays list the trees to be placed first, then what stands. All points are in the frame
of the ground, whose second axis points to the pole.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt
import shapely

from care.facts import Array, LayoutFacts, PlantFacts
from care.science.cross_pollination import Flowers, Match, judge, own_flowers
from care.science.placing_points import (
    ROUNDING_M,
    Frame,
    edges_of,
    grid,
    poleward,
    rotated,
)
from care.science.placing_room import Room
from care.science.pollination_kinds import NEAR_M
from care.science.pollination_need import Need, figure_of
from care.science.spacing import apart_m, grown_spread_m

#: Weights of the three costs (common practice, no source): a partner out of reach
#: weighs more than some shade or some crowding.
PARTNER, SHADE, CROWDING = 2.0, 1.0, 1.0
#: What sets alone gains less from a partner than what needs one.
_WEIGHTS = {Need.PARTNER: 1.0, Need.BETTER_WITH: 0.5}
#: A crown's shade counts over twice its height [-]; a difference of so much counts
#: one whole [m].
SHADE_HEIGHTS, SHADE_WHOLE_M = 2.0, 5.0


#: Nothing is nearer or lower than this: it is divided by [m].
LEAST_M = 0.01


Ints = npt.NDArray[np.int64]
Mask = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Place:
    """Where one tree may go: its area, grown by a rounding, points and edges of it."""

    area: shapely.Geometry
    points_m: Array
    edges_m: Array

    @property
    def middle_m(self) -> Array:
        """The middle of the box around it."""
        corners = self.edges_m[:, 0]
        return np.asarray((corners.min(axis=0) + corners.max(axis=0)) / 2)


@dataclass(frozen=True, slots=True)
class Scene:
    """Trees to place and what stands; ``n`` of the first among ``total`` of both."""

    n: int
    least_m: Array  # (n, total)
    recommended_m: Array  # (n, total)
    roomy_m: Array  # (n, total), where grown crowns do not meet either
    heights_m: Array  # (total,)
    mates: Mask  # (total, total), whether the second gives the first pollen
    weights: Array  # (total,), how much the lack of a partner weighs
    standing_m: Array  # (total - n, 2)
    pole: Array  # (2,)
    frame: Frame

    def needed_m(self, ease: float) -> Array:
        """Return how far apart two go: from the least (0) to the recommended (1)."""
        return np.asarray(self.least_m + ease * (self.recommended_m - self.least_m))

    def costs(self, index: int, points_m: Array, places_m: Array) -> Array:
        """Return what it costs to have a tree at each of some points, shape (k,).

        ``places_m`` (total, 2) are the places of all, not a number for those without.
        """
        others = ~np.isnan(places_m[:, 0])
        others[index] = False
        if not others.any():
            return np.zeros(len(points_m))
        towards = places_m[None, others] - points_m[:, None]
        distances_m = lengths_m(towards)
        pairs = self._pairs(np.array([index]), _true(others), towards, distances_m)
        cost = self._partner(index, others, places_m, distances_m)
        return np.asarray(pairs.sum(axis=1) + cost)

    def _pairs(
        self, own: Ints, others: Ints, towards: Array, distances_m: Array
    ) -> Array:
        """Return crowding, and shade by the taller on the sunny side, of each pair.

        Rows are ``own`` trees, or points of one of them; columns the ``others``.
        """
        rows = own[:, None]
        crowding = _relu(1.0 - distances_m / self.roomy_m[rows, others])
        own_m, their_m = self.heights_m[rows], self.heights_m[others]
        up = (towards @ self.pole) / distances_m
        reach_m = SHADE_HEIGHTS * np.maximum(np.maximum(own_m, their_m), LEAST_M)
        near = _relu(1.0 - distances_m / reach_m)
        cast = _relu(own_m - their_m) * _relu(up) + _relu(their_m - own_m) * _relu(-up)
        return np.asarray(CROWDING * crowding + SHADE * cast * near / SHADE_WHOLE_M)

    def _partner(
        self, index: int, others: Mask, places_m: Array, distances_m: Array
    ) -> Array:
        """Return what its own lack costs, and that of those it gives pollen."""
        own = self.mates[index, others]
        nearest_m = distances_m[:, own].min(axis=1, initial=np.inf)
        cost = self.weights[index] * _beyond(nearest_m)
        given = _true(others & self.mates[:, index] & (self.weights > 0))
        columns = np.searchsorted(_true(others), given)
        rest_m = self._nearest_mates_m(given, places_m, [index])
        nearest_m = np.minimum(distances_m[:, columns], rest_m)
        cost = cost + (self.weights[given] * _beyond(nearest_m)).sum(axis=1)
        return np.asarray(PARTNER * cost)

    def _nearest_mates_m(
        self, of: Ints, places_m: Array, without: Sequence[int] = ()
    ) -> Array:
        """Return how far some trees' nearest partners are, some left out, shape (k,)."""
        apart_m = lengths_m(places_m[None] - places_m[of, None])
        is_mate = self.mates[of] & ~np.isnan(places_m[:, 0])
        is_mate[:, list(without)] = False
        nearest_m = np.where(is_mate, apart_m, np.inf).min(axis=1, initial=np.inf)
        return np.asarray(nearest_m)

    def total_cost(self, places_m: Array) -> float:
        """Return what a whole layout costs; trees without a place cost nothing here."""
        there = ~np.isnan(places_m[:, 0])
        own, others = _true(there[: self.n]), _true(there)
        lacks_m = self._nearest_mates_m(others, places_m)
        partner = PARTNER * (self.weights[others] * _beyond(lacks_m)).sum()
        towards = places_m[None, others] - places_m[own, None]
        pairs = self._pairs(own, others, towards, lengths_m(towards))
        once = own[:, None] < others[None]
        return float(partner + pairs[once].sum())


def lengths_m(towards: Array) -> Array:
    """Return the lengths of vectors (..., 2), never quite nought."""
    return np.asarray(np.maximum(np.hypot(towards[..., 0], towards[..., 1]), LEAST_M))


def _true(mask: Mask) -> Ints:
    return np.asarray(np.flatnonzero(mask), dtype=np.int64)


def _relu(values: Array) -> Array:
    return np.asarray(np.maximum(values, 0.0))


def _beyond(distances_m: Array) -> Array:
    """Return 0 within the good reach of pollen, up to 1 at twice that and beyond."""
    return np.asarray(np.clip(distances_m / NEAR_M - 1.0, 0.0, 1.0))


def scene_of(
    wanted: Sequence[PlantFacts],
    standing: Sequence[PlantFacts],
    layout: LayoutFacts,
    frame: Frame,
) -> Scene:
    """Return the scene of some trees to place among what stands with a place."""
    both = [*wanted, *standing]
    asked = [[apart_m(one, other) for other in both] for one in wanted]
    flowers = [own_flowers(plant) for plant in both]
    places = [plant.place_m or (0.0, 0.0) for plant in standing]
    spreads_m = np.array([grown_spread_m(plant) for plant in both])
    crowns_m = (spreads_m[: len(wanted), None] + spreads_m[None]) / 2
    shape = (len(wanted), len(both))
    recommended_m = np.reshape([[a.recommended_m for a in row] for row in asked], shape)
    pole = poleward(layout.latitude_deg, layout.up_bearing_deg)
    return Scene(
        n=len(wanted),
        least_m=np.reshape([[a.least_m for a in row] for row in asked], shape),
        recommended_m=recommended_m,
        roomy_m=np.maximum(np.maximum(recommended_m, crowns_m), LEAST_M),
        heights_m=np.array([plant.grown_height_m or 0.0 for plant in both]),
        mates=_mates(flowers),
        weights=np.array([_WEIGHTS.get(figure_of(plant).need, 0.0) for plant in both]),
        standing_m=frame.to_frame(np.reshape(np.array(places), (-1, 2))),
        pole=frame.to_frame(pole),
        frame=frame,
    )


def _mates(flowers: Sequence[Flowers]) -> Mask:
    """Return which plants of some give which others pollen, none to itself."""
    judged = cache(judge)
    gives = [[isinstance(judged(a, b), Match) for b in flowers] for a in flowers]
    mates = np.array(gives, dtype=np.bool_)
    np.fill_diagonal(mates, val=False)
    return mates


def places_of(rooms: Sequence[Room], frame: Frame) -> list[Place | None]:
    """Return where each tree may go, in the frame; ``None``: nowhere.

    Trees with the same room share one.
    """
    known: dict[bytes, Place] = {}
    found: list[Place | None] = []
    for room in rooms:
        if shapely.is_empty(room.area):
            found.append(None)
            continue
        key = shapely.to_wkb(room.area)
        if key not in known:
            area = rotated(room.area, frame)
            grown = shapely.buffer(area, ROUNDING_M, join_style="mitre")
            shapely.prepare(grown)
            known[key] = Place(grown, grid(area, len(rooms)), edges_of(area))
        found.append(known[key])
    return found
