"""The plan of a site as a drawing to scale: what lies there, crowns, names, north."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from care.charts.plan_frame import (
    Bar,
    Extent,
    Frame,
    extent_of,
    grid_m,
    north_on_page,
    scale_bar,
    screen_frame,
    sheet_frame,
    sheet_ratio,
)
from care.charts.plan_labels import Words
from care.charts.plan_writing import (
    TAP_SHARE,
    NamedPlace,
    has_room,
    is_roomy,
    place_of,
    radius_of,
    words_of,
)
from care.facts import AREAS, FeatureFacts, FeatureKind, Standing
from care.planning.drawing import Drawing, DrawnPlant

#: What lies lowest is drawn first; others follow in their order.
LOWEST_FIRST = (
    FeatureKind.BOUNDARY,
    FeatureKind.FREE,
    FeatureKind.WATER,
    FeatureKind.SEPTIC,
    FeatureKind.PAVING,
    FeatureKind.BUILDING,
    FeatureKind.PIPE,
    FeatureKind.WALL,
    FeatureKind.WIRES,
    FeatureKind.TAP,
)
ROUND_A_BLOCK_M = 1.0
STEM_SHARE = 0.12  # of the height of letters
ARROW_SHARE = 0.36  # of the strip's height, from the middle of the arrow to its tip


@dataclass(frozen=True, slots=True)
class Shape:
    """An area, a line or, with a radius, a point of the drawing."""

    kind: str
    points: str
    is_area: bool
    x: float
    y: float
    radius: float = 0.0


@dataclass(frozen=True, slots=True)
class Crown:
    """The round of a crown and the dot of its stem, which a number may take the place of.

    ``kind`` is ``stands``, ``to_come`` or ``neighbour``.
    """

    number: int
    x: float
    y: float
    radius: float
    stem: float
    kind: str


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line of the grid."""

    x: float
    y: float
    end_x: float
    end_y: float


@dataclass(frozen=True, slots=True)
class Cross:
    """A corner to measure from."""

    x: float
    y: float
    arm: float


@dataclass(frozen=True, slots=True)
class Arrow:
    """North: a line with a head, and where its letter stands."""

    tail_x: float
    tail_y: float
    x: float
    y: float
    head: str
    letter_x: float
    letter_y: float


@dataclass(frozen=True, slots=True)
class PlanChart:
    """What the page draws; places are in the units of the view box.

    The plan itself ends at ``bottom``, scale and north stand below. ``ratio`` is the
    scale of a sheet, whose units are millimetres, and 0 on a screen.
    """

    width: float
    height: float
    bottom: float
    ratio: int
    shapes: tuple[Shape, ...]
    crowns: tuple[Crown, ...]
    corners: tuple[Cross, ...]
    words: tuple[Words, ...]
    grid: tuple[Line, ...]
    grid_step_m: float
    bar: Bar
    north: Arrow


def plan_chart(
    drawing: Drawing,
    corners: Sequence[NamedPlace],
    feature_words: Mapping[int, str],
    *,
    in_feet: bool,
    is_sheet: bool = False,
    near: str = "",
) -> PlanChart:
    """Return the drawing of a plan.

    Parameters
    ----------
    drawing : Drawing
        Numbered plants at one time, and what lies there.
    corners : sequence of NamedPlace
        Points that tapes start from.
    feature_words : mapping of int to str
        What is written at a feature, by its id.
    in_feet : bool
        Whether grid, bar and scale are round in feet.
    is_sheet : bool
        On paper, to a stated scale, with millimetres for units; else for a screen.
    near : str
        A block whose surroundings alone are shown; empty for the whole plan.
    """
    extent = _extent(drawing, corners, near)
    ratio = sheet_ratio(extent, in_feet=in_feet) if is_sheet else 0
    frame = sheet_frame(extent, ratio) if is_sheet else screen_frame(extent)
    step_m, grid = _grid(frame, in_feet=in_feet)
    return PlanChart(
        width=frame.paper.width,
        height=round(frame.height, 1),
        bottom=round(frame.bottom, 1),
        ratio=ratio,
        shapes=_shapes(drawing.layout.features, frame),
        crowns=tuple(_crown(each, frame) for each in drawing.plants),
        corners=tuple(_cross(corner, frame) for corner in corners),
        words=words_of(drawing, corners, feature_words, frame),
        grid=grid,
        grid_step_m=step_m,
        bar=scale_bar(frame, in_feet=in_feet),
        north=_north(drawing.layout.up_bearing_deg, frame),
    )


