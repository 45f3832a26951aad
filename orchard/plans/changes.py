"""What a read file would change of a plan: matched, compared, checked."""

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from django.utils.translation import gettext, gettext_noop

from orchard.models import Corner, Feature
from orchard.plans.gathered import OnPlan, Plant, key_of, place_of, points_of
from orchard.plans.geojson_in import (
    MOST_PROBLEMS,
    PlanFileError,
    ReadFeature,
    ReadPlan,
    ReadPlant,
)
from orchard.plans.geojson_out import TREE, feature_id
from orchard.plans.measured import Point
from orchard.plans.problems import PlanError
from orchard.plans.shapes import Neighbour, check_tree

#: What moved less than this did not move: files round [m].
NOT_MOVED_M = 0.005


@dataclass
class Changes:
    """What an import would do; ``unknown`` are trees that nobody entered."""

    moved: list[tuple[Plant, Point]] = field(default_factory=list)
    new_features: list[ReadFeature] = field(default_factory=list)
    changed_features: list[tuple[Feature, ReadFeature]] = field(default_factory=list)
    new_corners: list[tuple[str, Point]] = field(default_factory=list)
    moved_corners: list[tuple[Corner, Point]] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    same: int = 0

    @property
    def number(self) -> int:
        """How many things would change."""
        return sum(
            len(each)
            for each in (
                self.moved,
                self.new_features,
                self.changed_features,
                self.new_corners,
                self.moved_corners,
            )
        )


def changes_of(read: ReadPlan, plan: OnPlan, *, may_be_outside: bool) -> Changes:
    """Return what a file would change of a plan.

    Trees and wanted trees are known by their id, else by a name that only one of them
    has; features by id, else by kind and name; corners by name. Nothing is removed.

    Raises
    ------
    PlanFileError
        A tree would stand outside or on another, or a thing is in the file twice.
    """
    changes = Changes(left_out=list(read.left_out))
    problems: list[PlanError] = []
    _match_plants(changes, read, plan, problems)
    _match_features(changes, read, plan, problems)
    _match_corners(changes, read, plan, problems)
    boundary_m = _boundary_after(changes, plan)
    standing = plan.others(*(plant for plant, _ in changes.moved))
    for plant, place in changes.moved:
        try:
            check_tree(
                place,
                boundary_m=boundary_m,
                others=_others_after(standing, changes, plant),
                may_be_outside=may_be_outside,
            )
        except PlanError as error:
            problems.append(error.inside(f"“{plant.name}”"))
    if problems:
        raise PlanFileError(problems[:MOST_PROBLEMS])
    return changes


def _match_plants(
    changes: Changes, read: ReadPlan, plan: OnPlan, problems: list[PlanError]
) -> None:
    by_id = {str(plant.public_id): plant for plant in plan.plants}
    names = Counter(plant.name for plant in plan.plants)
    by_name = {plant.name: plant for plant in plan.plants if names[plant.name] == 1}
    seen: set[str] = set()
    for one in read.plants:
        plant = by_id.get(one.id) or by_name.get(one.name)
        if plant is None:
            changes.unknown.append(_plant_words(one))
        elif key_of(plant) in seen:
            problems.append(_twice(plant.name))
        else:
            seen.add(key_of(plant))
            _move(changes, plant, one.place_m)


def _plant_words(one: ReadPlant) -> str:
    return one.name or (
        gettext("a tree") if one.kind == TREE else gettext("a wanted tree")
    )


def _twice(name: str) -> PlanError:
    return PlanError(gettext_noop("“{name}” is in the file twice."), name=name)


def _move(changes: Changes, plant: Plant, place_m: Point) -> None:
    before = place_of(plant)
    if before and math.dist(before, place_m) < NOT_MOVED_M:
        changes.same += 1
    else:
        changes.moved.append((plant, place_m))


def _match_features(
    changes: Changes, read: ReadPlan, plan: OnPlan, problems: list[PlanError]
) -> None:
    by_id = {feature_id(each, plan.site.slug): each for each in plan.features}
    by_name = _features_by_name(plan.features)
    seen: set[int] = set()
    boundaries = 0
    for one in read.features:
        boundaries += one.kind == Feature.Kind.BOUNDARY
        found = by_id.get(one.id)
        if found is None or found.kind != one.kind:
            found = by_name.get(_name_key(one.kind, one.name))
        if found is None:
            changes.new_features.append(one)
        elif found.pk in seen:
            problems.append(_twice(one.name or found.get_kind_display()))
        else:
            seen.add(found.pk)
            _change_feature(changes, found, one)
    if boundaries > 1:
        message = gettext_noop("The file has {number} boundaries; a garden has one.")
        problems.append(PlanError(message, number=boundaries))


def _name_key(kind: str, name: str) -> tuple[str, str]:
    """Return what features are the same by; there is one boundary whatever its name."""
    return kind, "" if kind == Feature.Kind.BOUNDARY else name.casefold()


def _features_by_name(
    features: Sequence[Feature],
) -> dict[tuple[str, str], Feature]:
    keys = [_name_key(each.kind, each.name) for each in features]
    counts = Counter(keys)
    return {
        key: each
        for key, each in zip(keys, features, strict=True)
        if counts[key] == 1 and (key[1] or each.kind == Feature.Kind.BOUNDARY)
    }


def _change_feature(changes: Changes, feature: Feature, one: ReadFeature) -> None:
    is_same = (
        (feature.name, feature.height_m, feature.flow_l_per_min)
        == (one.name, one.height_m, one.flow_l_per_min)
    ) and _is_same_shape(points_of(feature), one.points_m)
    if is_same:
        changes.same += 1
    else:
        changes.changed_features.append((feature, one))


def _is_same_shape(before: Sequence[Point], after: Sequence[Point]) -> bool:
    """Whether two courses are one, whichever way round they run."""
    return len(before) == len(after) and any(
        all(math.dist(a, b) < NOT_MOVED_M for a, b in zip(before, way, strict=True))
        for way in (after, after[::-1])
    )


def _match_corners(
    changes: Changes, read: ReadPlan, plan: OnPlan, problems: list[PlanError]
) -> None:
    by_name = {corner.name.casefold(): corner for corner in plan.corners}
    seen: set[str] = set()
    for one in read.corners:
        name = one.name.casefold()
        if name in seen:
            problems.append(_twice(one.name))
            continue
        seen.add(name)
        corner = by_name.get(name)
        if corner is None:
            changes.new_corners.append((one.name, one.place_m))
        elif math.dist((corner.x_m, corner.y_m), one.place_m) < NOT_MOVED_M:
            changes.same += 1
        else:
            changes.moved_corners.append((corner, one.place_m))


def _boundary_after(changes: Changes, plan: OnPlan) -> Sequence[Point] | None:
    written: Iterable[ReadFeature] = (
        *changes.new_features,
        *(one for _, one in changes.changed_features),
    )
    for one in written:
        if one.kind == Feature.Kind.BOUNDARY:
            return one.points_m
    return plan.boundary_m


def _others_after(
    standing: list[Neighbour], changes: Changes, plant: Plant
) -> list[Neighbour]:
    """Return every other plant where it would stand then."""
    moved = [
        Neighbour(each.name, place)
        for each, place in changes.moved
        if key_of(each) != key_of(plant)
    ]
    return [*standing, *moved]
