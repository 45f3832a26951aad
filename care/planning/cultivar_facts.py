"""Cultivars of the catalogue as the facts that rules read."""

from care.facts import CultivarFacts, Span
from care.planning.species_facts import sources_of
from orchard.catalogue.cultivars import Cultivar, YesNo


def cultivar_facts(cultivar: Cultivar) -> CultivarFacts:
    """Return the facts of one cultivar."""
    return CultivarFacts(
        key=cultivar.key,
        species_key=cultivar.species_key,
        name=cultivar.name,
        chill_hours_min=cultivar.chill_hours_min,
        chill_hours_max=cultivar.chill_hours_max,
        chill_portions=cultivar.chill_portions,
        bloom=cultivar.bloom,
        self_fruitful=str(cultivar.self_fruitful or ""),
        is_pollen_sterile=cultivar.is_pollen_sterile is YesNo.YES,
        sex=str(cultivar.sex or ""),
        flower_type=str(cultivar.flower_type or ""),
        partners=cultivar.partners,
        not_partners=cultivar.not_partners,
        harvest=_harvest(cultivar),
        days_bloom_to_harvest=cultivar.days_bloom_to_harvest,
        unverified=cultivar.unverified,
        sources=sources_of(cultivar.provenance, cultivar.provenance),
    )


def _harvest(cultivar: Cultivar) -> Span | None:
    start, end = cultivar.harvest_start_month, cultivar.harvest_end_month
    return None if start is None or end is None else Span(start, end)
