"""What else decides: the soil's acidity, room to grow, a pot, and the summer's heat."""

from collections.abc import Sequence

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from care.facts import FeatureKind, LayoutFacts, SiteFacts, SpeciesFacts
from care.facts.fit import Factor, Topic, Verdict
from care.science.extreme_cold import ZoneEstimate
from care.science.fit_cold import zone_rank
from care.science.fit_verdicts import within

# EcoCrop's bounds are a preferred band, no limits of survival; so far outside it a
# soil is still worth setting right. Ours.
NEAR_PH = 0.5
BLOCKED = (
    FeatureKind.BUILDING,
    FeatureKind.SEPTIC,
    FeatureKind.PAVING,
    FeatureKind.WATER,
)
# From here on the American Horticultural Society's heat zones go from 5 up: more than
# 30 days a year above 30 degC. That it matters from there on is ours.
MANY_HOT_DAYS = 30.0
CORNERS = 3  # of an area at least
ROOM_TOLERANCE_M = 0.05
_BY_FIT = {"good": Verdict.GOOD, "fair": Verdict.FAIR, "poor": Verdict.POOR}


def soil_factor(kind: SpeciesFacts, site: SiteFacts) -> Factor:
    """Return the verdict on the soil's acidity by the site's own test.

    At worst poor: soil can be set right, and a pot has its own.
    """
    ph = None if site.soil_test is None else site.soil_test.ph
    low, high = kind.ph_min, kind.ph_max
    if ph is None or low is None or high is None:
        code = "soil_no_test" if ph is None else "soil_no_figure"
        return Factor(Topic.SOIL, Verdict.UNKNOWN, code)
    outside = round(max(low - ph, ph - high), 6)
    verdict = Verdict.GOOD
    if outside > 0:
        verdict = Verdict.FAIR if outside <= NEAR_PH else Verdict.POOR
    is_acid = ph < low
    code = "soil_too_acid" if is_acid else "soil_too_alkaline"
    fixes = ("lime_soil",) if is_acid else ("sulfur_soil", "pot_own_mix")
    return Factor(
        Topic.SOIL,
        verdict,
        "soil_good" if verdict is Verdict.GOOD else code,
        (("ph", ph), ("ph_min", low), ("ph_max", high)),
        margin=within(-outside),
        is_unverified=bool({"ph_min", "ph_max"} & kind.unverified),
        sources=("soil_laboratory", kind.source_of("ph_min")),
        fixes=() if verdict is Verdict.GOOD else fixes,
    )


def largest_room_m(layout: LayoutFacts) -> float | None:
    """Return the width of the widest circle still free on a plan [m].

    Inside areas drawn as free, else inside the boundary; less buildings, paving, water
    and septic fields, and less the grown crowns of plants whose place is known.

    Returns
    -------
    float or None
        ``None`` where neither is drawn; 0 where nothing is free.
    """
    kinds = (FeatureKind.FREE, FeatureKind.BOUNDARY)
    areas = next((found for kind in kinds if (found := _areas(layout, kind))), ())
    if not areas:
        return None
    taken = [
        *(area for kind in BLOCKED for area in _areas(layout, kind)),
        *(
            shapely.Point(plant.place_m).buffer(plant.grown_spread_m / 2)
            for plant in layout.plants
            if plant.place_m is not None and plant.grown_spread_m
        ),
    ]
    free = shapely.union_all(areas).difference(shapely.union_all(taken))
    parts = [
        part
        for part in shapely.get_parts(free)
        if isinstance(part, Polygon) and not part.is_empty
    ]
    return max(map(_widest_m, parts), default=0.0)


def _areas(layout: LayoutFacts, kind: FeatureKind) -> tuple[BaseGeometry, ...]:
    return tuple(
        shapely.make_valid(Polygon(feature.points_m))
        for feature in layout.of_kind(kind)
        if len(feature.points_m) >= CORNERS
    )


def _widest_m(part: Polygon) -> float:
    circle = shapely.maximum_inscribed_circle(part, tolerance=ROOM_TOLERANCE_M)
    return 2 * float(circle.length)


def space_factor(kind: SpeciesFacts, room_m: float | None) -> Factor:
    """Return the verdict on room for the grown crown.

    Fair where it must be kept smaller than it grows, poor below its least spacing.
    """
    spread_m, least_m = kind.mature_spread_m, kind.spacing_min_m
    if room_m is None or spread_m is None:
        code = "space_no_plan" if room_m is None else "space_no_figure"
        return Factor(Topic.SPACE, Verdict.UNKNOWN, code)
    verdict = Verdict.GOOD
    if room_m < spread_m:
        is_small = room_m < (spread_m if least_m is None else least_m)
        verdict = Verdict.POOR if is_small else Verdict.FAIR
    return Factor(
        Topic.SPACE,
        verdict,
        "space_good" if verdict is Verdict.GOOD else "space_short",
        (("room_m", room_m), ("spread_m", spread_m), ("least_m", least_m)),
        margin=within((room_m - spread_m) / spread_m),
        is_unverified="mature_spread_m" in kind.unverified,
        sources=(kind.source_of("mature_spread_m"),),
        fixes=() if verdict is Verdict.GOOD else ("keep_small",),
    )


def pot_factor(kind: SpeciesFacts) -> Factor:
    """Return the verdict on how a kind takes to a pot."""
    verdict = _BY_FIT.get(kind.container_ok, Verdict.UNKNOWN)
    return Factor(
        Topic.POT,
        verdict,
        "pot_unknown" if verdict is Verdict.UNKNOWN else "pot_takes",
        (("least_l", kind.container_min_l), ("takes", kind.container_ok or None)),
        is_unverified="container_ok" in kind.unverified,
        sources=(kind.source_of("container_ok"),),
        fixes=("plant_in_ground",) if verdict is Verdict.POOR else (),
    )


def heat_factors(
    kinds: Sequence[SpeciesFacts],
    zone: ZoneEstimate | None,
    hot_days: float | None,
) -> list[Factor]:
    """Return what the zones hint at of too warm a place, in the order of the kinds.

    No figure of the heat a kind bears was read, so no place is called too hot: where
    winters are milder than its zones go and summers are hot the hint is fair, else it
    is unknown. Mild winters alone, as by a cool sea, say nothing of heat.
    """
    return [_heat(kind, zone, hot_days) for kind in kinds]


def _heat(
    kind: SpeciesFacts, zone: ZoneEstimate | None, hot_days: float | None
) -> Factor:
    numbers = (
        ("hot_days", hot_days),
        ("zone", None if zone is None else zone.zone),
        ("zone_max", kind.usda_zone_max or None),
    )
    if zone is None or not kind.usda_zone_max:
        return Factor(Topic.HEAT, Verdict.UNKNOWN, "heat_no_figure", numbers)
    warmest = zone_rank(kind.usda_zone_max, is_warm_end=True)
    has_hot_summers = hot_days is not None and hot_days > MANY_HOT_DAYS
    if zone_rank(zone.colder_zone) <= warmest or not has_hot_summers:
        return Factor(Topic.HEAT, Verdict.UNKNOWN, "heat_no_figure", numbers)
    return Factor(
        Topic.HEAT,
        Verdict.FAIR,
        "heat_beyond_zones",
        numbers,
        is_unverified="usda_zone_max" in kind.unverified,
        sources=(kind.source_of("usda_zone_max"),),
    )
