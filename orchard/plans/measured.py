"""From a tape to the plan: two distances to two corners, and more than two.

Trilateration by the law of cosines (any textbook of plane surveying). What tapes get
wrong is common practice, no source: a sagging or bent one is off by some centimetres.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations

import numpy as np
from django.utils.translation import gettext_noop

from orchard.plans.problems import PlanError

Point = tuple[float, float]

#: Two tapes that miss each other by less than this, or by this share of the longest,
#: are taken to meet half-way [m, -]. Common practice, no source.
TAPE_SLACK_M, TAPE_SLACK_SHARE = 0.3, 0.02
#: A tape held by one person is off by about this [m]. Common practice, no source.
TAPE_ERROR_M = 0.05
#: Corners nearer to each other than this are one [m].
SAME_SPOT_M = 0.01
_MOST_ROUNDS = 60


class Side(StrEnum):
    """On which side of the line from the first corner to the second."""

    GARDEN = "garden"
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Taped:
    """One tape: from a named corner at a place [m], this far [m]."""

    name: str
    place_m: Point
    distance_m: float


@dataclass(frozen=True, slots=True)
class Found:
    """A place found with tapes [m].

    ``off_m`` is by how much the tapes disagree there; ``doubt_m`` how far a usual
    mistake of a tape would move it.
    """

    place_m: Point
    off_m: float
    doubt_m: float


def both_sides(first: Taped, second: Taped) -> tuple[Point, Point]:
    """Return where two tapes meet: left and right, seen from the first to the second.

    Where they nearly meet, both are the point half-way between them on the line
    through the corners.

    Parameters
    ----------
    first, second : Taped
        Their distances are 0 m or more.

    Returns
    -------
    tuple of (float, float)
        Two places [m].

    Raises
    ------
    PlanError
        The corners are one, or the circles miss each other by more than
        :data:`TAPE_SLACK_M` and :data:`TAPE_SLACK_SHARE`.
    """
    (x1, y1), (x2, y2) = first.place_m, second.place_m
    apart_m = math.hypot(x2 - x1, y2 - y1)
    if apart_m < SAME_SPOT_M:
        message = gettext_noop(
            "{first} and {second} are in one spot; choose two other corners."
        )
        raise PlanError(message, first=first.name, second=second.name)
    gap_m = _gap_m(first.distance_m, second.distance_m, apart_m)
    if gap_m > _slack_m(first.distance_m, second.distance_m, apart_m):
        raise _cannot_meet(first, second, apart_m)
    along_m, across_m = _on_the_line(first.distance_m, second.distance_m, apart_m)
    ux, uy = (x2 - x1) / apart_m, (y2 - y1) / apart_m
    foot_x, foot_y = x1 + along_m * ux, y1 + along_m * uy
    return (
        (foot_x - across_m * uy, foot_y + across_m * ux),
        (foot_x + across_m * uy, foot_y - across_m * ux),
    )


def _gap_m(first_m: float, second_m: float, apart_m: float) -> float:
    """Return by how much two circles miss each other; 0 where they meet."""
    return max(
        apart_m - first_m - second_m,
        first_m - second_m - apart_m,
        second_m - first_m - apart_m,
        0.0,
    )


def _slack_m(*lengths_m: float) -> float:
    return max(TAPE_SLACK_M, TAPE_SLACK_SHARE * max(lengths_m))


def _on_the_line(
    first_m: float, second_m: float, apart_m: float
) -> tuple[float, float]:
    """Return how far along the line from the first corner, and how far beside it."""
    gap_m = _gap_m(first_m, second_m, apart_m)
    if not gap_m:
        along_m = (first_m**2 - second_m**2 + apart_m**2) / (2 * apart_m)
        return along_m, math.sqrt(max(0.0, first_m**2 - along_m**2))
    if first_m + second_m < apart_m:
        return first_m + gap_m / 2, 0.0
    if first_m > second_m:
        return first_m - gap_m / 2, 0.0
    return -(first_m + gap_m / 2), 0.0


def _cannot_meet(first: Taped, second: Taped, apart_m: float) -> PlanError:
    message = gettext_noop(
        "{near} from {first} and {far} from {second} cannot meet: {first} and "
        "{second} are {apart} apart. Measure again."
    )
    return PlanError(
        message,
        near=float(first.distance_m),
        first=first.name,
        far=float(second.distance_m),
        second=second.name,
        apart=apart_m,
    )


def place_by_tapes(
    tapes: Sequence[Taped], side: Side, garden_m: Point | None = None
) -> Found:
    """Return the place that two or more tapes tell.

    With three or more it is the one with the least sum of squared misses
    (Gauss-Newton); where all corners lie on one line, ``side`` decides as with two.

    Parameters
    ----------
    tapes : sequence of Taped
        Two or more.
    side : Side
        ``GARDEN`` is the side where ``garden_m`` lies.
    garden_m : (float, float), optional
        The middle of what is known of the garden [m]; without it, up the page.

    Returns
    -------
    Found

    Raises
    ------
    PlanError
        They cannot meet, or disagree by more than a tape may be off.
    """
    starts = _starts(tapes, side, garden_m)
    if len(tapes) == 2:  # noqa: PLR2004 - two circles
        place = starts[0]
    else:
        likelier, other = (_settled(tapes, start) for start in starts)
        # Corners nearly on one line cannot tell the sides apart: the side said counts.
        is_worse = _miss_m(tapes, likelier) > _miss_m(tapes, other) + TAPE_ERROR_M
        place = other if is_worse else likelier
        _check_they_agree(tapes, place)
    return Found(place, _miss_m(tapes, place), _doubt_m(tapes, place))


def _starts(
    tapes: Sequence[Taped], side: Side, garden_m: Point | None
) -> tuple[Point, Point]:
    """Return both places that the two corners farthest apart allow, likelier first."""
    first, second = max(
        combinations(tapes, 2),
        key=lambda pair: math.dist(pair[0].place_m, pair[1].place_m),
    )
    left, right = both_sides(first, second)
    is_left = side is Side.LEFT
    if side is Side.GARDEN:
        gx, gy = garden_m or (first.place_m[0], first.place_m[1] + 1e6)
        is_left = math.dist(left, (gx, gy)) <= math.dist(right, (gx, gy))
    elif (tapes[0].name, tapes[1].name) != (first.name, second.name):
        is_left = _is_left_of(tapes[0], tapes[1], left) == is_left
    return (left, right) if is_left else (right, left)


def _is_left_of(first: Taped, second: Taped, place_m: Point) -> bool:
    (x1, y1), (x2, y2), (x, y) = first.place_m, second.place_m, place_m
    return (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1) > 0


def _misses(
    tapes: Sequence[Taped], place: Point
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return each tape's miss [m] and its slopes by x and y, each shape (tapes,)."""
    corners = np.array([tape.place_m for tape in tapes])
    steps = np.array(place) - corners
    reach = np.maximum(np.hypot(steps[:, 0], steps[:, 1]), 1e-9)
    misses = reach - np.array([tape.distance_m for tape in tapes])
    return misses, steps[:, 0] / reach, steps[:, 1] / reach


