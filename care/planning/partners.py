"""Who pollinates whom at a site, and what is lacking; no queries of its own."""

from dataclasses import dataclass

from care.facts import CultivarFacts, LayoutFacts, PlantFacts
from care.planning.kinds import Kinds
from care.science.cross_pollination import (
    CATALOGUE,
    MEMORY,
    Bloom,
    Flowers,
    Ground,
    Refusal,
    grafted_flowers,
    own_flowers,
)
from care.science.pollen_partners import NotPartner, Partner
from care.science.pollen_sources import Reach
from care.science.pollination import Pollination, Verdict, pollinations
from care.science.pollination_kinds import BY_HAND, BY_WIND, FARTHEST_M, NEAR_M
from care.science.pollination_need import Need
from care.science.pollination_remedies import suggested

#: What pages say in words comes from here: they know no science.
__all__ = [
    "BY_HAND",
    "BY_WIND",
    "FARTHEST_M",
    "MEMORY",
    "NEAR_M",
    "WANTING",
    "Bloom",
    "Ground",
    "Need",
    "NotPartner",
    "Partner",
    "PartnerRow",
    "Reach",
    "Refusal",
    "Verdict",
    "partners_of",
]

#: Verdicts of which something could be added.
_COULD_ADD = frozenset({Verdict.LACKS, Verdict.LACKS_SECOND, Verdict.SETS_ALONE})
#: What somebody should look at.
WANTING = frozenset({Verdict.LACKS, Verdict.LACKS_SECOND, Verdict.SEX_NOT_KNOWN})


@dataclass(frozen=True, slots=True)
class PartnerRow:
    """One plant of ours or wanted, and how its flowers fare.

    ``plant`` is its ref. ``partner`` is the best partner's ref, empty without one;
    ``distance_m`` the distance to it where that is known. ``needs`` are codes of what
    to do about it: ``add_cultivar`` or ``graft`` (one of ``suggestions``), ``add_male``,
    ``second_partner``, ``name_cultivar``, ``name_partners`` (of others that might
    count), ``say_sex``, ``say_sex_of_others``,
    ``measure_distance``. ``sources`` are keys of the references; ``memory`` is none.
    """

    plant: str
    name: str
    verdict: Verdict
    partner: str
    partner_name: str
    distance_m: float | None
    needs: tuple[str, ...]
    suggestions: tuple[str, ...]
    sources: tuple[str, ...]
    pollination: Pollination
    facts: PlantFacts


def partners_of(
    layout: LayoutFacts, kinds: Kinds, *, only: str = ""
) -> tuple[PartnerRow, ...]:
    """Return how each plant of ours and each wanted one is pollinated, in order.

    Of the plant whose ref is ``only`` alone, where that is given.
    """
    by_ref = {plant.ref: plant for plant in layout.plants}
    return tuple(
        _row(row, by_ref, kinds) for row in pollinations(layout.plants, only=only)
    )


def _row(row: Pollination, by_ref: dict[str, PlantFacts], kinds: Kinds) -> PartnerRow:
    plant = by_ref[row.ref]
    best = row.partners[0] if row.partners else None
    added = _suggestions(row, plant, by_ref, kinds)
    return PartnerRow(
        plant=row.ref,
        name=plant.name,
        verdict=row.verdict,
        partner=best.ref if best else "",
        partner_name=best.name if best else "",
        distance_m=best.distance_m if best else None,
        needs=_needs(row, plant, added),
        suggestions=tuple(cultivar.name for cultivar in added),
        sources=_sources(row),
        pollination=row,
        facts=plant,
    )


def _suggestions(
    row: Pollination,
    plant: PlantFacts,
    by_ref: dict[str, PlantFacts],
    kinds: Kinds,
) -> tuple[CultivarFacts, ...]:
    if row.verdict not in _COULD_ADD:
        return ()
    has: list[Flowers] = []
    if row.verdict is Verdict.LACKS_SECOND:
        has = [_flowers(partner, by_ref) for partner in row.partners]
    return suggested(plant, kinds.cultivars_of(plant.species.key), has)


def _flowers(partner: Partner, by_ref: dict[str, PlantFacts]) -> Flowers:
    plant = by_ref[partner.ref]
    candidates = grafted_flowers(plant) if partner.is_graft else (own_flowers(plant),)
    return next(each for each in candidates if each.name == partner.cultivar_name)


def _needs(
    row: Pollination, plant: PlantFacts, added: tuple[CultivarFacts, ...]
) -> tuple[str, ...]:
    match row.verdict:
        case Verdict.SEX_NOT_KNOWN:
            return ("say_sex",)
        case Verdict.PERHAPS:
            return ("measure_distance",)
        case Verdict.SETS_ALONE if row.partners:
            return ("measure_distance",)
        case Verdict.LACKS if _is_by_sexes(plant):
            return ("add_male", *_asked(row))
        case Verdict.LACKS | Verdict.LACKS_SECOND:
            return (*_lacking(row, plant, added), *_asked(row))
        case _:
            return ()


def _is_by_sexes(plant: PlantFacts) -> bool:
    return own_flowers(plant).sex == "female"


def _lacking(
    row: Pollination, plant: PlantFacts, added: tuple[CultivarFacts, ...]
) -> tuple[str, ...]:
    if not plant.cultivar_name.strip():
        return ("name_cultivar", "add_cultivar")
    first = "second_partner" if row.verdict is Verdict.LACKS_SECOND else "add_cultivar"
    return (first, "graft") if added else (first,)


def _asked(row: Pollination) -> tuple[str, ...]:
    """Return what answers of others might change."""
    whys = {other.why for other in row.others}
    asked = []
    if Refusal.UNNAMED in whys:
        asked.append("name_partners")
    if Refusal.SEX_NOT_KNOWN in whys:
        asked.append("say_sex_of_others")
    return tuple(asked)


def _sources(row: Pollination) -> tuple[str, ...]:
    """Return where the need, the reach and the partner's match are read."""
    found = [MEMORY if row.figure.is_unverified else row.figure.source]
    if row.figure.need in {Need.PARTNER, Need.BETTER_WITH}:
        found.append(row.rule.source)
        found += [partner.source for partner in row.partners[:1]]
    return tuple(dict.fromkeys(each for each in found if each != CATALOGUE))
