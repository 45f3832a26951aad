"""How much of the sun walls, buildings and grown neighbours take from a plant."""

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from care.facts import (
    AREAS,
    Array,
    Conflict,
    FeatureFacts,
    FeatureKind,
    Flags,
    LayoutFacts,
    PlantFacts,
    Point,
    Standing,
)
from care.science.spacing import declared_together, grown_spread_m, in_order
from care.science.sun_path import EQUINOX_RAD, SunPath, midsummer_rad, sun_path

#: "Six to eight hours of sun" of extension pages; from memory.
FULL_SUN_H = 6.0
PART_SUN_H = 3.0
#: What grows under taller trees by nature or by custom; from memory.
BEARS_SHADE = frozenset({"cacao", "coffee", "currant", "elderberry", "pawpaw"})
#: Where nobody measured: one storey with its roof, a garden wall; no source.
USUAL_HEIGHT_M: Mapping[FeatureKind, float] = {
    FeatureKind.BUILDING: 5.0,
    FeatureKind.WALL: 1.8,
}
USUAL_PLANT_M = 3.0
#: The part of a crown that bears is looked at, not its lowest branches; no source.
LOOKED_AT_SHARE = 0.75
SOURCES = ("memory",)
_TINY = 1e-9


@dataclass(frozen=True, slots=True)
class Sunlight:
    """Hours of direct sun of a clear day in a place: at equinox and at midsummer [h].

    ``taken_h`` is what each thing alone takes of the mean of both days, by ``ref`` or
    ``feature-<id>``; those that take nothing are left out.
    """

    equinox_h: float
    midsummer_h: float
    taken_h: Mapping[str, float]

    @property
    def darker_h(self) -> float:
        """The hours of the darker of the two, which the growing season lies between."""
        return min(self.equinox_h, self.midsummer_h)

    @property
    def worst(self) -> str:
        """What takes most; empty where nothing takes any."""
        return max(sorted(self.taken_h), key=self.taken_h.__getitem__, default="")


def sunlight(layout: LayoutFacts) -> dict[str, Sunlight]:
    """Return the sun that each of ours and of those wanted gets, by its ref.

    All plants are taken as grown. Looked at is the point at three quarters of a plant's
    height. Buildings and walls stand upright; crowns are egg-shaped, as high and wide as
    the grown plants, and let nothing through. Pots are no obstacle, nor is who shares a
    declared hedge or clump.

    Parameters
    ----------
    layout : LayoutFacts
        Either half of the earth, any way up of the page. Plants without a place take
        no part.
    """
    scene = _scene(layout)
    return {
        plant.ref: _light(scene, plant)
        for plant in in_order(layout.plants)
        if plant.standing is not Standing.NEIGHBOUR
    }


def shading_conflicts(
    plants: Sequence[PlantFacts], lights: Mapping[str, Sunlight]
) -> tuple[Conflict, ...]:
    """Return which plants get less sun than they need.

    Held against the need are the hours of the darker of the two days. ``whom`` is what
    takes most of it. Where even the open has too little sun, nothing on the plan is to
    blame and there is no conflict.

    Parameters
    ----------
    plants : sequence of PlantFacts
        Those without a light are passed over.
    lights : mapping of str to Sunlight
        As :func:`sunlight` returns them.
    """
    return tuple(
        Conflict(
            "shading", plant.ref, light.worst, sun_hours=light.darker_h, sources=SOURCES
        )
        for plant in plants
        if (light := lights.get(plant.ref)) is not None
        and light.worst
        and light.darker_h < least_sun_h(plant)
    )


def least_sun_h(plant: PlantFacts) -> float:
    """Return how many hours of sun a plant needs to bear well [h]; from memory."""
    return PART_SUN_H if plant.species.key in BEARS_SHADE else FULL_SUN_H


def _height_m(plant: PlantFacts) -> float:
    if plant.in_container and plant.height_m:
        return plant.height_m
    return plant.grown_height_m or plant.height_m or USUAL_PLANT_M


@dataclass(frozen=True, slots=True)
class _Scene:
    """What may hide the sun, and where the sun is, on two days one after the other.

    ``names`` has those of the faces first. ``faces_m`` of shape (faces, 5): both ends
    and the height of the top. ``crowns_m`` of shape (crowns, 4): the stem, the radius,
    the height; ``owners`` are whose the crowns are. ``rays`` of shape (steps, 3): to the
    right, up the page, high; the first ``of_equinox`` are those of the equinox.
    """

    names: tuple[str, ...]
    faces_m: Array
    crowns_m: Array
    owners: tuple[PlantFacts, ...]
    rays: Array
    of_equinox: int
    step_h: float


