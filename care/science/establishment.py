"""Establishment: how long a planted tree lives on what it came with.

Published schedules count months by trunk and by winter; the water balance reckons the
same from roots. Both are shown, for neither is a law.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

import numpy as np

from care.facts import SiteFacts, Situation, SpeciesFacts, TreeFacts, WeatherSeries
from care.science.canopy import caliper_from_pot_mm, pot_from_caliper_litres
from care.science.extreme_cold import estimate_zone, extreme_minima_c
from care.science.season import (
    SHORT_SEASON_DAYS,
    frost_free_days,
    season_date,
    season_of,
    start_of_growth,
)

MM_PER_INCH = 25.4
L_PER_GALLON = 3.785411784
DAYS_PER_MONTH = 30.4375
DAYS_PER_YEAR = 365

# Months an inch of trunk by the lowest hardiness zone they hold for, least and most.
# 3 and 4: Florida urban forestry council's and UF/IFAS irrigation specification; 6-8:
# from UF/IFAS table 1, where 12 months carry 1.5-2 in; 12: UF/IFAS text on zone 5.
MONTHS_PER_INCH = (
    (10, (3.0, 3.0)),
    (8, (4.0, 4.0)),
    (6, (6.0, 8.0)),
    (1, (12.0, 12.0)),
)
OTHER_MONTHS_PER_INCH = 18.0  # University of Minnesota Extension: a year and a half
GALLONS_PER_INCH = (2.0, 3.0)  # a watering: UF/IFAS
# Days on which daily watering, then every other day, ends: by trunk up to [in].
# Florida urban forestry council and UF/IFAS, vigour schedule; weekly from then on.
STEPS = ((2.0, (14, 75)), (4.0, (30, 121)), (float("inf"), (42, 194)))
# Months of two waterings a week where a tree need only survive; the same source.
SURVIVAL_MONTHS = ((2.0, (2, 3)), (4.0, (3, 4)), (float("inf"), (4, 5)))
FIRST_MONTH = {False: 7, True: 1}  # of a year that keeps a winter whole, by south
USUAL_STOCK_L = 24.6  # a number 7 pot, where nobody said
# Where no winter was measured; this program's own, on the long side.
FROST_FREE_ZONE, LONG_SEASON_ZONE, MIDDLE_ZONE, SHORT_SEASON_ZONE = 10, 9, 7, 5
LONG_SEASON_DAYS = 270

# Common practice, no source: new trees often stand still for a couple of months of
# warmth, slow evergreens for most of a year.
STALL_DAYS = 61
STALL_DAYS_EVERGREEN = 300
GROWING_MM = 150.0  # 6 in of new growth: Texas A&M, first year
# Common practice, no source: nothing else in the ring in the first year; undemanding
# neighbours in the second or third.
COMPANION_YEARS = (1, 2)
SEASON_DAYS = 150  # a stake has served a season; common practice, no source


def months_per_inch(zone: int) -> tuple[float, float]:
    """Return the months an inch of trunk takes, least and most.

    Zones 7 and 9 take the row below them, and 1-3 that of 4-5: on the long side.

    Parameters
    ----------
    zone : int
        Number of the USDA hardiness zone, 1-13.

    Raises
    ------
    ValueError
        If there is no such zone.
    """
    for lowest, months in MONTHS_PER_INCH:
        if zone >= lowest:
            return months
    message = f"not a hardiness zone: {zone}"
    raise ValueError(message)


def establishment_months(zone: int, caliper_mm: float) -> tuple[float, float]:
    """Return how many months of regular water a new tree needs, least and most.

    ``caliper_mm`` is the trunk at planting, 150 mm above the ground, or 300 mm above
    it where thicker than 100 mm (ANSI Z60.1, from memory).
    """
    low, high = months_per_inch(zone)
    inches = caliper_mm / MM_PER_INCH
    return low * inches, high * inches


def watering_l(caliper_mm: float) -> tuple[float, float]:
    """Return the published litres of one watering, least and most (UF/IFAS)."""
    inches = caliper_mm / MM_PER_INCH
    low, high = (gallons * L_PER_GALLON * inches for gallons in GALLONS_PER_INCH)
    return low, high


def steps_down(caliper_mm: float) -> tuple[int, int]:
    """Return after how many days daily, and every-other-day, watering ends.

    The published schedule for a tree in leaf in warm weather; the balance decides.
    """
    inches = caliper_mm / MM_PER_INCH
    return next(days for most, days in STEPS if inches < most)


def survival_months(caliper_mm: float) -> tuple[int, int]:
    """Return for how many months two waterings a week let a tree survive."""
    inches = caliper_mm / MM_PER_INCH
    return next(months for most, months in SURVIVAL_MONTHS if inches < most)


def ball_litres(tree: TreeFacts) -> float:
    """Return the root ball as recorded, else the one that goes with the trunk [L]."""
    if tree.stock_litres:
        return tree.stock_litres
    if tree.caliper_mm:
        return pot_from_caliper_litres(tree.caliper_mm)
    return USUAL_STOCK_L


def caliper_mm(tree: TreeFacts) -> float:
    """Return the trunk as measured, else the one that comes in such a pot."""
    if tree.caliper_mm is not None:
        return tree.caliper_mm
    return caliper_from_pot_mm(tree.stock_litres or USUAL_STOCK_L)


def zone_number(site: SiteFacts, weather: WeatherSeries | None) -> int:
    """Return a hardiness zone from the record's winters, else from the frost dates."""
    if weather is not None:
        found = _zone_by_record(weather, FIRST_MONTH[site.is_southern])
        if found is not None:
            return found
    return _zone_by_frost(site)


