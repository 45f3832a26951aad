"""Putting litres on the ground: how long, how deep, in how many portions.

The pond that may stand inside a berm, or in the hollows of flat ground, is what a
portion can hold; the slow end of the soil's infiltration band is what empties it.
"""

from dataclasses import dataclass
from math import ceil, floor, inf

from care.science.soil import Texture

HOLLOWS_MM = 5.0  # water that flat ground without a berm holds; no source
LONGEST_WAIT_H = 5.0  # between the first and last portion of one day; ours
HOURS_IN_DAY = 24.0


@dataclass(frozen=True, slots=True)
class Portions:
    """One watering, split so that nothing runs away."""

    depth_mm: float
    minutes: float  # of running water, all portions together
    count: int
    portion_minutes: float
    soak_minutes: float  # until the pond of one portion has gone in
    days: int  # 1, or more where the soil is too slow for one
    needs_berm: bool  # fewer portions would do inside one

    @property
    def is_split(self) -> bool:
        """Whether the water cannot all be run at once."""
        return self.count > 1


def running_minutes(litres: float, flow_l_min: float) -> float:
    """Return how long water must run to bring so many litres."""
    return litres / flow_l_min


def depth_mm(litres: float, area_m2: float) -> float:
    """Return how deep a volume would stand on an area (1 L on 1 m2 is 1 mm)."""
    return litres / area_m2


def ponding_minutes(
    *, rate_mm_h: float, infiltration_mm_h: float, pond_mm: float
) -> float:
    """Return how long water may run before the pond overflows [min].

    Infinite where the soil takes in all that comes.
    """
    if rate_mm_h <= infiltration_mm_h:
        return inf
    return 60.0 * pond_mm / (rate_mm_h - infiltration_mm_h)


def split(
    litres: float,
    *,
    area_m2: float,
    flow_l_min: float,
    texture: Texture,
    berm_mm: float = HOLLOWS_MM,
) -> Portions:
    """Return how to run a watering so that it soaks in where it is put.

    Parameters
    ----------
    litres, area_m2, flow_l_min : float
        What to pour, onto what, at what measured flow.
    texture : Texture
        Its slow end counts, since published rates differ by a factor of two to four.
    berm_mm : float
        Height of the rim round the basin; without one, what hollows hold.

    Returns
    -------
    Portions
        On one day while waiting for earlier portions to soak in takes no more than
        five hours and no day brings more than the soil takes in within it; else over
        the days that this needs. The arithmetic of a pond, no published source.
    """
    slow = texture.infiltration_mm_h[0]
    water, minutes = depth_mm(litres, area_m2), running_minutes(litres, flow_l_min)
    count = _portions(minutes, flow_l_min, area_m2, slow, berm_mm)
    soak_h = min(berm_mm, water / count) / slow
    a_day = 1 + floor(LONGEST_WAIT_H / soak_h + 1e-9) if soak_h > 0 else count
    days = max(ceil(count / a_day), ceil(water / (slow * HOURS_IN_DAY)), 1)
    count = max(count, days)
    return Portions(
        depth_mm=water,
        minutes=minutes,
        count=count,
        portion_minutes=minutes / count,
        soak_minutes=60.0 * min(berm_mm, water / count) / slow,
        days=days,
        needs_berm=count > 1 and berm_mm <= HOLLOWS_MM,
    )


def _portions(
    minutes: float, flow_l_min: float, area_m2: float, slow_mm_h: float, pond_mm: float
) -> int:
    longest = ponding_minutes(
        rate_mm_h=60.0 * flow_l_min / area_m2,
        infiltration_mm_h=slow_mm_h,
        pond_mm=pond_mm,
    )
    return max(ceil(minutes / longest - 1e-9), 1)
