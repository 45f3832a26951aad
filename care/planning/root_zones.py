"""From what is known of a tree to where its water is.

A clump is one balance: it has the widest of its members' crowns and the root zone of
its first member, and each member carries an equal share of the litres.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from care.facts import Goal, SiteFacts, Stock, TreeFacts
from care.planning.sizes import crown_width_m, pot_litres, rooted_litres, tree_height_m
from care.science.canopy import crown_area_m2
from care.science.container_water import (
    AVAILABLE_SHARE_MIX,
    AVAILABLE_SHARE_SOIL,
    LEACHING_FRACTION,
    SALTY_LEACHING_FRACTION,
    container_capacity_l,
    pot_diameter_m,
    rain_catch_m2,
)
from care.science.crop_cover import EVAPORATION_SAVED
from care.science.soil import Texture, drains_too_slowly, texture_where_planted
from care.science.water_balance import RootZones

HAND_EFFICIENCY = 0.90  # of what is poured into a basin; no source
LOST_AFTER_PLANTING = (
    0.55  # of a mix's water, to the soil around; Nelms & Spomer: .3-.85
)
BARE_ROOT_SHARE = 0.10  # of the volume of the hole; no source
RAIN_CATCH = 0.90  # of the ground under a crown; no source
BALL_EVAPORATION = 0.25  # coefficient of a bare root ball; no source
COVER = {"bare": 0.15, "mulch": 0.10, "grass": 0.80}  # of open ground; no source
FULL_MULCH_MM = 50.0
ROOTS_PER_CROWN = 2.25  # root area over crown area; ISA: roots reach 2-3 crown radii
ROOT_GROWTH_M = 0.00036  # per degree day over 6; fitted to UF's 1.2-2.4 m a year
HARD_WINTER_FACTOR = 0.55  # fitted to the same source's zones 2-5
RING_DEPTH_M = 0.45  # no source
RING_SHARE = 0.7  # of the soil in the ring that young roots have found; no source
PLANTING_LAG_DAYS = 10  # before roots leave the ball; no source
ESTABLISHED_DAYS = 10.0  # of full use at 5 mm/day held by both stores; ours
ESTABLISHED_SHARE = 0.65
ESTABLISHED_YEARS = 5.0  # whatever the stores say; no source
STOCK_FACTOR = {  # first-year demand over a full crown's
    Stock.CONTAINER_GROWN: 1.0,
    Stock.BALLED: 0.60,  # Caron & Kjelgren, HortScience 51:1188: 0.56 / 0.93
    Stock.BARE_ROOT: 0.39,  # the same: 0.36 / 0.93
}
WIDEST_NEW_CIRCLE_M = 0.6
# How dry a new tree's ball may get. Standard: FAO-56 Table 22; the others fitted to
# the University of Florida's schedules for vigour and for bare survival.
GOAL_P = {Goal.VIGOUR: 0.40, Goal.STANDARD: 0.50, Goal.SURVIVAL: 0.80}
WET_DAYS = 3  # after which water no longer stands in slow soil; no source
WET_DAYS_UNSUITABLE = 7  # where a test hole held water for two days; no source


@dataclass(frozen=True, slots=True)
class Plant:
    """One balance: a tree, or a clump. Lengths in metres, areas in square metres."""

    trees: tuple[TreeFacts, ...]
    zone: dict[str, float]  # one tree's entries of RootZones
    crown_area_m2: float
    stock_factor: float
    store_kind: str  # of the watered store: pot, basin or ball
    ball_l: float  # its pot, or the ball it came with
    watered_radius_m: float  # nan: follows the roots
    height_m: float
    texture_key: str  # of the soil it stands in
    available_mm_per_m: float  # that this soil holds
    depth_m: float  # to which its roots drink; of a ball or a pot, nothing
    efficiency: float  # of what is poured
    wet_days: int  # for which water stands in it once full; 0: none ever does
    is_established: bool
    notes: tuple[str, ...]

    @property
    def chief(self) -> TreeFacts:
        """The member whose place and planting stand for all."""
        return self.trees[0]

    @property
    def is_container(self) -> bool:
        """Whether the roots end at a pot's wall."""
        return self.chief.in_container


def can_be_balanced(tree: TreeFacts, today: date) -> bool:
    """Whether a tree stands already and, if in a pot, has a pot of known size."""
    if tree.planted_on is not None and tree.planted_on > today:
        return False
    is_sized = (tree.container_litres or 0) > 0 or (tree.container_diameter_m or 0) > 0
    return not tree.in_container or is_sized


