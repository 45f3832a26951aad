"""Trees in a row, and a place read off a satellite receiver."""

import math

from django.utils.translation import gettext_noop

from orchard.plans.axes import PlanAxes
from orchard.plans.measured import Point
from orchard.plans.problems import PlanError

#: Trees are not planted closer than this in a row, nor farther [m].
CLOSEST_M, WIDEST_M = 0.15, 100.0
#: What lies farther from the site than this is a mistake [m].
FARTHEST_FROM_SITE_M = 2000.0
#: How far off a phone usually is [m]: on average 7 to 13 (Merry and Bettinger 2019,
#: PLOS ONE 14(7) e0219890, one phone among buildings and trees).
PHONE_ERROR_M = 10.0


def row_between(start: Point, end: Point, number: int) -> tuple[Point, ...]:
    """Return ``number`` places, evenly from ``start`` to ``end`` and both counted [m].

    Raises
    ------
    PlanError
        They would stand closer than :data:`CLOSEST_M`.
    """
    if number == 1:
        return (start,)
    spacing_m = math.dist(start, end) / (number - 1)
    if spacing_m < CLOSEST_M:
        message = gettext_noop("{number} trees would stand only {spacing} apart there.")
        raise PlanError(message, number=number, spacing=spacing_m)
    return tuple(_part_way(start, end, k / (number - 1)) for k in range(number))


def row_towards(
    start: Point, towards: Point, spacing_m: float, number: int
) -> tuple[Point, ...]:
    """Return ``number`` places from ``start`` on, each ``spacing_m`` farther [m].

    Raises
    ------
    PlanError
        There is no direction: both points are one.
    """
    length_m = math.dist(start, towards)
    if length_m < CLOSEST_M:
        message = gettext_noop(
            "The row has no direction: both its ends are in one spot."
        )
        raise PlanError(message)
    step = spacing_m / length_m
    return tuple(_part_way(start, towards, k * step) for k in range(number))


def along_bearing(start: Point, bearing_deg: float, up_bearing_deg: float) -> Point:
    """Return a point 1 m from ``start`` along a compass bearing [deg]."""
    turn = math.radians(bearing_deg - up_bearing_deg)
    return start[0] + math.sin(turn), start[1] + math.cos(turn)


def _part_way(start: Point, end: Point, share: float) -> Point:
    (x1, y1), (x2, y2) = start, end
    return x1 + share * (x2 - x1), y1 + share * (y2 - y1)


def place_by_satellite(
    axes: PlanAxes, latitude_deg: float, longitude_deg: float
) -> Point:
    """Return the place on the plan [m] of a latitude and longitude [deg].

    Raises
    ------
    PlanError
        It is farther than :data:`FARTHEST_FROM_SITE_M` from the plan's origin; where
        the two numbers in the other order would be near, the message says so.
    """
    place = axes.to_plan(longitude_deg, latitude_deg)
    away_m = math.hypot(*place)
    if away_m <= FARTHEST_FROM_SITE_M:
        return place
    turned_m = math.hypot(*axes.to_plan(latitude_deg, longitude_deg))
    if turned_m <= FARTHEST_FROM_SITE_M:
        message = gettext_noop(
            "Latitude and longitude look swapped: write the latitude first."
        )
        raise PlanError(message, about="swapped")
    raise too_far(away_m)


def too_far(away_m: float) -> PlanError:
    """Return what to say of a place that cannot be on this site."""
    message = gettext_noop(
        "This lies {away} from the site; nothing of a garden is farther than {most} "
        "from it. Look at the numbers, and at where the plan lies on the earth."
    )
    return PlanError(
        message, about="far", away=float(away_m), most=FARTHEST_FROM_SITE_M
    )
