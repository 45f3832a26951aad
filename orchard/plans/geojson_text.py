"""A GeoJSON text as bounded, plain data: features, geometries, positions.

RFC 7946; nothing here knows a plan. Reading ends at the first thing that cannot be
trusted: size, depth, numbers that are none.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from django.utils.translation import gettext_noop

from orchard.languages import localised, whole
from orchard.plans.problems import PlanError

MOST_BYTES = 1_000_000
MOST_POINTS = 5_000
#: Geometries within collections: deeper nesting is no plan of a garden.
DEEPEST = 4
_GEOMETRIES = {
    "Point": 1,
    "LineString": 2,
    "Polygon": 3,
    "MultiPoint": 2,
    "MultiLineString": 3,
    "MultiPolygon": 4,
}
_COLLECTION = "GeometryCollection"
_WORLD_SYSTEMS = ("CRS84", "EPSG::4326", "EPSG:4326")

Json = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Shape:
    """One Point, LineString or Polygon; ``coordinates`` as deep as its type says."""

    type: str
    coordinates: list[object]


@dataclass(frozen=True, slots=True)
class FileFeature:
    """A feature of a file: its id, its properties, its geometry's simple shapes."""

    id: str
    properties: Json
    shapes: tuple[Shape, ...]


def read_features(data: str | bytes) -> list[FileFeature]:
    """Return the features of a GeoJSON text, Multi-geometries split.

    Raises
    ------
    PlanError
        It is too large, no GeoJSON, in another reference system, too deep, or has too
        many points.
    """
    document = _loaded(data)
    _check_system(document)
    members = _members(document)
    features = [_feature(member, number) for number, member in enumerate(members, 1)]
    points = sum(_count(shape) for feature in features for shape in feature.shapes)
    if points > MOST_POINTS:
        message = gettext_noop(
            "This file has {points} points; {most} are the most a plan here holds. "
            "Send less of it, or a simpler drawing."
        )
        raise PlanError(message, points=whole(points), most=whole(MOST_POINTS))
    return features


def _loaded(data: str | bytes) -> Json:
    raw = data.encode("utf-8", "replace") if isinstance(data, str) else data
    if len(raw) > MOST_BYTES:
        raise too_large(len(raw))
    try:
        document = json.loads(raw.decode("utf-8-sig"), parse_constant=_no_number)
    except UnicodeDecodeError as error:
        message = gettext_noop("This is no text in UTF-8, so it is no GeoJSON.")
        raise PlanError(message) from error
    except RecursionError as error:
        raise _too_deep() from error
    except json.JSONDecodeError as error:
        message = gettext_noop(
            "This is no GeoJSON: line {line} cannot be read ({why})."
        )
        raise PlanError(message, line=error.lineno, why=error.msg) from error
    except PlanError:
        raise
    except ValueError as error:  # whole numbers of thousands of digits
        message = gettext_noop(
            "This is no GeoJSON: it has a number that cannot be read."
        )
        raise PlanError(message) from error
    if not isinstance(document, dict):
        raise _no_geojson()
    return document


def too_large(size_bytes: int) -> PlanError:
    """Return what to say of a file of that size."""
    message = gettext_noop(
        "This file has {size} MB; a plan has at most 1 MB. Send less of it, or a "
        "simpler drawing."
    )
    return PlanError(message, size=localised(f"{size_bytes / 1e6:.1f}"))


def _no_number(word: str) -> float:
    message = gettext_noop("The file holds “{word}” where a number should be.")
    raise PlanError(message, word=word)


def _too_deep() -> PlanError:
    return PlanError(gettext_noop("This file is nested too deeply to be a plan."))


def _no_geojson() -> PlanError:
    return PlanError(
        gettext_noop("This is no GeoJSON: it should be a FeatureCollection.")
    )


def _check_system(document: Json) -> None:
    """Refuse a file of the older standard that is in another reference system."""
    system = document.get("crs")
    if system is None:
        return
    properties = system.get("properties") if isinstance(system, dict) else None
    name = properties.get("name") if isinstance(properties, dict) else None
    if not str(name).endswith(_WORLD_SYSTEMS):
        message = gettext_noop(
            "This file is in the reference system “{name}”. Save it again in WGS 84 "
            "(longitude and latitude), as GeoJSON is meant to be."
        )
        raise PlanError(message, name=str(name)[:80])


def _members(document: Json) -> list[object]:
    kind = document.get("type")
    if kind == "FeatureCollection":
        features = document.get("features")
        if isinstance(features, list):
            return features
        raise _no_geojson()
    if kind == "Feature":
        return [document]
    if kind in _GEOMETRIES or kind == _COLLECTION:
        return [{"type": "Feature", "geometry": document, "properties": None}]
    raise _no_geojson()


def _feature(member: object, number: int) -> FileFeature:
    if not isinstance(member, dict) or member.get("type") != "Feature":
        message = gettext_noop("Number {number} of the file's features is none.")
        raise PlanError(message, number=number)
    properties = member.get("properties")
    key = member.get("id")
    return FileFeature(
        id=str(key) if isinstance(key, str | int) else "",
        properties=properties if isinstance(properties, dict) else {},
        shapes=tuple(_shapes(member.get("geometry"), number, 0)),
    )


def _shapes(geometry: object, number: int, depth: int) -> Iterator[Shape]:
    """Yield the simple shapes of a geometry; an empty one yields none."""
    if geometry is None:
        return
    if depth >= DEEPEST:
        raise _too_deep()
    kind, parts = _kind_and_parts(geometry, number)
    if kind == _COLLECTION:
        for part in parts:
            yield from _shapes(part, number, depth + 1)
    elif kind.startswith("Multi"):
        for part in parts:
            yield _shape(kind.removeprefix("Multi"), part, number)
    else:
        yield _shape(kind, parts, number)


def _kind_and_parts(geometry: object, number: int) -> tuple[str, list[object]]:
    if not isinstance(geometry, dict):
        raise _bad_geometry(number)
    kind = str(geometry.get("type"))
    member = "geometries" if kind == _COLLECTION else "coordinates"
    parts = geometry.get(member)
    is_known = kind in _GEOMETRIES or kind == _COLLECTION
    if not is_known or not isinstance(parts, list):
        raise _bad_geometry(number)
    return kind, parts


def _shape(kind: str, coordinates: object, number: int) -> Shape:
    if not isinstance(coordinates, list) or not coordinates:
        raise _bad_geometry(number)
    if not _is_as_deep(coordinates, _GEOMETRIES[kind]):
        raise _bad_geometry(number)
    return Shape(kind, coordinates)


def _bad_geometry(number: int) -> PlanError:
    message = gettext_noop(
        "Feature {number} of the file has no geometry that can be read."
    )
    return PlanError(message, number=number)


def _is_as_deep(coordinates: object, depth: int) -> bool:
    """Whether lists nest exactly ``depth`` deep, numbers at the bottom."""
    if depth == 0:
        return isinstance(coordinates, int | float) and not isinstance(
            coordinates, bool
        )
    return isinstance(coordinates, list) and all(
        _is_as_deep(each, depth - 1) for each in coordinates
    )


def _count(shape: Shape) -> int:
    if shape.type == "Point":
        return 1
    if shape.type == "LineString":
        return len(shape.coordinates)
    return sum(len(ring) for ring in shape.coordinates if isinstance(ring, list))