def _mulch_factor(tree: TreeFacts) -> float:
    """Return what mulch leaves of evaporation; it touches nothing else."""
    if tree.mulch is None:
        return 1 - EVAPORATION_SAVED if tree.floor == "mulch" else 1.0
    cover = min(max(tree.mulch.depth_mm, 0.0) / FULL_MULCH_MM, 1.0)
    return 1 - EVAPORATION_SAVED * cover


def _empty_zone(depletion_p: float) -> dict[str, float]:
    return dict.fromkeys(RootZones.__dataclass_fields__, 0.0) | {
        "depletion_p": depletion_p
    }


def _container_zone(tree: TreeFacts, crown_m: float) -> dict[str, float]:
    litres = pot_litres(tree)
    is_soil = "soil" in tree.container_medium
    share = AVAILABLE_SHARE_SOIL if is_soil else AVAILABLE_SHARE_MIX
    width = tree.container_diameter_m or pot_diameter_m(litres)
    return _empty_zone(min(tree.species.depletion_p, 0.5)) | {
        "inner_capacity_l": float(container_capacity_l(litres, share)),
        "inner_rain_area_m2": float(rain_catch_m2(width, crown_m)),
    }


def _new_zone(
    tree: TreeFacts, soil: Texture, *, has_hard_winters: bool
) -> dict[str, float]:
    litres = rooted_litres(tree)
    share = {
        Stock.CONTAINER_GROWN: AVAILABLE_SHARE_MIX * (1 - LOST_AFTER_PLANTING),
        Stock.BALLED: AVAILABLE_SHARE_SOIL,
        Stock.BARE_ROOT: BARE_ROOT_SHARE,
    }[tree.stock]
    radius = pot_diameter_m(litres) / 2
    ball = np.pi * radius**2
    growth = ROOT_GROWTH_M * (HARD_WINTER_FACTOR if has_hard_winters else 1.0)
    water = soil.available_water_mm_per_m
    return _empty_zone(_new_depletion_p(tree)) | {
        "inner_capacity_l": float(container_capacity_l(litres, share)),
        "inner_rain_area_m2": RAIN_CATCH * ball,
        "inner_evaporation_m2": BALL_EVAPORATION * ball * _mulch_factor(tree),
        "spill_share": 1.0,
        "ball_radius_m": radius,
        "root_growth_m_per_degree_day": growth,
        "ring_store_l_per_m2": RING_SHARE * water * RING_DEPTH_M,
        "ring_rain_share": RAIN_CATCH * RING_SHARE,
        "ring_cover_share": RING_SHARE * _cover(tree),
    }


def _new_depletion_p(tree: TreeFacts) -> float:
    """Return how dry a new tree's ball may get; who wants survival accepts stress."""
    if tree.goal is Goal.SURVIVAL:
        return GOAL_P[Goal.SURVIVAL]
    return min(tree.species.depletion_p, GOAL_P[tree.goal])


def _cover(tree: TreeFacts) -> float:
    return COVER.get(tree.floor, COVER["bare"]) * (
        1.0 if tree.floor == "grass" else _mulch_factor(tree)
    )


def _basin_radius_m(tree: TreeFacts, crown_m: float) -> float:
    """Return the radius of the watered place.

    About 3 m2 under a grown crown, a quarter of the ground under a wider one: less
    would hold no more than a day or two of what it drinks (no source).
    """
    if tree.watered_radius_m:
        return tree.watered_radius_m
    return float(max(np.clip(crown_m / 2, 0.4, 1.0), crown_m / 4))


def _root_depth_m(tree: TreeFacts, today: date) -> float:
    """Return how deep a tree drinks: a young one not yet as deep as its species."""
    full = tree.species.root_depth_m
    years = tree.years_since_planting(today)
    share = 1.0 if years is None else min(max(years / ESTABLISHED_YEARS, 0.0), 1.0)
    start = min(RING_DEPTH_M, full)
    return start + share * (full - start)


def _established_zone(
    tree: TreeFacts, soil: Texture, crown_m: float, depth_m: float
) -> dict[str, float]:
    crown = float(crown_area_m2(crown_m))
    roots = ROOTS_PER_CROWN * crown
    if tree.spacing_m:
        roots = min(roots, tree.spacing_m**2)
    basin = np.pi * _basin_radius_m(tree, crown_m) ** 2
    outer = max(roots - basin, 0.0)
    store_l_per_m2 = soil.available_water_mm_per_m * depth_m
    return _empty_zone(tree.species.depletion_p) | {
        "inner_capacity_l": store_l_per_m2 * basin,
        "inner_rain_area_m2": RAIN_CATCH * basin,
        "outer_capacity_l": store_l_per_m2 * outer,
        "outer_rain_area_m2": RAIN_CATCH * outer,
        "outer_cover_m2": _cover(tree) * max(outer - crown, 0.0),
    }