def _extent(drawing: Drawing, corners: Sequence[NamedPlace], near: str) -> Extent:
    if near:
        around = [each for each in drawing.plants if each.plant.block_name == near]
        return extent_of(
            [],
            [(place_of(each), each.grown_m / 2 + ROUND_A_BLOCK_M) for each in around],
        )
    points = [point for each in drawing.layout.features for point in each.points_m]
    return extent_of(
        [*points, *(corner.place_m for corner in corners)],
        [(place_of(each), each.grown_m / 2) for each in drawing.plants],
    )


def _shapes(features: Sequence[FeatureFacts], frame: Frame) -> tuple[Shape, ...]:
    order = sorted(features, key=lambda each: LOWEST_FIRST.index(each.kind))
    return tuple(_shape(feature, frame) for feature in order)


def _shape(feature: FeatureFacts, frame: Frame) -> Shape:
    points = [frame.at(point) for point in feature.points_m]
    x, y = points[0]
    return Shape(
        kind=feature.kind.value,
        points=" ".join(f"{right:.1f},{down:.1f}" for right, down in points),
        is_area=feature.kind in AREAS,
        x=round(x, 1),
        y=round(y, 1),
        radius=TAP_SHARE * frame.paper.text if feature.kind is FeatureKind.TAP else 0.0,
    )


def _crown(drawn: DrawnPlant, frame: Frame) -> Crown:
    x, y = frame.at(place_of(drawn))
    is_covered = has_room(drawn, frame) and not is_roomy(drawn, frame)
    return Crown(
        number=drawn.number,
        x=round(x, 2),
        y=round(y, 2),
        radius=round(radius_of(drawn, frame), 2),
        stem=0.0 if is_covered else round(STEM_SHARE * frame.paper.text, 2),
        kind=_crown_kind(drawn),
    )


def _crown_kind(drawn: DrawnPlant) -> str:
    if drawn.plant.standing is Standing.NEIGHBOUR:
        return "neighbour"
    return "to_come" if drawn.is_to_come else "stands"


def _cross(corner: NamedPlace, frame: Frame) -> Cross:
    x, y = frame.at(corner.place_m)
    return Cross(round(x, 1), round(y, 1), round(TAP_SHARE * frame.paper.text, 1))


def _grid(frame: Frame, *, in_feet: bool) -> tuple[float, tuple[Line, ...]]:
    extent = frame.extent
    step_m, across, up = grid_m(extent, in_feet=in_feet)
    ends = [((x_m, extent.low_m), (x_m, extent.high_m)) for x_m in across]
    ends += [((extent.left_m, y_m), (extent.right_m, y_m)) for y_m in up]
    lines = [(*frame.at(one), *frame.at(other)) for one, other in ends]
    return step_m, tuple(Line(*(round(at, 1) for at in line)) for line in lines)


def _north(up_bearing_deg: float, frame: Frame) -> Arrow:
    """Return the arrow in the strip's right end."""
    strip = frame.paper.strip
    long = ARROW_SHARE * strip
    right, down = north_on_page(up_bearing_deg)
    x = frame.paper.width - frame.paper.margin - strip / 2
    y = frame.bottom + strip / 2
    tip = (x + long * right, y + long * down)
    wing = long / 3
    head = (
        tip,
        (tip[0] - wing * (right - down / 2), tip[1] - wing * (down + right / 2)),
        (tip[0] - wing * (right + down / 2), tip[1] - wing * (down - right / 2)),
    )
    return Arrow(
        tail_x=round(x - long * right, 2),
        tail_y=round(y - long * down, 2),
        x=round(tip[0], 2),
        y=round(tip[1], 2),
        head=" ".join(f"{across:.2f},{below:.2f}" for across, below in head),
        letter_x=round(x - strip * 0.6, 2),
        letter_y=round(y + frame.paper.text / 3, 2),
    )
