"""Trees put down one after the other, each at the best point that is left."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from care.facts import Array
from care.science.placing_points import inside, lattice, touching
from care.science.placing_scene import Place, Scene

#: A distance that is met but for rounding [m].
SLACK_M = 1e-6


@dataclass(frozen=True, slots=True)
class Way:
    """One way to fill the ground.

    ``down`` and ``right`` are the signs of the directions it begins from: from the
    pole's side (1) or the other (-1), from the left (1) or the right (-1).
    ``by_columns`` fills the second direction first, ``outside_in`` what is farthest
    from the middle. ``in_rows`` keeps to a square lattice while any point of it is left.
    """

    down: int = 1
    right: int = 1
    by_columns: bool = False
    in_rows: bool = False
    outside_in: bool = False

    def first(self, points_m: Array, middle_m: Array) -> int:
        """Return the point with which to begin."""
        down = -self.down * points_m[:, 1].round(3)
        right = self.right * points_m[:, 0].round(3)
        keys = [down, right] if self.by_columns else [right, down]
        if self.outside_in:
            outwards = points_m - middle_m
            keys.append(-np.hypot(outwards[:, 0], outwards[:, 1]).round(3))
        return int(np.lexsort(keys)[0])


#: Tried in this order; the first of equals is kept.
WAYS = (
    Way(),
    Way(right=-1),
    Way(in_rows=True),
    Way(outside_in=True),
    Way(by_columns=True),
    Way(by_columns=True, right=-1),
    Way(down=-1),
    Way(in_rows=True, by_columns=True, right=-1),
    Way(down=-1, by_columns=True),
)


def build(
    scene: Scene,
    rooms: Sequence[Place | None],
    order: Sequence[int],
    way: Way,
    ease: float,
) -> Array:
    """Return places (total, 2) in the frame; not a number for trees without one.

    Parameters
    ----------
    order : sequence of int
        Which tree goes first.
    ease : float
        How far apart trees go: the least (0) to the recommended (1).
    """
    places_m = no_places(scene)
    needed_m = scene.needed_m(ease)
    step_m = _row_step_m(scene, needed_m)
    for index in order:
        room = rooms[index]
        if room is None:
            continue
        points_m = _candidates(index, room, places_m, needed_m)
        allowed_m = fitting(index, points_m, places_m, needed_m)
        if way.in_rows:
            rows_m = lattice(room.area, step_m, _corner(room, way))
            in_rows_m = fitting(index, rows_m, places_m, needed_m)
            allowed_m = in_rows_m if len(in_rows_m) else allowed_m
        if len(allowed_m):
            places_m[index] = allowed_m[way.first(allowed_m, room.middle_m)]
    return places_m


def no_places(scene: Scene) -> Array:
    """Return the places of what stands, and none for the trees to place."""
    nowhere = np.full((scene.n, 2), np.nan)
    return np.concatenate([nowhere, scene.standing_m])


def fitting(index: int, points_m: Array, places_m: Array, needed_m: Array) -> Array:
    """Return those of some points that are far enough from all other trees."""
    others = ~np.isnan(places_m[:, 0])
    others[index] = False
    apart = points_m[:, None] - places_m[None, others]
    distances_m = np.hypot(apart[..., 0], apart[..., 1])
    is_free = (distances_m >= needed_m[index, others] - SLACK_M).all(axis=1)
    return np.asarray(points_m[is_free])


def _candidates(index: int, room: Place, places_m: Array, needed_m: Array) -> Array:
    """Return a grid over the room and the points that just touch what is there."""
    there = ~np.isnan(places_m[:, 0])
    contacts_m = touching(places_m[there], needed_m[index, there], room.edges_m)
    in_room = inside(room.area, contacts_m)
    return np.concatenate([room.points_m, contacts_m[in_room.astype(np.bool_)]])


def _row_step_m(scene: Scene, needed_m: Array) -> float:
    """Return the step of rows in which any two of the trees may stand side by side."""
    among = needed_m[:, : scene.n]
    return max(float(among.max(initial=0.0)), 0.1)


def _corner(room: Place, way: Way) -> tuple[float, float]:
    """Return the corner of a room's box from which rows begin."""
    points_m = room.edges_m[:, 0]
    low, high = points_m.min(axis=0), points_m.max(axis=0)
    return (
        float(low[0] if way.right > 0 else high[0]),
        float(high[1] if way.down > 0 else low[1]),
    )