@lru_cache(maxsize=8)  # the same for all trees of a site
def _zone_by_record(weather: WeatherSeries, first_month: int) -> int | None:
    observed = np.frombuffer(weather.origin.encode(), dtype="S1") == b"o"
    lows = np.where(observed, weather.tmin_c, np.nan)
    found = estimate_zone(extreme_minima_c(weather.start, lows, first_month))
    return None if found is None else int(found.zone[:-1])


def _zone_by_frost(site: SiteFacts) -> int:
    if site.is_frost_free:
        return FROST_FREE_ZONE
    days = frost_free_days(site)
    if days is None or days <= SHORT_SEASON_DAYS:
        return SHORT_SEASON_ZONE
    return LONG_SEASON_ZONE if days >= LONG_SEASON_DAYS else MIDDLE_ZONE


@dataclass(frozen=True, slots=True)
class Establishment:
    """When a new tree can be left to itself, by two published views and the balance.

    Months count from ``counted_from``. ``expected_on`` is the first view's last day, or
    the second's where the balance says that the roots do not yet reach enough soil.
    """

    zone: int
    counted_from: date
    caliper_mm: float
    soonest_on: date
    latest_on: date
    other_on: date
    expected_on: date


def _after(day: date, months: float) -> date:
    return day + timedelta(days=round(months * DAYS_PER_MONTH))


def growing_from(situation: Situation, planted_on: date) -> date:
    """Return from when a new tree can root: planting, or the bud break after it.

    Winter does not count where there is one; the published months are of warm places.
    """
    site = situation.site
    if site.is_frost_free:
        return planted_on
    season = season_of(planted_on, southern=site.is_southern)
    return max(planted_on, start_of_growth(situation, season).on)


def establishment(situation: Situation, planted_on: date) -> Establishment:
    """Return a planted tree's establishment."""
    start = growing_from(situation, planted_on)
    zone = zone_number(situation.site, situation.weather)
    trunk_mm = caliper_mm(situation.tree)
    low, high = establishment_months(zone, trunk_mm)
    latest = _after(start, high)
    other = _after(start, OTHER_MONTHS_PER_INCH * trunk_mm / MM_PER_INCH)
    water = situation.water
    is_behind = water is not None and not water.is_established
    return Establishment(
        zone=zone,
        counted_from=start,
        caliper_mm=trunk_mm,
        soonest_on=_after(start, low),
        latest_on=latest,
        other_on=other,
        expected_on=max(latest, other) if is_behind else latest,
    )


def is_slow(species: SpeciesFacts) -> bool:
    """Return whether a kind may stand still for most of a year after planting."""
    return species.is_evergreen and species.habit == "tree"


def stall_over_on(situation: Situation, planted_on: date) -> date:
    """Return the day from which a new tree that has not grown is a worry.

    Counted from planting, or from the next bud break where it went in dormant.
    """
    southern = situation.site.is_southern
    season = season_of(planted_on, southern=southern)
    start = start_of_growth(situation, season).on
    end = season_date(season, 10, 31, southern=southern)
    slow = is_slow(situation.tree.species)
    wait = timedelta(days=STALL_DAYS_EVERGREEN if slow else STALL_DAYS)
    if max(start, planted_on) + timedelta(days=STALL_DAYS) > end:
        # Too little of its first season is left to judge it by.
        start = start_of_growth(situation, season + 1).on
    return max(start, planted_on) + wait


def first_season_end(planted_on: date, *, southern: bool) -> date:
    """Return the end of the first growing season a tree stood most of."""
    season = season_of(planted_on, southern=southern)
    end = season_date(season, 10, 31, southern=southern)
    if (end - planted_on).days >= SEASON_DAYS:
        return end
    return season_date(season + 1, 10, 31, southern=southern)


def companions_from(planted_on: date) -> tuple[date, date]:
    """Return when undemanding neighbours may go in: at the soonest, and surely."""
    soonest, surely = COMPANION_YEARS
    return (
        planted_on + timedelta(days=soonest * DAYS_PER_YEAR),
        planted_on + timedelta(days=surely * DAYS_PER_YEAR),
    )
