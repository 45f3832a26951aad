"""Between the plan's own axes and places on the earth.

A garden is flat and small: a degree of latitude and of longitude have one length
throughout it, that at the plan's origin.
"""

import math
from dataclasses import dataclass

from orchard.models import SitePlan

#: Of the ellipsoid WGS 84 (NIMA TR8350.2): its long half-axis [m] and flattening.
SEMI_MAJOR_M = 6_378_137.0
FLATTENING = 1 / 298.257223563


@dataclass(frozen=True, slots=True)
class PlanAxes:
    """Where the origin of a plan lies and which way up is on the compass [deg]."""

    latitude_deg: float
    longitude_deg: float
    up_bearing_deg: float = 0.0

    def to_earth(self, x_m: float, y_m: float) -> tuple[float, float]:
        """Return longitude and latitude [deg] of a place on the plan [m]."""
        turn = math.radians(self.up_bearing_deg)
        east_m = x_m * math.cos(turn) + y_m * math.sin(turn)
        north_m = -x_m * math.sin(turn) + y_m * math.cos(turn)
        east_per_deg, north_per_deg = metres_per_degree(self.latitude_deg)
        longitude_deg = self.longitude_deg + east_m / east_per_deg
        return (
            (longitude_deg + 180.0) % 360.0 - 180.0,
            self.latitude_deg + north_m / north_per_deg,
        )

    def to_plan(self, longitude_deg: float, latitude_deg: float) -> tuple[float, float]:
        """Return the place on the plan [m] of a longitude and latitude [deg]."""
        east_per_deg, north_per_deg = metres_per_degree(self.latitude_deg)
        apart_deg = (longitude_deg - self.longitude_deg + 180.0) % 360.0 - 180.0
        east_m = apart_deg * east_per_deg
        north_m = (latitude_deg - self.latitude_deg) * north_per_deg
        turn = math.radians(self.up_bearing_deg)
        return (
            east_m * math.cos(turn) - north_m * math.sin(turn),
            east_m * math.sin(turn) + north_m * math.cos(turn),
        )


def axes_of(plan: SitePlan) -> PlanAxes | None:
    """Return the axes of a plan, or ``None`` while nobody knows where it lies."""
    if plan.origin_latitude_deg is None or plan.origin_longitude_deg is None:
        return None
    return PlanAxes(
        plan.origin_latitude_deg, plan.origin_longitude_deg, plan.up_bearing_deg
    )


def metres_per_degree(latitude_deg: float) -> tuple[float, float]:
    """Return the length of a degree of longitude and of latitude on WGS 84 [m].

    From the ellipsoid's radii of curvature in the prime vertical and the meridian
    (any textbook of geodesy; NIMA TR8350.2 for the figures).
    """
    squared = FLATTENING * (2 - FLATTENING)
    latitude = math.radians(latitude_deg)
    root = 1 - squared * math.sin(latitude) ** 2
    across_m = SEMI_MAJOR_M / math.sqrt(root)
    along_m = SEMI_MAJOR_M * (1 - squared) / root**1.5
    return (
        math.radians(1) * across_m * math.cos(latitude),
        math.radians(1) * along_m,
    )
