"""What is known of one tree, figure by figure, and where each figure comes from."""

from dataclasses import dataclass
from datetime import date
from itertools import starmap

from care.views.days import full_day, short_day
from care.views.references import Reference, works
from care.views.rootstock_words import rootstock_facts
from care.views.tree_lines import place_words, species_name
from orchard.catalogue import Basis, Figure, Species
from orchard.catalogue.of_orchard import OrchardCatalogue
from orchard.models import Stay, Tree
from orchard.units import UnitSystem, format_quantity
from orchard.views.kind_words import origin_words

ORIGINS = {
    Basis.READ: "read in the source",
    Basis.READ_SECONDARY: "read in a report of the source",
    Basis.PROXY: "borrowed from a related crop",
    Basis.MEMORY: "from memory, unverified",
}
#: The catalogue's figures that a grower may want to check -> words and SI unit.
FIGURES = {
    "move_in_temp_c": ("A pot comes in at", "°C"),
    "damage_temp_young_c": ("A young one is damaged at", "°C"),
    "damage_temp_mature_c": ("A grown one is damaged at", "°C"),
    "bloom_damage_temp_c": ("Open flowers are damaged at", "°C"),
    "chill_hours_min": ("Winter chill it needs, at least", "h"),
    "kc_ini": ("Crop coefficient, early", ""),
    "kc_mid": ("Crop coefficient, full leaf", ""),
    "kc_end": ("Crop coefficient, late", ""),
    "depletion_p": ("Share of the soil's water it uses without stress", "share"),
    "root_depth_m": ("Roots mostly reach", "m"),
    "nitrogen_first_year_g": ("Nitrogen in its first year", "g"),
    "nitrogen_mature_g": ("Nitrogen at full size, a year", "g"),
    "feed_times_per_year": ("Feedings a year", ""),
    "prune_months": ("Months for cuts, in the north", ""),
    "mature_height_m": ("Height at full size", "m"),
    "mature_spread_m": ("Width at full size", "m"),
    "years_to_first_crop": ("Years to the first crop", ""),
}
_MONTHS = [
    "Jan",
    "Feb",
    "Mar",
    "Apr",
    "May",
    "Jun",
    "Jul",
    "Aug",
    "Sep",
    "Oct",
    "Nov",
    "Dec",
]


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing a person said of the tree."""

    label: str
    value: str


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One figure of the species table with its origin."""

    name: str
    label: str
    value: str
    origin: str
    note: str
    works: tuple[Reference, ...]


def tree_facts(
    tree: Tree, today: date, units: UnitSystem, catalogue: OrchardCatalogue
) -> tuple[Fact, ...]:
    """Return what a person said of a tree; what nobody said is named as unknown."""
    facts = (
        Fact("Species", species_name(tree, catalogue)),
        Fact("Grows", place_words(tree, units)),
        _planted(tree, today),
        Fact("Crown width", _length(tree.crown_width_m, units)),
        Fact("Height", _length(tree.height_m, units)),
        Fact("Ground under it", str(tree.get_floor_display())),
        Fact("Rain reaches it", str(tree.get_rain_reach_display())),
        Fact("Watered unasked", _irrigation(tree, units)),
        *starmap(Fact, rootstock_facts(tree)),
        *_stand(tree, units),
    )
    return facts if tree.tag == "" else (Fact("Tag", tree.tag), *facts)


def _planted(tree: Tree, today: date) -> Fact:
    if tree.planted_on is None:
        return Fact("Planted", "long ago, nobody knows when")
    label = "To be planted" if tree.is_planned(today) else "Planted"
    return Fact(label, short_day(tree.planted_on, today))


def _stand(tree: Tree, units: UnitSystem) -> tuple[Fact, ...]:
    """Return how it stands and what its ground is, as far as somebody said so."""
    drip, hours, ph = tree.drip_l_per_h, tree.drainage_hours, tree.soil_ph
    away = tree.water_distance_m
    said = (
        ("Its drippers give", drip and f"{format_quantity(drip, 'L', units)} an hour"),
        ("A test hole drained in", hours is not None and f"{hours:g} h"),
        ("pH of its bed", ph is not None and f"{ph:g}"),
        ("Open water is", away is not None and f"{_length(away, units)} away"),
        ("While young, it should", tree.goal != Tree.Goal.STANDARD and _goal(tree)),
        ("Held up by", tree.support != Tree.Support.NONE and _support(tree)),
        ("Its trunk has", tree.has_trunk_guard and "a guard"),
        ("Its roots are", not tree.is_grafted and "its own: not grafted"),
    )
    return tuple(Fact(label, value) for label, value in said if value)


def _goal(tree: Tree) -> str:
    return str(tree.get_goal_display()).lower()


def _support(tree: Tree) -> str:
    return str(tree.get_support_display()).lower()


def _length(length_m: float | None, units: UnitSystem) -> str:
    if length_m is None:
        return "not measured"
    return format_quantity(length_m, "m", units)


def _irrigation(tree: Tree, units: UnitSystem) -> str:
    if not tree.irrigation_litres or not tree.irrigation_weekdays:
        return "no"
    litres = format_quantity(tree.irrigation_litres, "L", units)
    times = len(tree.irrigation_weekdays)
    often = "once" if times == 1 else f"{times} times"
    until = tree.irrigation_until
    ends = f", until {until.day} {until:%B %Y}" if until else ""
    return f"{litres}, {often} a week{ends}"


def where_now(tree: Tree, stays: list[Stay]) -> str:
    """Return where a pot stands and since when; nothing for a tree in the ground."""
    if not tree.in_container:
        return ""
    if not stays:
        return "Outdoors"
    last = stays[-1]
    return f"{last.get_place_display()}, since {full_day(last.since)}"


def figure_rows(
    tree: Tree, units: UnitSystem, catalogue: OrchardCatalogue
) -> tuple[FigureRow, ...]:
    """Return the figures that decide about this tree, with their origins."""
    species = catalogue.of_tree(tree)
    if species is None:
        return ()
    return tuple(
        _figure_row(species, name, units)
        for name in FIGURES
        if name in species.provenance
    )


def _figure_row(species: Species, name: str, units: UnitSystem) -> FigureRow:
    figure = species.figure(name)
    label, unit = FIGURES[name]
    return FigureRow(
        name=name,
        label=label,
        value=_figure_value(figure, unit, units),
        origin=_origin(species, name, figure),
        note=figure.note,
        works=works(figure.address),
    )


def _origin(species: Species, name: str, figure: Figure) -> str:
    if figure.basis is Basis.OWN:
        return origin_words(figure)
    words = ORIGINS[figure.basis]
    if figure.basis is not Basis.MEMORY and species.is_unverified(name):
        return f"{words}, but doubtful: unverified"
    return words


def _figure_value(figure: Figure, unit: str, units: UnitSystem) -> str:
    value = figure.value
    if isinstance(value, tuple):
        return ", ".join(_MONTHS[int(month) - 1] for month in value)
    if isinstance(value, int | float) and not unit:
        return f"{value:g}"
    if isinstance(value, int | float):
        return format_quantity(float(value), unit, units)
    return str(value)
