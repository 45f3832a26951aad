"""What a plant needs to bear fruit: nothing, a little help, or a partner."""

from dataclasses import dataclass
from enum import StrEnum

from care.facts import PlantFacts
from care.science.cross_pollination import CATALOGUE, own_flowers
from care.science.pollination_kinds import FEMALES_NEED_POLLEN, SEPARATE_SEXES


class Need(StrEnum):
    """What a plant needs to bear."""

    ITSELF = "itself"
    BETTER_WITH = "better_with"
    PARTNER = "partner"
    NOTHING = "nothing"  # a male: it bears nothing
    SEX_NOT_KNOWN = "sex_not_known"
    NOT_KNOWN = "not_known"


@dataclass(frozen=True, slots=True)
class Figure:
    """What a plant needs, where that is read, and whether it rests on memory."""

    need: Need
    source: str
    is_of_cultivar: bool
    is_unverified: bool


def figure_of(plant: PlantFacts) -> Figure:
    """Return what a plant needs: its cultivar's figure before its kind's."""
    cultivar, species = plant.cultivar, plant.species
    by_sex = _need_by_sex(plant)
    if by_sex is not None:
        return Figure(
            by_sex,
            species.source_of("pollination_note"),
            is_of_cultivar=False,
            is_unverified="pollination_note" in species.unverified,
        )
    if cultivar is not None and cultivar.self_fruitful:
        is_unverified = "self_fruitful" in cultivar.unverified
        source = dict(cultivar.sources).get("self_fruitful", CATALOGUE)
        need = _NEEDS[cultivar.self_fruitful]
        return Figure(need, source, is_of_cultivar=True, is_unverified=is_unverified)
    need = _NEEDS[species.self_fruitful]
    if cultivar is not None and cultivar.is_pollen_sterile and need is Need.ITSELF:
        need = Need.PARTNER  # bad pollen serves its own flowers no better
    return Figure(
        need,
        species.source_of("self_fruitful"),
        is_of_cultivar=False,
        is_unverified="self_fruitful" in species.unverified,
    )


_NEEDS = {
    "yes": Need.ITSELF,
    "partial": Need.BETTER_WITH,
    "no": Need.PARTNER,
    "": Need.NOT_KNOWN,
}


def _need_by_sex(plant: PlantFacts) -> Need | None:
    flowers = own_flowers(plant)
    key = flowers.species_key
    if flowers.sex == "male":
        return Need.NOTHING
    if flowers.sex == "female" and key in FEMALES_NEED_POLLEN:
        return Need.PARTNER
    if key not in SEPARATE_SEXES:
        return None
    if flowers.sex == "both":
        return Need.ITSELF
    is_known = plant.cultivar is not None and plant.cultivar.self_fruitful == "yes"
    return None if is_known else Need.SEX_NOT_KNOWN
