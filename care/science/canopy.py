"""How large a crown is and how much of its leaf is out on a day of the year."""

from dataclasses import dataclass

import numpy as np

from care.facts import Array, Flags

LEAFLESS_KC = 0.20  # bare ground after leaf drop; FAO-56 Table 12, footnotes
CROWN_M_PER_CALIPER_CM = 0.40  # no source: this program's own, ask instead
YEARS_TO_FULL_CROWN = 10.0  # no source: a straight line in place of a growth curve
HALF_YEAR_DAYS = 182
DAYS_IN_YEAR = 365


@dataclass(frozen=True, slots=True)
class Stages:
    """When a crop's year begins and how long its four stages last, in days.

    Source of the shape: Allen et al. (1998), FAO-56, Chapter 6 and Table 11.
    """

    start_day: int  # day of the year, northern hemisphere
    initial: int
    development: int
    middle: int
    late: int

    @property
    def length(self) -> int:
        """Days from the first to the last of the growing season."""
        return self.initial + self.development + self.middle + self.late


# FAO-56 Table 11, lengths and month of the start; the table names its rows "high
# latitudes", "California" and "low latitudes". The latitudes that part them below are
# this program's own. Its olives (270 days) are left out: they keep their leaves, so
# that their year is the evergreens'.
DECIDUOUS_HIGH = Stages(60, 20, 70, 90, 30)
DECIDUOUS_MIDDLE = Stages(60, 30, 50, 130, 30)
DECIDUOUS_LOW = Stages(60, 20, 70, 120, 60)
GRAPE_HIGH = Stages(121, 20, 50, 90, 20)
GRAPE_MIDDLE = Stages(60, 20, 50, 75, 60)
GRAPE_LOW = Stages(91, 20, 40, 120, 60)
WINE_GRAPE = Stages(91, 30, 60, 40, 80)
PISTACHIO = Stages(32, 20, 60, 30, 40)
WALNUT = Stages(91, 20, 10, 130, 30)
CITRUS = Stages(1, 60, 90, 120, 95)
BANANA = Stages(32, 120, 60, 180, 5)  # second year; start in February from memory
HIGH_LATITUDE_DEG = 50.0
LOW_LATITUDE_DEG = 34.0

_DECIDUOUS = (DECIDUOUS_LOW, DECIDUOUS_MIDDLE, DECIDUOUS_HIGH)
_OWN_STAGES = {  # low, middle and high latitude
    "grapes, table or raisin": (GRAPE_LOW, GRAPE_MIDDLE, GRAPE_HIGH),
    "grapes, wine": (GRAPE_LOW, WINE_GRAPE, GRAPE_HIGH),
    "pistachios; no ground cover": (PISTACHIO,) * 3,
    "walnut orchard": (WALNUT,) * 3,
}


def stages_of(leaf: str, latitude_deg: float, crop: str = "") -> Stages:
    """Return the stages of a tree's year by its leaf and its distance from the equator.

    Parameters
    ----------
    leaf : str
        ``deciduous``, ``semi`` or ``evergreen``; the last two follow the citrus row,
        which never ends.
    latitude_deg : float
        South negative.
    crop : str
        FAO-56's name of the crop, as the catalogue's source of Kc has it behind its
        colon; a row of its own in Table 11 goes before the one for all deciduous
        orchards.

    Returns
    -------
    Stages
        Source: Allen et al. (1998), FAO-56, Table 11.
    """
    if leaf != "deciduous":
        return BANANA if crop == "banana, second year" else CITRUS
    by_latitude = _OWN_STAGES.get(crop, _DECIDUOUS)
    distance = abs(latitude_deg)
    return by_latitude[
        int(distance >= LOW_LATITUDE_DEG) + int(distance >= HIGH_LATITUDE_DEG)
    ]


def season_day(
    day_number: Array | float, stages: Stages, *, is_southern: bool = False
) -> Array:
    """Return the day within the crop's year, 1 on its first day [-].

    Days 1 to ``stages.length`` are in the growing season, later ones leafless. The
    southern year begins half a year later.
    """
    shift = HALF_YEAR_DAYS if is_southern else 0
    number = np.minimum(np.asarray(day_number, dtype=np.float64), DAYS_IN_YEAR)
    return np.asarray(np.mod(number - stages.start_day - shift, DAYS_IN_YEAR) + 1)


def crop_coefficient(
    season_days: Array | float,
    stages: Stages,
    *,
    kc_ini: float,
    kc_mid: float,
    kc_end: float,
    kc_leafless: float = LEAFLESS_KC,
) -> Array:
    """Return the crop coefficient on days of the crop's year, Kc [-].

    Parameters
    ----------
    season_days : array of any shape
        Day within the crop's year, 1-365.
    stages : Stages
        Lengths of the four stages.
    kc_ini, kc_mid, kc_end : float
        The table's three figures.
    kc_leafless : float
        What remains between leaf drop and the next season.

    Returns
    -------
    array of the same shape
        Level, rising, level and falling. Source: FAO-56, Eq. 66 and Fig. 34.
    """
    ends = np.cumsum([stages.initial, stages.development, stages.middle, stages.late])
    days = np.asarray(season_days, dtype=np.float64)
    curve = np.interp(days, ends, [kc_ini, kc_mid, kc_mid, kc_end])
    return np.asarray(np.where(days > stages.length, kc_leafless, curve))


def is_leafless(season_days: Array | float, stages: Stages) -> Flags:
    """Return whether a tree stands without leaves on days of its year.

    An evergreen's stages fill the year, so it never does. Source: FAO-56 Table 11.
    """
    return np.asarray(np.asarray(season_days) > stages.length)


def crown_area_m2(crown_width_m: Array | float) -> Array:
    """Return the ground a round crown covers [m2]."""
    return np.asarray(np.pi / 4 * np.asarray(crown_width_m, dtype=np.float64) ** 2)


def caliper_from_pot_mm(pot_litres: float) -> float:
    """Return the trunk that usually comes in a nursery pot of true volume V [mm].

    A power law fitted to two tables of Arboriculture & Urban Forestry (container size
    against trunk diameter of Acer rubrum, and of Quercus virginiana): 9 L 9 mm,
    25 L 17 mm, 104 L 41 mm.
    """
    return float(9.0 * (pot_litres / 9.0) ** 0.62)


def pot_from_caliper_litres(caliper_mm: float) -> float:
    """Return the root ball that usually goes with a trunk [L]; the inverse of that."""
    return float(9.0 * (caliper_mm / 9.0) ** (1 / 0.62))


def crown_from_caliper_m(caliper_mm: float) -> float:
    """Return a crown's usual width from its trunk [m]; a guess, so ask instead."""
    return CROWN_M_PER_CALIPER_CM * caliper_mm / 10


def grown_crown_width_m(
    start_width_m: float, mature_width_m: float | None, years: float
) -> float:
    """Return a crown's width some years after planting [m]; a guess, so ask instead.

    A straight line from the width at planting to the mature one in ten years. Without
    a mature width the crown stays as it was. No published source.
    """
    if mature_width_m is None or mature_width_m <= start_width_m:
        return start_width_m
    share = float(np.clip(years / YEARS_TO_FULL_CROWN, 0.0, 1.0))
    return start_width_m + share * (mature_width_m - start_width_m)
