"""Places, measurings and shapes of a plan in words."""

import math
from collections.abc import Mapping

from django.utils.translation import gettext
from shapely import LineString, Polygon

from orchard.models import Feature
from orchard.plans.gathered import points_of
from orchard.plans.lengths import length_words
from orchard.plans.measured import TAPE_ERROR_M, Found, Point
from orchard.plans.shapes import AREA_KINDS, POINT_KINDS
from orchard.units import UnitSystem, format_quantity

#: Below these, what tapes are off by is not worth a word [m].
OFF_TOLD_M, DOUBT_TOLD_M = 0.05, 0.3


def place_words(place_m: Point, units: UnitSystem) -> str:
    """Return where a place is: "3.2 m along, 4.5 m across"."""
    along, across = (length_words(each, units) for each in place_m)
    return gettext("{along} along, {across} across").format(along=along, across=across)


def measured_words(measured: object, units: UnitSystem) -> str:
    """Return how a place was measured, or nothing where nobody knows."""
    if not isinstance(measured, Mapping):
        return ""
    tell = _WAYS.get(str(measured.get("how")))
    return tell(measured, units) if tell else ""


def _by_tape(measured: Mapping[str, object], units: UnitSystem) -> str:
    tapes = measured.get("from")
    pairs = tapes if isinstance(tapes, list) else []
    return ", ".join(
        gettext("{length} from {name}").format(
            length=length_words(float(length), units), name=name
        )
        for name, length in pairs
    )


def _in_row(measured: Mapping[str, object], units: UnitSystem) -> str:
    spacing = length_words(_number(measured.get("spacing_m")), units)
    return gettext("in a row from {first} to {last}, {spacing} apart").format(
        first=measured.get("first"), last=measured.get("last"), spacing=spacing
    )


def _by_phone(measured: Mapping[str, object], units: UnitSystem) -> str:
    off = length_words(_number(measured.get("accuracy_m")), units)
    return gettext("by phone, which may be {off} off").format(off=off)


def _in_words(measured: Mapping[str, object], units: UnitSystem) -> str:
    del units
    return gettext("written as “{text}”").format(text=measured.get("text"))


def _from_file(measured: Mapping[str, object], units: UnitSystem) -> str:
    del measured, units
    return gettext("from a file")


_WAYS = {
    "tape": _by_tape,
    "row": _in_row,
    "phone": _by_phone,
    "words": _in_words,
    "file": _from_file,
}


def _number(value: object) -> float:
    return float(value) if isinstance(value, int | float) else 0.0


def found_words(found: Found, units: UnitSystem) -> list[str]:
    """Return what to know of a place that tapes found: their misses, their doubt."""
    words = []
    if found.off_m >= OFF_TOLD_M:
        off = length_words(found.off_m, units)
        words.append(
            gettext("The tapes miss each other by {off}; the middle is taken.").format(
                off=off
            )
        )
    if found.doubt_m >= DOUBT_TOLD_M:
        usual = length_words(TAPE_ERROR_M, units)
        moves = gettext("far")
        if math.isfinite(found.doubt_m):
            moves = gettext("by {length}").format(
                length=length_words(found.doubt_m, units)
            )
        words.append(
            gettext(
                "From these corners a mistake of {usual} moves it {moves}: corners "
                "that see it more from two sides are surer."
            ).format(usual=usual, moves=moves)
        )
    return words


def shape_words(feature: Feature, units: UnitSystem) -> str:
    """Return how large a thing is and what it is like: "240 m²", "12 m long"."""
    points_m = points_of(feature)
    parts = []
    if feature.kind in AREA_KINDS:
        parts.append(format_quantity(Polygon(points_m).area, "m²", units))
    elif feature.kind not in POINT_KINDS:
        parts.append(
            gettext("{length} long").format(
                length=length_words(LineString(points_m).length, units)
            )
        )
    if feature.height_m is not None:
        parts.append(
            gettext("{length} high").format(
                length=length_words(feature.height_m, units)
            )
        )
    if feature.flow_l_per_min is not None:
        flow = format_quantity(feature.flow_l_per_min, "L", units)
        parts.append(gettext("gives {flow} in one minute").format(flow=flow))
    return ", ".join(parts)
