"""Catalogue rows as the facts that rules read."""

import functools
from collections.abc import Iterable, Mapping

from care.facts import Span, SpeciesFacts
from orchard.catalogue import Basis, Provenance
from orchard.catalogue.species import Species, species_catalogue

# Facts whose origin a task may quote beside a number.
FIGURES = (
    "kc_ini",
    "kc_mid",
    "kc_end",
    "depletion_p",
    "root_depth_m",
    "mature_height_m",
    "mature_spread_m",
    "bloom_start_month",
    "harvest_start_month",
    "prune_months",
    "feed_group",
    "nitrogen_first_year_g",
    "nitrogen_mature_g",
    "feed_times_per_year",
    "damage_temp_young_c",
    "damage_temp_mature_c",
    "move_in_temp_c",
    "bloom_damage_temp_c",
    "chill_hours_min",
    "chill_hours_max",
    "years_to_first_crop",
    "days_bloom_to_harvest",
    "yield_mature_kg",
    "ph_min",
    "ph_max",
    "container_min_l",
    "self_fruitful",
    "container_ok",
    "usda_zone_min",
    "usda_zone_max",
    "spacing_min_m",
    "spacing_typical_m",
)


#: Before the source of an orchard's own figure, among the sources of a task.
OWN = "own: "


@functools.cache
def species_facts(key: str) -> SpeciesFacts:
    """Return the facts of one species of the catalogue, as it comes with the program.

    Raises
    ------
    KeyError
        The catalogue has no such species.
    """
    return facts_of(species_catalogue()[key])


def facts_of(species: Species) -> SpeciesFacts:
    """Return the facts of one species, an orchard's own figures among them."""
    return SpeciesFacts(
        key=species.key,
        name=species.common_name,
        leaf=species.leaf.value,
        habit=species.habit.value,
        kc_ini=species.kc_ini,
        kc_mid=species.kc_mid,
        kc_end=species.kc_end,
        kc_source=species.kc_source,
        depletion_p=species.depletion_p,
        root_depth_m=species.root_depth_m,
        mature_height_m=species.mature_height_m,
        mature_spread_m=species.mature_spread_m,
        bloom=Span(species.bloom_start_month, species.bloom_end_month),
        harvest=Span(species.harvest_start_month, species.harvest_end_month),
        prune_months=species.prune_months,
        prune_system=species.prune_system.value,
        prune_reason=species.prune_reason,
        feed_group=species.feed_group.value,
        nitrogen_first_year_g=species.nitrogen_first_year_g,
        nitrogen_mature_g=species.nitrogen_mature_g,
        feed_times_per_year=species.feed_times_per_year,
        damage_temp_young_c=species.damage_temp_young_c,
        damage_temp_mature_c=species.damage_temp_mature_c,
        move_in_temp_c=species.move_in_temp_c,
        bloom_damage_temp_c=species.bloom_damage_temp_c,
        chill_hours_min=species.chill_hours_min,
        chill_hours_max=species.chill_hours_max,
        years_to_first_crop=species.years_to_first_crop,
        days_bloom_to_harvest=species.days_bloom_to_harvest,
        yield_mature_kg=species.yield_mature_kg,
        ph_min=species.ph_min,
        ph_max=species.ph_max,
        container_min_l=species.container_min_l,
        self_fruitful=species.self_fruitful.value,
        pollination_note=species.pollination_note,
        container_ok=species.container_ok.value,
        usda_zone_min=species.usda_zone_min,
        usda_zone_max=species.usda_zone_max,
        pup_notes=species.pup_notes,
        toxicity_note=species.toxicity_note,
        spacing_min_m=species.spacing_min_m,
        spacing_typical_m=species.spacing_typical_m,
        invasive_note=species.invasive_note,
        unverified=species.unverified,
        sources=sources_of(species.provenance, FIGURES),
    )


def sources_of(
    origins: Mapping[str, Provenance], names: Iterable[str]
) -> tuple[tuple[str, str], ...]:
    """Return the source of each figure that has an origin, by its name."""
    return tuple((name, source_key(origins[name])) for name in names if name in origins)


def source_key(origin: Provenance) -> str:
    """Return the key of a source; an orchard's own is what the person typed."""
    is_own = origin.basis is Basis.OWN
    return f"{OWN}{origin.source}" if is_own else origin.source
