"""Where on a plan a tree may stand at all, before other trees are looked at."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import cos, pi

import shapely

from care.facts import FeatureFacts, FeatureKind, LayoutFacts, PlantFacts
from care.science.clearances import JUDGES, shape_of
from care.science.spacing import grown_spread_m

#: Stems keep at least so far from the boundary, and half a grown crown where there is
#: room: what hangs over a fence is the neighbour's (common practice, no source).
LEAST_FROM_BOUNDARY_M = 0.5
#: No tree grows from these; a pot may stand on paving.
COVERED = frozenset({FeatureKind.BUILDING, FeatureKind.WATER, FeatureKind.PAVING})
COVERED_FOR_POTS = frozenset({FeatureKind.BUILDING, FeatureKind.WATER})
#: Nothing is put on the very edge of what covers the ground [m].
BESIDE_M = 0.05

#: Corners of a quarter circle; the circle is drawn outside the true one, so that no
#: point beyond it is too near.
_QUARTER = 6
_OUTSIDE = 1.0 / cos(pi / (4 * _QUARTER))
NOWHERE = shapely.Polygon()
AREA = 2  # dimensions


@dataclass(frozen=True, slots=True)
class Room:
    """Where one plant may stand; ``kept_off_by`` are features that leave no room.

    Each of them alone, taken away, would leave some.
    """

    area: shapely.Geometry
    kept_off_by: tuple[str, ...] = ()


def open_ground(layout: LayoutFacts) -> shapely.Geometry | None:
    """Return the room marked for trees within the boundary; ``None``: nothing marked.

    Where only one of the two is on the plan, that.
    """
    free = [_sound(each) for each in layout.of_kind(FeatureKind.FREE)]
    within = [_sound(each) for each in layout.of_kind(FeatureKind.BOUNDARY)]
    if not free and not within:
        return None
    marked = shapely.union_all(free or within)
    return _areas(shapely.intersection_all([marked, *within]))


def room_for(
    plant: PlantFacts,
    layout: LayoutFacts,
    *,
    ease: float = 1.0,
    water_setback_m: float | None = None,
) -> Room:
    """Return where a plant may stand, whatever else grows there.

    Parameters
    ----------
    plant : PlantFacts
        Its grown height and spread decide how far it keeps from what.
    layout : LayoutFacts
        With room for trees or a boundary, or there is nowhere.
    ease : float
        How much of half a grown crown is kept from the boundary [-], 0 to 1.
    water_setback_m : float, optional
        How far from water a local rule asks one to stay.

    Notes
    -----
    Distances are those that the conflicts of a plan are told by (`clearances`), so
    that a place within the room makes none.
    """
    ground = open_ground(layout)
    if ground is None:
        return Room(NOWHERE)
    ground = _within_boundary(ground, plant, layout, ease)
    barred = [
        (feature, shape)
        for feature in layout.features
        if (shape := _barred(feature, plant, water_setback_m)) is not None
    ]
    area = _without(ground, (shape for _, shape in barred))
    if not shapely.is_empty(area):
        return Room(area)
    return Room(NOWHERE, _keeping_off(ground, barred))


def _within_boundary(
    ground: shapely.Geometry, plant: PlantFacts, layout: LayoutFacts, ease: float
) -> shapely.Geometry:
    margin_m = max(LEAST_FROM_BOUNDARY_M, ease * grown_spread_m(plant) / 2)
    inner = [
        shapely.buffer(_sound(each), -margin_m, join_style="mitre")
        for each in layout.of_kind(FeatureKind.BOUNDARY)
    ]
    return shapely.intersection_all([ground, *inner])


def _barred(
    feature: FeatureFacts, plant: PlantFacts, water_setback_m: float | None
) -> shapely.Geometry | None:
    """Return the ground that a feature keeps a plant off, if any."""
    least_m = _least_m(feature, plant, water_setback_m)
    covered = COVERED_FOR_POTS if plant.in_container else COVERED
    if least_m <= 0.0 and feature.kind not in covered:
        return None
    shape, least_m = _sound(feature), max(least_m, BESIDE_M)
    return shapely.buffer(shape, least_m * _OUTSIDE, quad_segs=_QUARTER)


def _least_m(
    feature: FeatureFacts, plant: PlantFacts, water_setback_m: float | None
) -> float:
    if plant.in_container:
        return 0.0
    if feature.kind is FeatureKind.WATER:
        return water_setback_m or 0.0
    judge = JUDGES.get(feature.kind)
    rule = judge(plant, feature, 0.0) if judge else None
    return rule.least_m if rule else 0.0


def _without(
    ground: shapely.Geometry, barred: Iterable[shapely.Geometry]
) -> shapely.Geometry:
    return _areas(shapely.difference(ground, shapely.union_all(list(barred))))


def _sound(feature: FeatureFacts) -> shapely.Geometry:
    """Return a feature's shape; an outline that crosses itself is untangled."""
    return shapely.make_valid(shape_of(feature))


def _areas(shape: shapely.Geometry) -> shapely.Geometry:
    """Return the areas of a shape: lines and points remain where areas only touch."""
    parts = shapely.get_parts(shape)
    return shapely.union_all(parts[shapely.get_dimensions(parts) == AREA])


def _keeping_off(
    ground: shapely.Geometry, barred: Sequence[tuple[FeatureFacts, shapely.Geometry]]
) -> tuple[str, ...]:
    """Return the features without one of which there would be room."""
    return tuple(
        f"feature-{feature.id}"
        for feature, _ in barred
        if not shapely.is_empty(
            _without(ground, (shape for other, shape in barred if other is not feature))
        )
    )
