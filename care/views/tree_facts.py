"""What is known of one tree, figure by figure, and where each figure comes from."""

from dataclasses import dataclass
from datetime import date
from itertools import starmap

from django.utils.translation import gettext, gettext_noop, ngettext

from care.views.days import full_day, short_day
from care.views.references import Reference, works
from care.views.rootstock_words import rootstock_facts
from care.views.tree_lines import place_words, species_name
from orchard.catalogue import Basis, Figure, Species
from orchard.catalogue.of_orchard import OrchardCatalogue
from orchard.languages import day_of_year, localised, short_month
from orchard.models import Stay, Tree
from orchard.units import UnitSystem, format_quantity
from orchard.views.kind_words import origin_words

ORIGINS = {
    Basis.READ: gettext_noop("read in the source"),
    Basis.READ_SECONDARY: gettext_noop("read in a report of the source"),
    Basis.PROXY: gettext_noop("borrowed from a related crop"),
    Basis.MEMORY: gettext_noop("from memory, unverified"),
}
#: The catalogue's figures that a grower may want to check -> words and SI unit.
FIGURES = {
    "move_in_temp_c": (gettext_noop("A pot comes in at"), "°C"),
    "damage_temp_young_c": (gettext_noop("A young one is damaged at"), "°C"),
    "damage_temp_mature_c": (gettext_noop("A grown one is damaged at"), "°C"),
    "bloom_damage_temp_c": (gettext_noop("Open flowers are damaged at"), "°C"),
    "chill_hours_min": (gettext_noop("Winter chill it needs, at least"), "h"),
    "kc_ini": (gettext_noop("Crop coefficient, early"), ""),
    "kc_mid": (gettext_noop("Crop coefficient, full leaf"), ""),
    "kc_end": (gettext_noop("Crop coefficient, late"), ""),
    "depletion_p": (
        gettext_noop("Share of the soil's water it uses without stress"),
        "share",
    ),
    "root_depth_m": (gettext_noop("Roots mostly reach"), "m"),
    "nitrogen_first_year_g": (gettext_noop("Nitrogen in its first year"), "g"),
    "nitrogen_mature_g": (gettext_noop("Nitrogen at full size, a year"), "g"),
    "feed_times_per_year": (gettext_noop("Feedings a year"), ""),
    "prune_months": (gettext_noop("Months for cuts, in the north"), ""),
    "mature_height_m": (gettext_noop("Height at full size"), "m"),
    "mature_spread_m": (gettext_noop("Width at full size"), "m"),
    "years_to_first_crop": (gettext_noop("Years to the first crop"), ""),
}


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
        Fact(gettext("Species"), species_name(tree, catalogue)),
        Fact(gettext("Grows"), place_words(tree, units)),
        _planted(tree, today),
        Fact(gettext("Crown width"), _length(tree.crown_width_m, units)),
        Fact(gettext("Height"), _length(tree.height_m, units)),
        Fact(gettext("Ground under it"), str(tree.get_floor_display())),
        Fact(gettext("Rain reaches it"), str(tree.get_rain_reach_display())),
        Fact(gettext("Watered unasked"), _irrigation(tree, units)),
        *starmap(Fact, rootstock_facts(tree)),
        *_stand(tree, units),
    )
    return facts if tree.tag == "" else (Fact(gettext("Tag"), tree.tag), *facts)


def _planted(tree: Tree, today: date) -> Fact:
    if tree.planted_on is None:
        return Fact(gettext("Planted"), gettext("long ago, nobody knows when"))
    label = gettext("To be planted") if tree.is_planned(today) else gettext("Planted")
    return Fact(label, short_day(tree.planted_on, today))


def _stand(tree: Tree, units: UnitSystem) -> tuple[Fact, ...]:
    """Return how it stands and what its ground is, as far as somebody said so."""
    drip, hours, ph = tree.drip_l_per_h, tree.drainage_hours, tree.soil_ph
    away = tree.water_distance_m
    said = (
        (
            gettext("Its drippers give"),
            drip
            and gettext("{drip} an hour").format(
                drip=format_quantity(drip, "L", units)
            ),
        ),
        (
            gettext("A test hole drained in"),
            hours is not None and localised(f"{hours:g} h"),
        ),
        (gettext("pH of its bed"), ph is not None and localised(f"{ph:g}")),
        (
            gettext("Open water is"),
            away is not None
            and gettext("{length} away").format(length=_length(away, units)),
        ),
        (
            gettext("While young, it should"),
            tree.goal != Tree.Goal.STANDARD and _goal(tree),
        ),
        (gettext("Held up by"), tree.support != Tree.Support.NONE and _support(tree)),
        (gettext("Its trunk has"), tree.has_trunk_guard and gettext("a guard")),
        (
            gettext("Its roots are"),
            not tree.is_grafted and gettext("its own: not grafted"),
        ),
    )
    return tuple(Fact(label, value) for label, value in said if value)


def _goal(tree: Tree) -> str:
    return str(tree.get_goal_display()).lower()


def _support(tree: Tree) -> str:
    return str(tree.get_support_display()).lower()


def _length(length_m: float | None, units: UnitSystem) -> str:
    if length_m is None:
        return gettext("not measured")
    return format_quantity(length_m, "m", units)


def _irrigation(tree: Tree, units: UnitSystem) -> str:
    if not tree.irrigation_litres or not tree.irrigation_weekdays:
        return gettext("no")
    litres = format_quantity(tree.irrigation_litres, "L", units)
    times = len(tree.irrigation_weekdays)
    until = tree.irrigation_until
    ends = gettext(", until {until}").format(until=day_of_year(until)) if until else ""
    words = ngettext(
        "{litres}, once a week{ends}", "{litres}, {number} times a week{ends}", times
    )
    return words.format(litres=litres, number=times, ends=ends)


def where_now(tree: Tree, stays: list[Stay]) -> str:
    """Return where a pot stands and since when; nothing for a tree in the ground."""
    if not tree.in_container:
        return ""
    if not stays:
        return gettext("Outdoors")
    last = stays[-1]
    return gettext("{place}, since {since}").format(
        place=last.get_place_display(), since=full_day(last.since)
    )


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
        label=gettext(label),
        value=_figure_value(figure, unit, units),
        origin=_origin(species, name, figure),
        note=figure.note,
        works=works(figure.address),
    )


def _origin(species: Species, name: str, figure: Figure) -> str:
    if figure.basis is Basis.OWN:
        return origin_words(figure)
    words = gettext(ORIGINS[figure.basis])
    if figure.basis is not Basis.MEMORY and species.is_unverified(name):
        return gettext("{words}, but doubtful: unverified").format(words=words)
    return words


def _figure_value(figure: Figure, unit: str, units: UnitSystem) -> str:
    value = figure.value
    if isinstance(value, tuple):
        return ", ".join(short_month(date(2001, int(month), 1)) for month in value)
    if isinstance(value, int | float) and not unit:
        return localised(f"{value:g}")
    if isinstance(value, int | float):
        return format_quantity(float(value), unit, units)
    return str(value)