def warmth_since_planting(tree: TreeFacts, day: date, usual_warmth: float) -> float:
    """Return the degree days that drove the roots from planting until a day.

    ``usual_warmth`` is a mean day's; the weather of long ago is not in the record.
    """
    if tree.planted_on is None:
        return 0.0
    days = (day - tree.planted_on).days - PLANTING_LAG_DAYS
    return max(days, 0) * usual_warmth


def _is_settled(
    tree: TreeFacts, zone: dict[str, float], crown: float, warmth: float
) -> bool:
    """Whether both stores hold ten full days of use, so that the tree can be left."""
    reach = zone["ball_radius_m"] + zone["root_growth_m_per_degree_day"] * warmth
    ring = np.pi * (reach**2 - zone["ball_radius_m"] ** 2)
    held = zone["inner_capacity_l"] + zone["ring_store_l_per_m2"] * ring
    daily_l = 5.0 * tree.species.kc_mid * crown
    return bool(ESTABLISHED_SHARE * held >= ESTABLISHED_DAYS * daily_l)


def _efficiency(tree: TreeFacts, site: SiteFacts) -> float:
    """Return the share of what is poured that stays; a pot's rest carries salts off."""
    if not tree.in_container:
        return HAND_EFFICIENCY
    return 1 - (SALTY_LEACHING_FRACTION if site.is_water_salty else LEACHING_FRACTION)


def _wet_days(tree: TreeFacts, soil: Texture) -> int:
    if tree.in_container:
        return 1
    if drains_too_slowly(tree.drainage_hours):
        return WET_DAYS_UNSUITABLE
    return WET_DAYS if soil.is_slow else 0


def describe_plant(
    trees: Sequence[TreeFacts],
    site: SiteFacts,
    today: date,
    *,
    warmth: float,
    has_hard_winters: bool,
) -> Plant:
    """Return one balance's parameters from the facts of a tree or a clump.

    Parameters
    ----------
    trees : sequence of TreeFacts
        One tree, or all members of a clump; the first by id is the chief.
    site : SiteFacts
        For its soil.
    today : date
        Day on which the crown is judged.
    warmth : float
        Degree days since planting, up to today.
    has_hard_winters : bool
        Whether roots grow at the slow pace of cold climates.

    Raises
    ------
    ValueError
        If the site's texture is unknown.
    """
    members = tuple(sorted(trees, key=lambda tree: tree.id))
    chief = members[0]
    widths = [crown_width_m(tree, today) for tree in members]
    width = max(value for value, _is_measured in widths)
    crown = float(crown_area_m2(width))
    is_guess = not all(measured for _width, measured in widths)
    notes = ("crown_estimated",) if is_guess else ()
    if drains_too_slowly(chief.drainage_hours) and not chief.in_container:
        notes = (*notes, "drains_too_slowly")
    soil = texture_where_planted(site.soil_texture, chief.drainage_hours)
    new = _new_zone(chief, soil, has_hard_winters=has_hard_winters)
    depth = 0.0
    years = chief.years_since_planting(today)
    is_old = years is None or years > ESTABLISHED_YEARS
    if chief.in_container:
        kind, zone, settled = "pot", _container_zone(chief, width), True
    elif is_old or _is_settled(chief, new, crown, warmth):
        depth = _root_depth_m(chief, today)
        kind, settled = "basin", True
        zone = _established_zone(chief, soil, width, depth)
    else:
        kind, zone, settled = "ball", new, False
    radius = np.nan if not settled else _basin_radius_m(chief, width)
    return Plant(
        trees=members,
        zone=zone,
        crown_area_m2=crown,
        stock_factor=1.0 if settled else STOCK_FACTOR[chief.stock],
        store_kind=kind,
        ball_l=pot_litres(chief) if chief.in_container else rooted_litres(chief),
        watered_radius_m=chief.watered_radius_m or radius,
        height_m=tree_height_m(chief, width),
        texture_key=soil.key,
        available_mm_per_m=soil.available_water_mm_per_m,
        depth_m=depth,
        efficiency=_efficiency(chief, site),
        wet_days=_wet_days(chief, soil),
        is_established=settled,
        notes=notes,
    )


def stack_zones(plants: Sequence[Plant]) -> RootZones:
    """Return the zones of many plants as arrays of shape (plants,)."""
    return RootZones(
        **{
            name: np.array([plant.zone[name] for plant in plants])
            for name in RootZones.__dataclass_fields__
        }
    )
