"""Whether an outline, a line or a tree can stand where it is said to; in words."""

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext_noop
from shapely import LineString, Point as ShapelyPoint, Polygon
from shapely.validation import explain_validity

from orchard.models import FARTHEST_M, Feature
from orchard.plans.measured import Point
from orchard.plans.problems import PlanError
from orchard.plans.rows import too_far

AREA_KINDS = frozenset(
    {
        Feature.Kind.BOUNDARY,
        Feature.Kind.FREE,
        Feature.Kind.BUILDING,
        Feature.Kind.SEPTIC,
        Feature.Kind.PAVING,
        Feature.Kind.WATER,
    }
)
POINT_KINDS = frozenset({Feature.Kind.TAP})
#: What shades or hangs over: it has a height.
HIGH_KINDS = frozenset({Feature.Kind.WALL, Feature.Kind.BUILDING, Feature.Kind.WIRES})

MOST_POINTS = 200
#: Two trees nearer to each other than this would be one [m].
ONE_SPOT_M = 0.15
#: A tree this little outside stands on the line, as far as a tape can tell [m].
ON_THE_LINE_M = 0.1
SMALLEST_AREA_M2 = 0.01
_SAME_POINT_M = 0.001
_PLACE = re.compile(r"\[(-?[\d.eE+-]+) (-?[\d.eE+-]+)\]")


def check_shape(kind: str, points_m: Sequence[Point]) -> None:
    """Refuse points that are no area, line or point of their kind.

    Parameters
    ----------
    kind : str
        One of ``Feature.Kind``.
    points_m : sequence of (float, float)
        On the plan [m]; an outline does not repeat its first point.

    Raises
    ------
    PlanError
        Too few, too many or too far points, one given twice, an outline without an
        area or one that crosses itself.
    """
    if len(points_m) > MOST_POINTS:
        message = gettext_noop(
            "{number} points are too many; {most} are the most here."
        )
        raise PlanError(message, number=len(points_m), most=MOST_POINTS)
    for place in points_m:
        check_near(place)
    if kind in POINT_KINDS:
        _check_number(len(points_m), 1, is_exact=True)
        return
    _check_number(len(points_m), 3 if kind in AREA_KINDS else 2)
    _check_not_twice(points_m, is_closed=kind in AREA_KINDS)
    if kind in AREA_KINDS:
        _check_outline(points_m)


def check_near(place_m: Point) -> None:
    """Refuse a place that is farther than a garden reaches.

    Raises
    ------
    PlanError
        Its distance from the plan's origin.
    """
    if max(abs(place_m[0]), abs(place_m[1])) > FARTHEST_M:
        raise too_far(math.hypot(*place_m))


def _check_number(number: int, least: int, *, is_exact: bool = False) -> None:
    if number < least:
        message = gettext_noop(
            "This needs at least {least} points; {number} is written."
        )
        if is_exact:
            message = gettext_noop("Write the one point where it is.")
        raise PlanError(message, least=least, number=number)
    if is_exact and number > least:
        message = gettext_noop("This is one point, and {number} are written.")
        raise PlanError(message, number=number)


def _check_not_twice(points_m: Sequence[Point], *, is_closed: bool) -> None:
    following = [*points_m[1:], *(points_m[:1] if is_closed else ())]
    for number, (here, there) in enumerate(zip(points_m, following, strict=False), 1):
        if math.dist(here, there) < _SAME_POINT_M:
            other = number + 1 if number < len(points_m) else 1
            message = gettext_noop("Points {first} and {second} are the same spot.")
            raise PlanError(
                message, first=min(number, other), second=max(number, other)
            )


def _check_outline(points_m: Sequence[Point]) -> None:
    outline = Polygon(points_m)
    if not outline.is_valid:
        raise _crossing(points_m, explain_validity(outline))
    if outline.area < SMALLEST_AREA_M2:
        message = gettext_noop("These points enclose no area: they lie on one line.")
        raise PlanError(message)


def _crossing(points_m: Sequence[Point], explained: str) -> PlanError:
    """Say which sides of an outline cross, and where."""
    found = _PLACE.search(explained)
    if found is None or LineString(points_m).length == 0:
        return PlanError(gettext_noop("These points are no outline."))
    spot = ShapelyPoint(float(found[1]), float(found[2]))
    sides = [
        (number, number % len(points_m) + 1) for number in range(1, len(points_m) + 1)
    ]
    by_distance = sorted(
        sides,
        key=lambda side: LineString(
            [points_m[side[0] - 1], points_m[side[1] - 1]]
        ).distance(spot),
    )
    (a, b), (c, d) = sorted(by_distance[:2])
    message = gettext_noop(
        "This outline crosses itself, {x} along and {y} across: the side from point "
        "{a} to {b} meets the side from point {c} to {d}. Are two points in the wrong "
        "order?"
    )
    return PlanError(
        message, about="crossing", x=float(spot.x), y=float(spot.y), a=a, b=b, c=c, d=d
    )


def signed_area_m2(points_m: Sequence[Point]) -> float:
    """Return the area of an outline [m2], above 0 where it runs counterclockwise."""
    following = [*points_m[1:], *points_m[:1]]
    return (
        sum(
            x1 * y2 - x2 * y1
            for (x1, y1), (x2, y2) in zip(points_m, following, strict=True)
        )
        / 2
    )


def middle_of(points_m: Sequence[Point]) -> Point:
    """Return the middle of an outline, or of points that have no area [m]."""
    hull = LineString(points_m).convex_hull if len(points_m) > 1 else None
    middle = hull.centroid if hull is not None else ShapelyPoint(points_m[0])
    return middle.x, middle.y


def outside_by_m(place_m: Point, boundary_m: Sequence[Point]) -> float:
    """Return how far a place lies outside an outline [m]; 0 inside it."""
    return float(Polygon(boundary_m).distance(ShapelyPoint(place_m)))


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A tree that has its place already."""

    name: str
    place_m: Point


def check_tree(
    place_m: Point,
    *,
    boundary_m: Sequence[Point] | None,
    others: Iterable[Neighbour],
    may_be_outside: bool,
) -> None:
    """Refuse a tree outside the boundary or where another one stands.

    Raises
    ------
    PlanError
        How far out it is (``about`` is ``outside``), or which tree stands there
        (``about`` is ``spot``).
    """
    check_near(place_m)
    for other in others:
        if math.dist(place_m, other.place_m) < ONE_SPOT_M:
            message = gettext_noop("“{name}” stands there already.")
            raise PlanError(message, about="spot", name=other.name)
    if boundary_m is None or may_be_outside:
        return
    out_m = outside_by_m(place_m, boundary_m)
    if out_m > ON_THE_LINE_M:
        message = gettext_noop(
            "This is {out} outside the boundary of the garden. Measure again, or say "
            "below that it does stand outside."
        )
        raise PlanError(message, about="outside", out=out_m)
