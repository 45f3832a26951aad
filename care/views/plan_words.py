"""The plan of a site in words: where what stands, what is wrong there, what to do."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext, gettext_noop, ngettext

from care.facts import FeatureFacts, FeatureKind, PlantFacts, Standing
from care.planning.drawing import DrawnPlant
from orchard.languages import localised
from orchard.units import Quantity, UnitSystem, from_si, unit_label

CORNERS_TOLD = 2
WAYS = (
    gettext_noop("up the page"),
    gettext_noop("to the upper right"),
    gettext_noop("to the right"),
    gettext_noop("to the lower right"),
    gettext_noop("down the page"),
    gettext_noop("to the lower left"),
    gettext_noop("to the left"),
    gettext_noop("to the upper left"),
)
SIDES = (
    gettext_noop("the top"),
    gettext_noop("the upper right"),
    gettext_noop("the right"),
    gettext_noop("the lower right"),
    gettext_noop("the bottom"),
    gettext_noop("the lower left"),
    gettext_noop("the left"),
    gettext_noop("the upper left"),
)
HALF_TURN_DEG = 180.0
KIND_WORDS: Mapping[FeatureKind, str] = {
    FeatureKind.BOUNDARY: gettext_noop("boundary"),
    FeatureKind.FREE: gettext_noop("room for trees"),
    FeatureKind.BUILDING: gettext_noop("building"),
    FeatureKind.WALL: gettext_noop("wall or fence"),
    FeatureKind.WIRES: gettext_noop("overhead wires"),
    FeatureKind.PIPE: gettext_noop("pipe or cable in the ground"),
    FeatureKind.SEPTIC: gettext_noop("septic drain field"),
    FeatureKind.PAVING: gettext_noop("paving"),
    FeatureKind.WATER: gettext_noop("water"),
    FeatureKind.TAP: gettext_noop("tap"),
}


@dataclass(frozen=True, slots=True)
class Names:
    """What things on the plan are called, by ``ref``; ``pots`` are refs of potted ones."""

    of: Mapping[str, str]
    pots: frozenset[str]
    units: UnitSystem

    def metres(self, length_m: float | None) -> str:
        """Return a distance to the centimetre, or to the tenth of a foot."""
        return "" if length_m is None else length_words(length_m, self.units)


def length_words(length_m: float, units: UnitSystem) -> str:
    """Return a length as a tape is read: to the centimetre, or to a tenth of a foot."""
    number = from_si(length_m, Quantity.LENGTH, units)
    shown = f"{number:.1f}" if units is UnitSystem.US else f"{number:.2f}"
    shown = shown.rstrip("0").rstrip(".")
    return f"{localised(shown)} {unit_label(Quantity.LENGTH, units)}"


def names_of(
    plants: Sequence[PlantFacts],
    drawn: Sequence[DrawnPlant],
    features: Sequence[FeatureFacts],
    units: UnitSystem,
) -> Names:
    """Return the names of all that conflicts speak of, plants with their numbers."""
    numbers = {each.plant.ref: each.number for each in drawn}
    of = {plant.ref: _numbered(plant, numbers.get(plant.ref)) for plant in plants}
    of |= {f"feature-{feature.id}": feature.name for feature in features}
    of |= {f"clump-{each.clump.id}": each.clump.name for each in plants if each.clump}
    pots = frozenset(plant.ref for plant in plants if plant.in_container)
    return Names(of, pots, units)


def plant_words(plant: PlantFacts) -> str:
    """Return a plant's name; a neighbour's is said to be one."""
    name = plant.name.replace("_", " ")
    return (
        gettext("neighbour's {name}").format(name=name)
        if plant.standing is Standing.NEIGHBOUR
        else plant.name
    )


def _numbered(plant: PlantFacts, number: int | None) -> str:
    name = plant_words(plant)
    return name if number is None else f"{name} ({number})"


def place_words(
    place_m: tuple[float, float],
    corners: Sequence[tuple[str, tuple[float, float]]],
    units: UnitSystem,
) -> str:
    """Return where a plant stands: how far from the two nearest corners."""
    near = sorted((math.dist(place_m, at_m), name) for name, at_m in corners)[
        :CORNERS_TOLD
    ]
    if near:
        return ", ".join(
            gettext("{distance} from {corner}").format(
                distance=length_words(distance_m, units), corner=name
            )
            for distance_m, name in near
        )
    across_m, up_m = place_m
    if across_m >= 0:
        words = (
            gettext("{across} right, {up} up the page")
            if up_m >= 0
            else gettext("{across} right, {up} down the page")
        )
    else:
        words = (
            gettext("{across} left, {up} up the page")
            if up_m >= 0
            else gettext("{across} left, {up} down the page")
        )
    return words.format(
        across=length_words(abs(across_m), units), up=length_words(abs(up_m), units)
    )


def north_words(up_bearing_deg: float) -> str:
    """Return which way north is on the page."""
    return gettext(WAYS[round(-up_bearing_deg / 45) % len(WAYS)])


def sun_words(up_bearing_deg: float, latitude_deg: float) -> str:
    """Return where on the page the sun stands at noon: towards the equator."""
    bearing_deg = HALF_TURN_DEG if latitude_deg >= 0 else 0.0
    side = SIDES[round((bearing_deg - up_bearing_deg) / 45) % len(SIDES)]
    return gettext("The midday sun comes from {side}.").format(side=gettext(side))


def hours_words(hours: float | None) -> str:
    """Return how much sun a place gets, empty where nobody reckoned it."""
    if hours is None:
        return ""
    number = round(hours)
    return ngettext(
        "about {number} hour of sun", "about {number} hours of sun", number
    ).format(number=number)


def feature_words(feature: FeatureFacts, units: UnitSystem) -> str:
    """Return what is written on the drawing at a feature: its name, a tap's flow."""
    flow = feature.flow_l_per_min
    return (
        feature.name if flow is None else f"{feature.name}, {flow_words(flow, units)}"
    )


def flow_words(litres_per_minute: float, units: UnitSystem) -> str:
    """Return a tap's flow."""
    number = from_si(litres_per_minute, Quantity.VOLUME, units)
    shown = localised(f"{number:.1f}".removesuffix(".0"))
    return gettext("{number} {unit} a minute").format(
        number=shown, unit=unit_label(Quantity.VOLUME, units)
    )


def lies_words(feature: FeatureFacts, units: UnitSystem) -> str:
    """Return what a feature is, how high, and what flows."""
    parts = [gettext(KIND_WORDS[feature.kind])]
    if feature.height_m is not None:
        parts.append(
            gettext("{length} high").format(
                length=length_words(feature.height_m, units)
            )
        )
    if feature.flow_l_per_min is not None:
        parts.append(flow_words(feature.flow_l_per_min, units))
    return ", ".join(parts)


def scale_words(ratio: int, units: UnitSystem) -> str:
    """Return the scale of a sheet: ``1:100, 1 cm on paper is 1 m``."""
    if units is UnitSystem.US:
        return gettext("1:{ratio}, 1 inch on paper is {feet} feet").format(
            ratio=ratio, feet=ratio // 12
        )
    metres = localised(f"{ratio / 100:g}")
    return gettext("1:{ratio}, 1 cm on paper is {metres} m").format(
        ratio=ratio, metres=metres
    )
