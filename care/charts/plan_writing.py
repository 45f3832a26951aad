"""What is written where on a plan: numbers of plants, names of what lies there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from care.charts.plan_frame import Frame
from care.charts.plan_labels import WIDTH_SHARE, Wish, Words, laid_out
from care.facts import AREAS, FeatureFacts, FeatureKind, Point
from care.planning.drawing import Drawing, DrawnPlant

#: Named by their outline alone: their middle is full of trees.
UNNAMED = frozenset({FeatureKind.BOUNDARY, FeatureKind.FREE})
ROOMY_SHARE = 1.3  # of the height of letters: a crown with room for stem and number
INNER_SHARE = 0.7  # of a small crown, that words of others keep out of
MIDDLE_SHARE = 0.5  # of the height of letters: as much of a wide one
BLOCK_RINGS = 4
TAP_SHARE = 0.35


@dataclass(frozen=True, slots=True)
class NamedPlace:
    """A corner or a block with its name, on the plan [m]."""

    name: str
    place_m: Point


def place_of(drawn: DrawnPlant) -> Point:
    """Return where a drawn plant stands; only those with a place are drawn."""
    return drawn.plant.place_m or (0.0, 0.0)


def radius_of(drawn: DrawnPlant, frame: Frame) -> float:
    """Return a crown's radius on the paper."""
    return drawn.width_m / 2 * frame.per_m


def is_roomy(drawn: DrawnPlant, frame: Frame) -> bool:
    """Return whether a crown has room for its stem and its number above."""
    return radius_of(drawn, frame) > ROOMY_SHARE * frame.paper.text


def has_room(drawn: DrawnPlant, frame: Frame) -> bool:
    """Return whether a number fits into its crown."""
    half = len(str(drawn.number)) * frame.paper.text * WIDTH_SHARE / 2
    return radius_of(drawn, frame) > half


def words_of(
    drawing: Drawing,
    corners: Sequence[NamedPlace],
    feature_words: Mapping[int, str],
    frame: Frame,
) -> tuple[Words, ...]:
    """Return all that is written on a plan, numbers before names.

    Parameters
    ----------
    drawing : Drawing
        Its plants outside of the frame get no number.
    corners : sequence of NamedPlace
        Named beside their cross.
    feature_words : mapping of int to str
        What is written at a feature, by its id; outlines of all have no name.
    frame : Frame
        Where it lies on the paper.
    """
    text = frame.paper.text
    wishes = [_number(each, frame) for each in drawing.plants if _is_in(each, frame)]
    wishes.sort(key=lambda wish: not wish.is_fixed)
    wishes += [
        _feature(feature, feature_words[feature.id], frame)
        for feature in drawing.layout.features
        if feature.kind not in UNNAMED
    ]
    wishes += [
        Wish(*frame.at(corner.place_m), corner.name, "soft", text / 2, is_centred=False)
        for corner in corners
    ]
    wishes += [
        Wish(*frame.at(block.place_m), block.name, "name", rings=BLOCK_RINGS)
        for block in blocks_of(drawing)
    ]
    return laid_out(
        wishes,
        text=text,
        width=frame.paper.width,
        height=frame.bottom,
        signs=_signs(drawing, corners, frame),
    )


def _signs(
    drawing: Drawing, corners: Sequence[NamedPlace], frame: Frame
) -> list[tuple[float, float, float]]:
    """Return what no word may hide: corners, taps, the inner part of crowns."""
    points = [corner.place_m for corner in corners]
    points += [each.points_m[0] for each in drawing.layout.of_kind(FeatureKind.TAP)]
    small, middle = TAP_SHARE * frame.paper.text, MIDDLE_SHARE * frame.paper.text
    crowns = [
        (*frame.at(place_of(each)), min(INNER_SHARE * radius_of(each, frame), middle))
        for each in drawing.plants
    ]
    return [*((*frame.at(point), small) for point in points), *crowns]


def _is_in(drawn: DrawnPlant, frame: Frame) -> bool:
    x, y = frame.at(place_of(drawn))
    return 0 <= x <= frame.paper.width and 0 <= y <= frame.bottom


def _number(drawn: DrawnPlant, frame: Frame) -> Wish:
    """Write a number above the stem, in a small crown in its place, else beside it."""
    x, y = frame.at(place_of(drawn))
    is_within = has_room(drawn, frame)
    return Wish(
        x,
        y - frame.paper.text / 2 if is_roomy(drawn, frame) else y,
        str(drawn.number),
        "number",
        radius_of(drawn, frame),
        is_centred=is_within,
        is_must=True,
        is_fixed=is_within,
    )


def _feature(feature: FeatureFacts, words: str, frame: Frame) -> Wish:
    """Write a name onto an area or a line, and beside a tap."""
    is_sign = feature.kind is FeatureKind.TAP
    clear = TAP_SHARE * frame.paper.text
    x, y = frame.at(_middle(feature))
    return Wish(x, y, words, "soft", clear, is_centred=not is_sign)


def _middle(feature: FeatureFacts) -> Point:
    """Return the middle of a line's middle stretch, or of an area's corners."""
    points = feature.points_m
    if feature.kind not in AREAS:
        at = len(points) // 2
        points = points[max(at - 1, 0) : at + 1]
    return (
        sum(x for x, _ in points) / len(points),
        sum(y for _, y in points) / len(points),
    )


def blocks_of(drawing: Drawing) -> tuple[NamedPlace, ...]:
    """Return each block that has plants on the drawing, named in their middle."""
    places: dict[str, list[Point]] = {}
    for each in drawing.plants:
        if each.plant.block_name:
            places.setdefault(each.plant.block_name, []).append(place_of(each))
    return tuple(
        NamedPlace(
            name,
            (
                sum(x for x, _ in found) / len(found),
                sum(y for _, y in found) / len(found),
            ),
        )
        for name, found in places.items()
    )
