"""What a GeoJSON file says of a plan: trees, corners and what stands there."""

import functools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from django.conf import settings
from django.utils.translation import gettext, gettext_noop

from orchard.languages import in_language
from orchard.models import Feature
from orchard.plans.axes import PlanAxes
from orchard.plans.geojson_out import CORNER, NEIGHBOUR, TREE, WANTED
from orchard.plans.geojson_text import FileFeature, Shape, read_features
from orchard.plans.measured import Point
from orchard.plans.problems import PlanError
from orchard.plans.rows import place_by_satellite
from orchard.plans.shapes import AREA_KINDS, HIGH_KINDS, POINT_KINDS, check_shape

LONGEST_NAME, LONGEST_CORNER = 60, 40
HIGHEST_M, MOST_L_PER_MIN = 150.0, 1000.0
MOST_PROBLEMS = 12


class PlanFileError(ValueError):
    """A file that cannot be taken; ``problems`` say why, the first ones."""

    def __init__(self, problems: Sequence[PlanError]) -> None:
        super().__init__("; ".join(str(problem) for problem in problems))
        self.problems = tuple(problems)


@dataclass(frozen=True, slots=True)
class ReadPlant:
    """A tree's place [m]; ``kind`` is tree or wanted."""

    id: str
    kind: str
    name: str
    place_m: Point


@dataclass(frozen=True, slots=True)
class ReadFeature:
    """An area, line or point of a file, in the plan's own metres."""

    id: str
    kind: str
    name: str
    points_m: tuple[Point, ...]
    height_m: float | None = None
    flow_l_per_min: float | None = None


@dataclass(frozen=True, slots=True)
class ReadCorner:
    """A named corner's place [m]."""

    name: str
    place_m: Point


@dataclass
class ReadPlan:
    """All a file says; ``left_out`` are sentences on what it says besides."""

    plants: list[ReadPlant] = field(default_factory=list)
    features: list[ReadFeature] = field(default_factory=list)
    corners: list[ReadCorner] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)


def read_geojson(data: str | bytes, axes: PlanAxes) -> ReadPlan:
    """Return what a GeoJSON text says of a plan.

    Members and properties that a plan has no use for are ignored, heights of points
    too; holes in areas are left out and told.

    Parameters
    ----------
    data : str or bytes
    axes : PlanAxes
        Where the plan lies on the earth.

    Raises
    ------
    PlanFileError
        It is no GeoJSON, or something in it cannot stand on this plan.
    """
    try:
        members = read_features(data)
    except PlanError as error:
        raise PlanFileError([error]) from error
    found, problems = ReadPlan(), []
    for number, member in enumerate(members, 1):
        try:
            _take(found, member, number, axes)
        except PlanError as error:
            problems.append(error)
    if problems:
        raise PlanFileError(problems[:MOST_PROBLEMS])
    return found


def _take(found: ReadPlan, member: FileFeature, number: int, axes: PlanAxes) -> None:
    kind = _kind(member)
    longest = LONGEST_CORNER if kind == CORNER else LONGEST_NAME
    name = _text(member, "name", number, longest)
    title = f"“{name}”" if name else gettext("Feature {number}").format(number=number)
    if kind in (None, NEIGHBOUR) or not member.shapes:
        found.left_out.append(_left_out(title, kind, member))
    elif kind in (TREE, WANTED):
        place = _one_place(member, title, axes)
        found.plants.append(ReadPlant(member.id, str(kind), name, place))
    elif kind == CORNER:
        if not name:
            raise _at(title, PlanError(gettext_noop("A corner needs a name.")))
        found.corners.append(ReadCorner(name, _one_place(member, title, axes)))
    else:
        _take_feature(found, member, axes, kind=str(kind), name=name, title=title)


def _kind(member: FileFeature) -> str | None:
    """Return the kind a feature says; a bare point is taken for a tree."""
    said = member.properties.get("kind")
    if said is None:
        is_point = [shape.type for shape in member.shapes] == ["Point"]
        return TREE if is_point else None
    return _kinds().get(str(said).strip().casefold())


def _left_out(title: str, kind: str | None, member: FileFeature) -> str:
    if kind == NEIGHBOUR:
        return gettext(
            "{title}: neighbours' trees are written down on a page of their own."
        ).format(title=title)
    if not member.shapes:
        return gettext("{title} has no place.").format(title=title)
    said = member.properties.get("kind")
    if said is None:
        return gettext("{title} does not say what kind of thing it is.").format(
            title=title
        )
    return gettext("{title}: a plan has no kind “{said}”.").format(
        title=title, said=str(said)[:40]
    )