def _settled(tapes: Sequence[Taped], start: Point) -> Point:
    """Return the place of least squares nearest to ``start``."""
    place = np.array(start)
    for _ in range(_MOST_ROUNDS):
        misses, by_x, by_y = _misses(tapes, (float(place[0]), float(place[1])))
        slopes = np.column_stack([by_x, by_y])
        # Corners on one line leave one direction free; the smallest step stays.
        step, *_rest = np.linalg.lstsq(slopes, -misses, rcond=1e-6)
        place = place + step
        if float(np.hypot(*step)) < 1e-7:  # noqa: PLR2004 - finer than any tape
            break
    return float(place[0]), float(place[1])


def _miss_m(tapes: Sequence[Taped], place: Point) -> float:
    """Return the root of the mean squared miss [m]."""
    misses, _, _ = _misses(tapes, place)
    return float(np.sqrt(np.mean(misses**2)))


def _check_they_agree(tapes: Sequence[Taped], place: Point) -> None:
    slack_m = _slack_m(*(tape.distance_m for tape in tapes))
    misses, _, _ = _misses(tapes, place)
    worst = int(np.argmax(np.abs(misses)))
    if abs(float(misses[worst])) <= slack_m:
        return
    message = gettext_noop(
        "These distances do not agree: the best place for all of them is still {off} "
        "away from what {name} says. Measure again."
    )
    raise PlanError(message, off=abs(float(misses[worst])), name=tapes[worst].name)


def _doubt_m(tapes: Sequence[Taped], place: Point) -> float:
    """Return how far a usual mistake of each tape would move a place [m].

    The root of the trace of the inverse normal matrix, times the mistake: the
    geometric dilution of precision of any textbook of surveying. With two tapes that
    cross at an angle t it is the mistake times sqrt(2) / sin t. Infinite where the
    tapes lie on one line.
    """
    _, by_x, by_y = _misses(tapes, place)
    xx, yy, xy = float(by_x @ by_x), float(by_y @ by_y), float(by_x @ by_y)
    determinant = xx * yy - xy**2
    if determinant < 1e-9:  # noqa: PLR2004 - an angle below 0.002 degrees
        return math.inf
    return TAPE_ERROR_M * math.sqrt((xx + yy) / determinant)
