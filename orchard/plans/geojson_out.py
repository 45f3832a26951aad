"""The plan as GeoJSON (RFC 7946), for maps and drawing programs.

Longitude before latitude on WGS 84, exterior rings counterclockwise (section 3.1.6),
a bounding box (section 5).
"""

import uuid
from collections.abc import Iterable, Sequence
from datetime import date
from typing import TypeVar

from orchard.models import Corner, Feature, NeighbourTree, Tree, WantedTree
from orchard.plans.gathered import OnPlan, Plant, place_of, points_of
from orchard.plans.measured import Point
from orchard.plans.shapes import AREA_KINDS, POINT_KINDS, signed_area_m2

#: A hundred-millionth of a degree is a millimetre: what is read back is where it was.
DECIMALS = 8
TREE, WANTED, NEIGHBOUR, CORNER = "tree", "wanted", "neighbour", "corner"
_HALF_ROUND_DEG = 180.0

Position = list[float]
Members = dict[str, object]
P = TypeVar("P", bound=Tree | WantedTree | NeighbourTree)


def feature_id(feature: Feature, slug: str) -> str:
    """Return what tells a feature of a site from every other, in every file."""
    return str(uuid.uuid5(uuid.NAMESPACE_URL, f"plan/{slug}/{feature.pk}"))


def to_geojson(plan: OnPlan) -> Members:
    """Return a plan as a FeatureCollection; what has no place is not in it."""
    members = [
        *(_feature(feature, plan) for feature in plan.features),
        *(_corner(corner, plan) for corner in plan.corners),
        *(_plant(plant, place, plan) for plant, place in _placed(plan.plants)),
        *(_neighbour(tree, place, plan) for tree, place in _placed(plan.neighbours)),
    ]
    collection: Members = {"type": "FeatureCollection"}
    places = [
        *(point for feature in plan.features for point in points_of(feature)),
        *plan.corner_places.values(),
        *(place for _, place in _placed(plan.plants)),
        *(place for _, place in _placed(plan.neighbours)),
    ]
    if places:
        collection["bbox"] = _bbox([_position(place, plan) for place in places])
    return {**collection, "features": members}


def _placed(plants: Iterable[P]) -> list[tuple[P, Point]]:
    return [(plant, place) for plant in plants if (place := place_of(plant))]


def _position(place_m: Point, plan: OnPlan) -> Position:
    longitude_deg, latitude_deg = plan.axes.to_earth(*place_m)
    return [round(longitude_deg, DECIMALS), round(latitude_deg, DECIMALS)]


def _bbox(positions: Sequence[Position]) -> list[float]:
    """Return west, south, east, north; across the date line west is above east."""
    longitudes = [position[0] for position in positions]
    latitudes = [position[1] for position in positions]
    west, east = min(longitudes), max(longitudes)
    if east - west > _HALF_ROUND_DEG:
        west = min(each for each in longitudes if each > 0)
        east = max(each for each in longitudes if each < 0)
    return [west, min(latitudes), east, max(latitudes)]


def _member(key: str, geometry: Members, properties: Members) -> Members:
    known = {
        name: value.isoformat() if isinstance(value, date) else value
        for name, value in properties.items()
        if value not in (None, "")
    }
    return {"type": "Feature", "id": key, "geometry": geometry, "properties": known}


def _point(place_m: Point, plan: OnPlan) -> Members:
    return {"type": "Point", "coordinates": _position(place_m, plan)}


def _geometry(feature: Feature, plan: OnPlan) -> Members:
    points_m = points_of(feature)
    if feature.kind in POINT_KINDS:
        return _point(points_m[0], plan)
    if feature.kind not in AREA_KINDS:
        line = [_position(point, plan) for point in points_m]
        return {"type": "LineString", "coordinates": line}
    if signed_area_m2(points_m) < 0:
        points_m = points_m[::-1]
    ring = [_position(point, plan) for point in [*points_m, points_m[0]]]
    return {"type": "Polygon", "coordinates": [ring]}


def _feature(feature: Feature, plan: OnPlan) -> Members:
    return _member(
        feature_id(feature, plan.site.slug),
        _geometry(feature, plan),
        {
            "kind": feature.kind,
            "name": feature.name,
            "height_m": feature.height_m,
            "flow_l_per_min": feature.flow_l_per_min,
        },
    )


def _corner(corner: Corner, plan: OnPlan) -> Members:
    return _member(
        f"corner {corner.name}",
        _point((corner.x_m, corner.y_m), plan),
        {"kind": CORNER, "name": corner.name},
    )


def _plant(plant: Plant, place_m: Point, plan: OnPlan) -> Members:
    is_tree = isinstance(plant, Tree)
    return _member(
        str(plant.public_id),
        _point(place_m, plan),
        {
            "kind": TREE if is_tree else WANTED,
            "name": plant.name,
            "species": plant.species_key,
            "cultivar": plant.cultivar,
            "planted_on": plant.planted_on if isinstance(plant, Tree) else None,
            "plant_on": plant.plant_on if isinstance(plant, WantedTree) else None,
            "height_m": plant.height_m if isinstance(plant, Tree) else None,
        },
    )


def _neighbour(tree: NeighbourTree, place_m: Point, plan: OnPlan) -> Members:
    return _member(
        f"neighbour {tree.pk}",
        _point(place_m, plan),
        {
            "kind": NEIGHBOUR,
            "name": tree.note,
            "species": tree.species_key,
            "cultivar": tree.cultivar,
        },
    )
