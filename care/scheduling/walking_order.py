"""In which order to walk: the nearest tree next, then crossings undone.

The nearest neighbour, with stretches turned round and single stops moved while that
helps, comes within a few per cent of the best path; more than 150 stops are walked row
by row, forth and back.
"""

from collections.abc import Hashable, Mapping, Sequence
from itertools import pairwise
from math import hypot
from typing import TypeVar

Stop = TypeVar("Stop", bound=Hashable)
Point = tuple[float, float]  # metres east and north

MOST_STOPS = 150
GAIN_M = 1e-9


def walking_order(
    positions: Mapping[Stop, Point], start: Point, *, keys: Sequence[Stop]
) -> list[Stop]:
    """Return the stops in the order to walk them, from ``start``, not back to it.

    Parameters
    ----------
    positions : mapping
        Stop to metres east and north.
    start : point
        The gate or the shed.
    keys : sequence
        All stops, in the order that decides ties.

    Returns
    -------
    list
        Every stop once; never longer than going to the nearest next.
    """
    if len(keys) > MOST_STOPS:
        return forth_and_back({stop: positions[stop] for stop in keys})
    return _improved(_nearest_first(positions, start, keys), positions, start)


def path_m(
    order: Sequence[Stop], positions: Mapping[Stop, Point], start: Point
) -> float:
    """Return the length of an open path [m]."""
    points = [start, *(positions[stop] for stop in order)]
    return sum(_distance_m(a, b) for a, b in pairwise(points))


def forth_and_back(
    positions: Mapping[Stop, Point], *, band_m: float = 5.0
) -> list[Stop]:
    """Return stops in bands from south to north, every other one backwards."""
    bands: dict[int, list[Stop]] = {}
    for stop, (_east, north) in positions.items():
        bands.setdefault(int(north // band_m), []).append(stop)
    order: list[Stop] = []
    for number, band in enumerate(sorted(bands)):
        row = sorted(bands[band], key=lambda stop: positions[stop])
        order += reversed(row) if number % 2 else row
    return order


def _distance_m(one: Point, other: Point) -> float:
    return hypot(one[0] - other[0], one[1] - other[1])


def _nearest_first(
    positions: Mapping[Stop, Point], start: Point, keys: Sequence[Stop]
) -> list[Stop]:
    left = list(dict.fromkeys(keys))
    order: list[Stop] = []
    here = start
    while left:
        nearest = min(left, key=lambda stop: _distance_m(here, positions[stop]))
        left.remove(nearest)
        order.append(nearest)
        here = positions[nearest]
    return order


def _improved(
    order: list[Stop], positions: Mapping[Stop, Point], start: Point
) -> list[Stop]:
    """Turn stretches round (2-opt) and move short ones for as long as that shortens."""
    is_shorter = True
    while is_shorter:
        is_shorter = _uncross(order, positions, start)
        is_shorter |= _move_one(order, positions, start)
    return order


def _uncross(order: list[Stop], positions: Mapping[Stop, Point], start: Point) -> bool:
    is_shorter = False
    for first in range(len(order) - 1):
        for last in range(first + 1, len(order)):
            if _gain_m(order, positions, start, first, last) > GAIN_M:
                order[first : last + 1] = order[first : last + 1][::-1]
                is_shorter = True
    return is_shorter


def _move_one(order: list[Stop], positions: Mapping[Stop, Point], start: Point) -> bool:
    """Put each stop where the way round it is shortest."""
    is_shorter = False
    for stop in tuple(order):
        place = order.index(stop)
        rest = order[:place] + order[place + 1 :]
        saved = _detour_m(stop, rest, place, positions, start)
        best = min(
            range(len(order)),
            key=lambda at: (_detour_m(stop, rest, at, positions, start), at),
        )
        if saved - _detour_m(stop, rest, best, positions, start) > GAIN_M:
            order[:] = [*rest[:best], stop, *rest[best:]]
            is_shorter = True
    return is_shorter


def _detour_m(
    stop: Stop,
    rest: Sequence[Stop],
    at: int,
    positions: Mapping[Stop, Point],
    start: Point,
) -> float:
    """Return how much longer a path gets by a stop before place ``at`` [m]."""
    before = positions[rest[at - 1]] if at else start
    here = positions[stop]
    if at == len(rest):
        return _distance_m(before, here)
    after = positions[rest[at]]
    direct = _distance_m(before, after)
    return _distance_m(before, here) + _distance_m(here, after) - direct


def _gain_m(
    order: Sequence[Stop],
    positions: Mapping[Stop, Point],
    start: Point,
    first: int,
    last: int,
) -> float:
    """Return what turning the stretch from ``first`` to ``last`` round saves [m]."""
    before = positions[order[first - 1]] if first else start
    a, b = positions[order[first]], positions[order[last]]
    gain = _distance_m(before, a) - _distance_m(before, b)
    if last + 1 < len(order):
        after = positions[order[last + 1]]
        gain += _distance_m(b, after) - _distance_m(a, after)
    return gain