def _scene(layout: LayoutFacts) -> _Scene:
    faces = [
        (f"feature-{feature.id}", (*one, *other, _top_m(feature)))
        for feature in layout.of_kind(*USUAL_HEIGHT_M)
        for one, other in _sides(feature)
    ]
    owners = tuple(plant for plant in layout.plants if _shades(plant))
    crowns = [
        (*(plant.place_m or ()), grown_spread_m(plant) / 2, _height_m(plant))
        for plant in owners
    ]
    equinox = sun_path(layout.latitude_deg, EQUINOX_RAD)
    midsummer = sun_path(layout.latitude_deg, midsummer_rad(layout.latitude_deg))
    return _Scene(
        names=(*(name for name, _ in faces), *(plant.ref for plant in owners)),
        faces_m=_table([row for _, row in faces], 5),
        crowns_m=_table(crowns, 4),
        owners=owners,
        rays=np.concatenate(
            [_rays(path, layout.up_bearing_deg) for path in (equinox, midsummer)]
        ),
        of_equinox=len(equinox.elevation_rad),
        step_h=equinox.step_h,
    )


def _light(scene: _Scene, plant: PlantFacts) -> Sunlight:
    eye_m = np.array([*(plant.place_m or ()), LOOKED_AT_SHARE * _height_m(plant)])
    others = np.array([_is_apart(other, plant) for other in scene.owners], dtype=bool)
    by_faces = _behind_faces(eye_m, scene.rays, scene.faces_m)
    by_crowns = _behind_crowns(eye_m, scene.rays, scene.crowns_m)
    dark: Flags = np.vstack([by_faces, by_crowns & others[:, np.newaxis]])
    is_lit: Flags = np.asarray(~dark.any(axis=0))
    open_h = len(scene.rays) * scene.step_h / 2
    taken_h: dict[str, float] = {}
    for at in np.flatnonzero(dark.any(axis=1)):
        name, hours = scene.names[at], float(dark[at].sum()) * scene.step_h / 2
        taken_h[name] = min(taken_h.get(name, 0.0) + hours, open_h)
    return Sunlight(
        equinox_h=float(is_lit[: scene.of_equinox].sum()) * scene.step_h,
        midsummer_h=float(is_lit[scene.of_equinox :].sum()) * scene.step_h,
        taken_h=taken_h,
    )


def _table(rows: Sequence[Sequence[float]], width: int) -> Array:
    return np.array(rows, dtype=np.float64).reshape(-1, width)


def _shades(plant: PlantFacts) -> bool:
    is_lasting = plant.place_m is not None and not plant.in_container
    return is_lasting and grown_spread_m(plant) > 0


def _is_apart(other: PlantFacts, plant: PlantFacts) -> bool:
    return other.ref != plant.ref and declared_together(other, plant) is None


def _top_m(feature: FeatureFacts) -> float:
    return feature.height_m or USUAL_HEIGHT_M[feature.kind]


def _sides(feature: FeatureFacts) -> Iterable[tuple[Point, Point]]:
    points = feature.points_m
    if feature.kind in AREAS:
        points = (*points, points[0])
    return itertools.pairwise(points)


def _rays(path: SunPath, up_bearing_deg: float) -> Array:
    """Return directions towards the sun, one to the right, up the page and high."""
    turned = path.azimuth_rad - np.radians(up_bearing_deg)
    return np.stack(
        [np.sin(turned), np.cos(turned), np.tan(path.elevation_rad)], axis=-1
    )


def _behind_faces(eye_m: Array, rays: Array, faces_m: Array) -> Flags:
    """Return where a ray meets an upright face below its top.

    On the page a ray is ``eye + t (right, up)`` and a face ``one + u (other - one)``;
    at ``t`` the ray has risen by ``t`` times the sun's tangent.
    """
    one, along = faces_m[:, None, 0:2], faces_m[:, None, 2:4] - faces_m[:, None, 0:2]
    to_face = one - eye_m[:2]
    across = _cross(rays[None, :, :2], along)
    is_met = np.abs(across) > _TINY
    safe = np.where(is_met, across, 1.0)
    far = _cross(to_face, along) / safe
    at = _cross(to_face, rays[None, :, :2]) / safe
    is_below = eye_m[2] + far * rays[None, :, 2] < faces_m[:, None, 4]
    return np.asarray(is_met & (far > 0) & (at >= 0) & (at <= 1) & is_below)


def _cross(one: Array, other: Array) -> Array:
    return np.asarray(one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0])


def _behind_crowns(eye_m: Array, rays: Array, crowns_m: Array) -> Flags:
    """Return where a ray meets an egg-shaped crown that stands on the ground.

    Lengths are divided by the egg's own radii, which makes it a ball of radius one.
    """
    half_m = crowns_m[:, 3:4] / 2
    radii = np.hstack([crowns_m[:, 2:3], crowns_m[:, 2:3], half_m])
    to_middle = (np.hstack([crowns_m[:, :2], half_m]) - eye_m) / radii
    ahead = (to_middle / radii) @ rays.T
    squared = radii**-2 @ (rays**2).T
    away = (to_middle**2).sum(axis=-1, keepdims=True)
    return np.asarray((away < 1) | ((ahead > 0) & (away - ahead**2 / squared < 1)))
