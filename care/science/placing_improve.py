"""A layout made better: trees moved, exchanged, and squeezed in where one now fits."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from care.facts import Array
from care.science.placing_build import fitting
from care.science.placing_points import inside, touching
from care.science.placing_scene import Place, Scene

#: What a move must save at least, so that rounding moves nothing for ever.
WORTH_IT = 1e-6


@dataclass(slots=True)
class Steps:
    """How much work is left; a clock would make the answer differ by machine."""

    left: int

    def take(self, trees: int) -> bool:
        """Take one look at so many trees; whether there was that much left."""
        self.left -= trees
        return self.left >= 0


def improve(
    scene: Scene,
    rooms: Sequence[Place | None],
    places_m: Array,
    ease: float,
    steps: Steps,
) -> Array:
    """Return a layout that places no fewer trees and costs no more."""
    places_m = places_m.copy()
    needed_m = scene.needed_m(ease)
    has_changed = True
    while has_changed:  # each change saves something, and the steps run out
        moved = _move_each(scene, rooms, places_m, needed_m, steps)
        swapped = _swap_pairs(scene, rooms, places_m, needed_m, steps)
        has_changed = moved or swapped
    return places_m


def _move_each(
    scene: Scene,
    rooms: Sequence[Place | None],
    places_m: Array,
    needed_m: Array,
    steps: Steps,
) -> bool:
    """Move each tree to its cheapest point; put down those that had no place."""
    has_changed = False
    for index in range(scene.n):
        room = rooms[index]
        if room is None or not steps.take(scene.n):
            continue
        points_m = _points(index, room, places_m, needed_m)
        if not len(points_m):
            continue
        costs = scene.costs(index, points_m, places_m)
        best = int(np.argmin(costs))
        if _is_better(scene, index, float(costs[best]), places_m):
            places_m[index] = points_m[best]
            has_changed = True
    return has_changed


def _points(index: int, room: Place, places_m: Array, needed_m: Array) -> Array:
    others = ~np.isnan(places_m[:, 0])
    others[index] = False
    contacts_m = touching(places_m[others], needed_m[index, others], room.edges_m)
    in_room = inside(room.area, contacts_m)
    points_m = np.concatenate([room.points_m, contacts_m[in_room.astype(np.bool_)]])
    return fitting(index, points_m, places_m, needed_m)


def _is_better(scene: Scene, index: int, cost: float, places_m: Array) -> bool:
    if np.isnan(places_m[index, 0]):
        return True
    now = scene.costs(index, places_m[index : index + 1], places_m)
    return cost < float(now[0]) - WORTH_IT


def _swap_pairs(
    scene: Scene,
    rooms: Sequence[Place | None],
    places_m: Array,
    needed_m: Array,
    steps: Steps,
) -> bool:
    """Exchange two trees where both fit and the whole costs less."""
    has_changed = False
    cost = scene.total_cost(places_m)
    placed = [i for i in range(scene.n) if not np.isnan(places_m[i, 0])]
    for one, other in combinations(placed, 2):
        if not steps.take(scene.n):
            break
        swapped_m = places_m.copy()
        swapped_m[[one, other]] = places_m[[other, one]]
        if not _fits(one, rooms, swapped_m, needed_m):
            continue
        if not _fits(other, rooms, swapped_m, needed_m):
            continue
        after = scene.total_cost(swapped_m)
        if after < cost - WORTH_IT:
            places_m[:], cost = swapped_m, after
            has_changed = True
    return has_changed


def _fits(
    index: int, rooms: Sequence[Place | None], places_m: Array, needed_m: Array
) -> bool:
    room, own_m = rooms[index], places_m[index : index + 1]
    is_in_room = room is not None and bool(inside(room.area, own_m)[0])
    return is_in_room and len(fitting(index, own_m, places_m, needed_m)) == 1