def _text(member: FileFeature, name: str, number: int, longest: int) -> str:
    value = member.properties.get(name)
    if value is None:
        return ""
    text = " ".join(str(value).split())
    is_text = isinstance(value, str | int) and not isinstance(value, bool)
    if not is_text or not text.isprintable() or len(text) > longest:
        message = gettext_noop(
            "Feature {number}, {name}: write a text of up to {longest} letters."
        )
        raise PlanError(message, number=number, name=name, longest=longest)
    return text


def _at(title: str, error: PlanError) -> PlanError:
    """Return an error that names the feature it is about."""
    return error.inside(title)


def _one_place(member: FileFeature, title: str, axes: PlanAxes) -> Point:
    if [shape.type for shape in member.shapes] != ["Point"]:
        message = gettext_noop("this should be one Point.")
        raise _at(title, PlanError(message))
    return _place(member.shapes[0].coordinates, title, axes)


def _place(position: object, title: str, axes: PlanAxes) -> Point:
    """Return where a position lies on the plan [m].

    Raises
    ------
    PlanError
        It is not finite, far from the site, or has latitude before longitude.
    """
    numbers = [_finite(each) for each in position] if isinstance(position, list) else []
    if len(numbers) < 2 or None in numbers[:2]:  # noqa: PLR2004 - a position has two
        message = gettext_noop("a position needs a longitude and a latitude.")
        raise _at(title, PlanError(message))
    longitude_deg, latitude_deg = float(numbers[0] or 0.0), float(numbers[1] or 0.0)
    try:
        return place_by_satellite(axes, latitude_deg, longitude_deg)
    except PlanError as error:
        if error.about != "swapped":
            raise _at(title, error) from error
        message = gettext_noop(
            "these look swapped: GeoJSON has the longitude before the latitude."
        )
        raise _at(title, PlanError(message, about="swapped")) from error


def _finite(value: object) -> float | None:
    if not isinstance(value, int | float) or isinstance(value, bool):
        return None
    try:
        number = float(value)
    except OverflowError:
        return None
    return number if math.isfinite(number) else None


@functools.cache
def _kinds() -> dict[str, str]:
    """Return what a file may call a kind: its code, or its name in any language."""
    kinds = {kind: kind for kind in (TREE, WANTED, CORNER, NEIGHBOUR)}
    for code, _ in settings.LANGUAGES:
        with in_language(code):
            kinds |= {str(kind.label).casefold(): kind.value for kind in Feature.Kind}
    return kinds | {kind.value: kind.value for kind in Feature.Kind}


def _take_feature(
    found: ReadPlan,
    member: FileFeature,
    axes: PlanAxes,
    *,
    kind: str,
    name: str,
    title: str,
) -> None:
    height_m = _measure(member, "height_m", title, HIGHEST_M)
    flow = _measure(member, "flow_l_per_min", title, MOST_L_PER_MIN)
    for number, shape in enumerate(member.shapes, 1):
        part = f"{name} {number}".strip() if len(member.shapes) > 1 else name
        points_m = tuple(_points(shape, kind, title, axes))
        try:
            check_shape(kind, points_m)
        except PlanError as error:
            raise _at(title, error) from error
        if shape.type == "Polygon" and len(shape.coordinates) > 1:
            found.left_out.append(
                gettext("{title}: the hole in it.").format(title=title)
            )
        found.features.append(
            ReadFeature(
                id=member.id if number == 1 else "",
                kind=kind,
                name=part[:LONGEST_NAME],
                points_m=points_m,
                height_m=height_m if kind in HIGH_KINDS else None,
                flow_l_per_min=flow if kind in POINT_KINDS else None,
            )
        )


def _measure(member: FileFeature, name: str, title: str, most: float) -> float | None:
    value = member.properties.get(name)
    if value is None:
        return None
    number = _finite(value)
    if number is None or not 0 < number <= most:
        message = gettext_noop("{name} must be a number above 0 and up to {most}.")
        raise _at(title, PlanError(message, name=name, most=f"{most:g}"))
    return number


def _points(shape: Shape, kind: str, title: str, axes: PlanAxes) -> Iterator[Point]:
    """Yield the points of a shape, an outline's last one left out."""
    wanted = "LineString"
    if kind in AREA_KINDS or kind in POINT_KINDS:
        wanted = "Polygon" if kind in AREA_KINDS else "Point"
    if shape.type != wanted:
        message = gettext_noop("a {kind} should be a {wanted}; here it is a {type}.")
        raise _at(title, PlanError(message, kind=kind, wanted=wanted, type=shape.type))
    if wanted == "Point":
        yield _place(shape.coordinates, title, axes)
        return
    positions = shape.coordinates
    if wanted == "Polygon":
        ring = shape.coordinates[0]
        positions = ring if isinstance(ring, list) else []
        if positions[:1] != positions[-1:]:
            message = gettext_noop(
                "its outline is open: the last point must be the first one again."
            )
            raise _at(title, PlanError(message))
        positions = positions[:-1]
    for position in positions:
        yield _place(position, title, axes)
