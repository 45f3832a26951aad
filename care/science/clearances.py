"""How far plants keep from what lies and stands on a plan and is no plant."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from care.facts import (
    AREAS,
    Array,
    Conflict,
    FeatureFacts,
    FeatureKind,
    PlantFacts,
    Standing,
)
from care.science.planting import (
    PIPE_M,
    UNDER_LINES_M,
    building_distance_m,
    septic_distance_m,
)
from care.science.power_lines import LOW_VOLTAGE_KV, minimum_distance_m
from care.science.spacing import PRACTICE, TOLERANCE_M, grown_spread_m

#: How near a person, a tool or a branch may come to wires of unknown, usual voltage.
BRANCH_TO_WIRE_M = minimum_distance_m(LOW_VOLTAGE_KV)
#: Where nobody said how high wires hang, a plant of 25 ft just keeps that below them.
USUAL_WIRE_M = UNDER_LINES_M + BRANCH_TO_WIRE_M
CORNERS_OF_AREA = 3

TAKING_ROOT = ("taking_root",)
SEPTIC_SOURCES = ("nc_chatham_septic", "extension_tree_roots")
WIRE_SOURCES = ("taking_root", "osha_1910_269")


@dataclass(frozen=True, slots=True)
class _Rule:
    """What a thing asks of a plant: to be so far away [m], else ``code`` is told."""

    code: str
    least_m: float
    sources: tuple[str, ...]


def shape_of(feature: FeatureFacts) -> shapely.Geometry:
    """Return an area, a line or a point of the plan as a shape [m]."""
    points = feature.points_m
    if len(points) == 1:
        return shapely.Point(points[0])
    if feature.kind in AREAS and len(points) >= CORNERS_OF_AREA:
        return shapely.Polygon(points)
    return shapely.LineString(points)


def distances_m(
    plants: Sequence[PlantFacts], features: Sequence[FeatureFacts]
) -> Array:
    """Return how far stems are from features [m], shape (plants, features).

    The nearest point of an outline counts; within an area it is 0.
    """
    places = np.array([plant.place_m for plant in plants], dtype=np.float64)
    stems = shapely.points(places.reshape(-1, 2))
    apart_m = [shapely.distance(stems, shape_of(feature)) for feature in features]
    return np.array(apart_m, dtype=np.float64).reshape(len(features), len(plants)).T


def clearance_conflicts(
    plants: Sequence[PlantFacts],
    features: Sequence[FeatureFacts],
    *,
    water_setback_m: float | None = None,
) -> tuple[Conflict, ...]:
    """Return which of our plants and of those wanted stand too near to what.

    Parameters
    ----------
    plants : sequence of PlantFacts
        Neighbours' trees and those without a place are passed over. Pots can be moved
        and do not root into what is near: only the boundary is held against them.
    features : sequence of FeatureFacts
        What lies and stands on the plan.
    water_setback_m : float, optional
        How far from water a local rule forbids feeding.

    Returns
    -------
    tuple of Conflict
        ``outside_boundary``, ``in_water``, ``near_septic``, ``near_wires``,
        ``near_building``, ``near_wall``, ``near_pipe``, ``near_paving``,
        ``within_setback``; ``whom`` is the feature.
    """
    ours = sorted(
        (
            plant
            for plant in plants
            if plant.place_m is not None and plant.standing is not Standing.NEIGHBOUR
        ),
        key=lambda plant: plant.ref,
    )
    apart_m = distances_m(ours, features)
    found = (
        _judged(plant, feature, float(apart_m[row, column]), water_setback_m)
        for row, plant in enumerate(ours)
        for column, feature in enumerate(features)
    )
    return tuple(conflict for conflict in found if conflict is not None)


def _judged(
    plant: PlantFacts,
    feature: FeatureFacts,
    distance_m: float,
    water_setback_m: float | None,
) -> Conflict | None:
    whom = f"feature-{feature.id}"
    code = _misplaced(plant, feature, distance_m)
    if code:
        return Conflict(code, plant.ref, whom, distance_m, sources=PRACTICE)
    rule = _rule(plant, feature, distance_m, water_setback_m)
    if rule is None or plant.in_container or distance_m >= rule.least_m - TOLERANCE_M:
        return None
    return Conflict(
        rule.code, plant.ref, whom, distance_m, rule.least_m, sources=rule.sources
    )


def _misplaced(plant: PlantFacts, feature: FeatureFacts, distance_m: float) -> str:
    """Return what is wrong whatever the distance, empty where nothing is."""
    if feature.kind is FeatureKind.BOUNDARY and distance_m > TOLERANCE_M:
        return "outside_boundary"
    is_wet = feature.kind is FeatureKind.WATER and distance_m == 0
    return "in_water" if is_wet and not plant.in_container else ""


def _rule(
    plant: PlantFacts,
    feature: FeatureFacts,
    distance_m: float,
    water_setback_m: float | None,
) -> _Rule | None:
    if feature.kind is FeatureKind.WATER and water_setback_m is not None:
        return _Rule("within_setback", water_setback_m, ("local_rule",))
    judge = JUDGES.get(feature.kind)
    return judge(plant, feature, distance_m) if judge else None


def _septic(plant: PlantFacts, feature: FeatureFacts, distance_m: float) -> _Rule:
    del feature, distance_m
    least_m = septic_distance_m(plant.grown_height_m or 0.0)
    return _Rule("near_septic", least_m, SEPTIC_SOURCES)


def _building(
    plant: PlantFacts, feature: FeatureFacts, distance_m: float
) -> _Rule | None:
    """Hold all but vines to it, which walls are made use of to hold up."""
    del distance_m
    if plant.species.habit == "vine":
        return None
    code = "near_wall" if feature.kind is FeatureKind.WALL else "near_building"
    return _room(plant, code, building_distance_m(plant.grown_height_m or 0.0))


def _paving(plant: PlantFacts, feature: FeatureFacts, distance_m: float) -> _Rule:
    del feature, distance_m
    return _room(plant, "near_paving", PIPE_M)


def _pipe(plant: PlantFacts, feature: FeatureFacts, distance_m: float) -> _Rule:
    del plant, feature, distance_m
    return _Rule("near_pipe", PIPE_M, TAKING_ROOT)


def _room(plant: PlantFacts, code: str, of_tree_m: float) -> _Rule:
    """Hold a tree to the published distance, lower growth to half its spread.

    What is published is of trees; bushes and vines need room for their crown alone
    (common practice, no source).
    """
    if plant.species.habit == "tree":
        return _Rule(code, of_tree_m, TAKING_ROOT)
    return _Rule(code, min(of_tree_m, grown_spread_m(plant) / 2), PRACTICE)


def _wires(plant: PlantFacts, feature: FeatureFacts, distance_m: float) -> _Rule | None:
    """Hold what grows above 25 ft, or into wires, a branch's distance away from them.

    Under and near wires nothing above 25 ft when grown (takingroot.info); whoever
    prunes, and what is pruned, stays 10 ft away from them (29 CFR 1910.269).
    """
    radius_m = grown_spread_m(plant) / 2
    aside_m = max(distance_m - radius_m, 0.0)
    height_m = plant.grown_height_m or np.inf
    below_m = max((feature.height_m or USUAL_WIRE_M) - height_m, 0.0)
    is_low = height_m <= UNDER_LINES_M
    if is_low and np.hypot(aside_m, below_m) >= BRANCH_TO_WIRE_M - TOLERANCE_M:
        return None
    return _Rule("near_wires", radius_m + BRANCH_TO_WIRE_M, WIRE_SOURCES)


Judge = Callable[[PlantFacts, FeatureFacts, float], _Rule | None]
JUDGES: dict[FeatureKind, Judge] = {
    FeatureKind.SEPTIC: _septic,
    FeatureKind.WIRES: _wires,
    FeatureKind.BUILDING: _building,
    FeatureKind.WALL: _building,
    FeatureKind.PIPE: _pipe,
    FeatureKind.PAVING: _paving,
}
