"""The plan of a site in words: where what stands, what is wrong there, what to do."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from care.facts import Conflict, FeatureFacts, FeatureKind, PlantFacts, Standing
from care.planning.drawing import DrawnPlant
from care.planning.layout_check import BRANCH_TO_WIRE_M, UNDER_LINES_M
from orchard.units import Quantity, UnitSystem, from_si, unit_label

CORNERS_TOLD = 2
WAYS = (
    "up the page",
    "to the upper right",
    "to the right",
    "to the lower right",
    "down the page",
    "to the lower left",
    "to the left",
    "to the upper left",
)
SIDES = (
    "the top",
    "the upper right",
    "the right",
    "the lower right",
    "the bottom",
    "the lower left",
    "the left",
    "the upper left",
)
HALF_TURN_DEG = 180.0
KIND_WORDS: Mapping[FeatureKind, str] = {
    FeatureKind.BOUNDARY: "boundary",
    FeatureKind.FREE: "room for trees",
    FeatureKind.BUILDING: "building",
    FeatureKind.WALL: "wall or fence",
    FeatureKind.WIRES: "overhead wires",
    FeatureKind.PIPE: "pipe or cable in the ground",
    FeatureKind.SEPTIC: "septic drain field",
    FeatureKind.PAVING: "paving",
    FeatureKind.WATER: "water",
    FeatureKind.TAP: "tap",
}


TITLES = {
    "near_wires": "Too near wires",
    "near_septic": "Too near a septic field",
    "in_water": "In water",
    "outside_boundary": "Outside the boundary",
    "below_minimum": "Closer than the least",
    "near_building": "Too near a building",
    "near_pipe": "Too near a pipe or cable",
    "near_wall": "Near a wall",
    "shading": "Short of sun",
    "below_recommended": "Closer than usual",
    "within_setback": "Too near water to be fed",
    "hedge_without_limit": "Close, with no height declared",
    "near_paving": "Near paving",
    "crowns_meet": "Crowns that meet",
}


@dataclass(frozen=True, slots=True)
class Told:
    """What is wrong, and what to do about it: the same words for all of its sort."""

    what: str
    do: str


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
    return f"{shown} {unit_label(Quantity.LENGTH, units)}"


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
    return f"neighbour's {name}" if plant.standing is Standing.NEIGHBOUR else plant.name


def _numbered(plant: PlantFacts, number: int | None) -> str:
    name = plant_words(plant)
    return name if number is None else f"{name} ({number})"


def conflict_words(conflict: Conflict, names: Names) -> Told:
    """Return one conflict as a sentence and what to do."""
    return _SAID[conflict.code](conflict, names)


def _pair(conflict: Conflict, names: Names) -> tuple[str, str, str, str]:
    return (
        names.of[conflict.who],
        names.of.get(conflict.whom, ""),
        names.metres(conflict.distance_m),
        names.metres(conflict.least_m),
    )


def _from(do: str) -> Callable[[Conflict, Names], Told]:
    """Return the telling of a distance that is too small, with what to do."""

    def tell(conflict: Conflict, names: Names) -> Told:
        who, whom, distance, least = _pair(conflict, names)
        return Told(f"{who} stands {distance} from {whom}: keep {least}.", do)

    return tell


def _near_wires(conflict: Conflict, names: Names) -> Told:
    who, whom, distance, least = _pair(conflict, names)
    low = names.metres(UNDER_LINES_M)
    near = names.metres(BRANCH_TO_WIRE_M)
    return Told(
        f"{who} stands {distance} from {whom}: keep {least}.",
        f"Stop: within {near} of wires nobody prunes, picks or carries a tool. Ask the "
        "utility for what stands there already. For a new tree choose a place farther "
        f"away, or a kind that stays below {low} and clear of the wires.",
    )


def _in_water(conflict: Conflict, names: Names) -> Told:
    who, whom, _, _ = _pair(conflict, names)
    return Told(f"{who} stands in {whom}.", "Measure again, or choose another place.")


def _outside(conflict: Conflict, names: Names) -> Told:
    who, _, distance, _ = _pair(conflict, names)
    return Told(
        f"{who} stands {distance} outside the boundary.",
        "Measure again, or draw the boundary anew. A tree beyond it that is not yours "
        "can be written down as a neighbour's.",
    )


def _below_minimum(conflict: Conflict, names: Names) -> Told:
    who, whom, distance, least = _pair(conflict, names)
    if {conflict.who, conflict.whom} & names.pots:
        return Told(
            f"{who} and {whom} stand in one spot: {distance} from middle to middle.",
            "Measure again, or move the pot.",
        )
    return Told(
        f"{who} and {whom} stand {distance} apart. The least for the two is {least}.",
        "Choose another place for one of them. If they are a hedge or share a hole on "
        "purpose, say so on their pages, with the height they are kept at.",
    )


def _below_recommended(conflict: Conflict, names: Names) -> Told:
    who, whom, distance, least = _pair(conflict, names)
    return Told(
        f"{who} and {whom} stand {distance} apart. Usual for the two is {least}.",
        "That works where both are kept small by pruning or by a dwarfing rootstock; "
        "else give them more room.",
    )


def _crowns_meet(conflict: Conflict, names: Names) -> Told:
    who, whom, distance, least = _pair(conflict, names)
    if {conflict.who, conflict.whom} & names.pots:
        return Told(
            f"The crowns of {who} and {whom} touch: {distance} apart, together {least} "
            "wide to each side.",
            "Move the pot a little, so that both get light and air.",
        )
    return Told(
        f"Grown, the crowns of {who} and {whom} meet: {distance} apart, and {least} "
        "would keep them clear.",
        "Prune them apart, or give them a little more room.",
    )


def _shading(conflict: Conflict, names: Names) -> Told:
    who, whom, _, _ = _pair(conflict, names)
    hours = round(conflict.sun_hours or 0.0)
    return Told(
        f"{who} gets about {hours} hours of sun on a clear day; {whom} takes most of "
        "the rest once all is grown.",
        "Most fruit needs six to eight hours. Choose a sunnier place, keep the other "
        "lower, or grow something that bears shade there.",
    )


def _within_setback(conflict: Conflict, names: Names) -> Told:
    who, whom, distance, least = _pair(conflict, names)
    return Told(
        f"{who} stands {distance} from {whom}. Your local rule forbids feeding within "
        f"{least}.",
        "It may stand there, but cannot be fed.",
    )


def _hedge(conflict: Conflict, names: Names) -> Told:
    _, whom, _, _ = _pair(conflict, names)
    return Told(
        f"{whom}: its plants stand close, and no height is declared.",
        "Close is fine for a hedge or a clump that is kept low. Say how high, on the "
        "page of one of its plants.",
    )


_SAID: Mapping[str, Callable[[Conflict, Names], Told]] = {
    "near_wires": _near_wires,
    "near_septic": _from(
        "Roots clog drain pipes. Choose another place; do not dig on a drain field."
    ),
    "in_water": _in_water,
    "outside_boundary": _outside,
    "below_minimum": _below_minimum,
    "near_building": _from(
        "Roots and a leaning crown need that room, and so does a ladder. Choose another "
        "place, or keep it small in a pot."
    ),
    "near_pipe": _from(
        "Roots get in at joints, and digging may hit it. Have it marked by the locate "
        "service before anybody digs; choose another place."
    ),
    "near_wall": _from(
        "If it is trained flat on the wall, that is the way of it. Else give it room."
    ),
    "shading": _shading,
    "below_recommended": _below_recommended,
    "within_setback": _within_setback,
    "hedge_without_limit": _hedge,
    "near_paving": _from("Roots lift paving in time. Give it more room if you can."),
    "crowns_meet": _crowns_meet,
}


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
            f"{length_words(distance_m, units)} from {name}"
            for distance_m, name in near
        )
    across_m, up_m = place_m
    return (
        f"{length_words(abs(across_m), units)} {'right' if across_m >= 0 else 'left'}, "
        f"{length_words(abs(up_m), units)} {'up' if up_m >= 0 else 'down'} the page"
    )


def north_words(up_bearing_deg: float) -> str:
    """Return which way north is on the page."""
    return WAYS[round(-up_bearing_deg / 45) % len(WAYS)]


def sun_words(up_bearing_deg: float, latitude_deg: float) -> str:
    """Return where on the page the sun stands at noon: towards the equator."""
    bearing_deg = HALF_TURN_DEG if latitude_deg >= 0 else 0.0
    side = SIDES[round((bearing_deg - up_bearing_deg) / 45) % len(SIDES)]
    return f"The midday sun comes from {side}."


def hours_words(hours: float | None) -> str:
    """Return how much sun a place gets, empty where nobody reckoned it."""
    if hours is None:
        return ""
    whole = round(hours)
    return f"about {whole} {'hour' if whole == 1 else 'hours'} of sun"


def feature_words(feature: FeatureFacts, units: UnitSystem) -> str:
    """Return what is written on the drawing at a feature: its name, a tap's flow."""
    flow = feature.flow_l_per_min
    return (
        feature.name if flow is None else f"{feature.name}, {flow_words(flow, units)}"
    )


def flow_words(litres_per_minute: float, units: UnitSystem) -> str:
    """Return a tap's flow."""
    number = from_si(litres_per_minute, Quantity.VOLUME, units)
    shown = f"{number:.1f}".removesuffix(".0")
    return f"{shown} {unit_label(Quantity.VOLUME, units)} a minute"


def lies_words(feature: FeatureFacts, units: UnitSystem) -> str:
    """Return what a feature is, how high, and what flows."""
    parts = [KIND_WORDS[feature.kind]]
    if feature.height_m is not None:
        parts.append(f"{length_words(feature.height_m, units)} high")
    if feature.flow_l_per_min is not None:
        parts.append(flow_words(feature.flow_l_per_min, units))
    return ", ".join(parts)


def scale_words(ratio: int, units: UnitSystem) -> str:
    """Return the scale of a sheet: ``1:100, 1 cm on paper is 1 m``."""
    if units is UnitSystem.US:
        return f"1:{ratio}, 1 inch on paper is {ratio // 12} feet"
    metres = f"{ratio / 100:g}"
    return f"1:{ratio}, 1 cm on paper is {metres} m"
