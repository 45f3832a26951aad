"""Whether the flowers of one cultivar can pollinate those of another.

Names and bloom decide the same in both directions; what pollen a plant gives does not.
"""

import unicodedata
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from care.facts import CultivarFacts, PlantFacts, Span
from care.science.pollination_kinds import (
    FEMALES_NEED_POLLEN,
    SEPARATE_SEXES,
    cross,
)

#: Bloom classes as far apart as this still meet (the style of the RHS; from memory).
CLASSES_APART = 1.0

#: Seedlings differ from each other, though they bear one name.
SEEDLING = "seedling"

MEMORY = "memory"
CATALOGUE = "catalogue"


class Bloom(StrEnum):
    """Whether two bloom together, best first."""

    MEETS = "meets"
    UNSURE = "unsure"


class Ground(StrEnum):
    """Why two count as partners."""

    NAMED = "named"
    CULTIVARS = "cultivars"
    SEXES = "sexes"
    KINDS = "kinds"


class Refusal(StrEnum):
    """Why a plant does not count as a partner."""

    UNNAMED = "unnamed"
    SAME_CULTIVAR = "same_cultivar"
    NAMED_AGAINST = "named_against"
    POLLEN_STERILE = "pollen_sterile"
    FEMALE = "female"
    SEX_NOT_KNOWN = "sex_not_known"
    SAME_FLOWER_TYPE = "same_flower_type"
    BLOOM_APART = "bloom_apart"
    KINDS_DO_NOT_CROSS = "kinds_do_not_cross"
    STRANGER = "stranger"
    TOO_FAR = "too_far"


@dataclass(frozen=True, slots=True)
class Match:
    """Two that can pollinate each other as far as names and bloom go."""

    bloom: Bloom
    ground: Ground
    source: str


@dataclass(frozen=True, slots=True)
class Flowers:
    """The flowers of one cultivar on one plant; ``name`` is empty where nobody knows.

    ``sex`` counts in what the cultivar is known to be.
    """

    species_key: str
    name: str
    sex: str
    cultivar: CultivarFacts | None
    bloom_months: Span | None

    @property
    def identity(self) -> str:
        """Return what two plants of one cultivar share."""
        return self.cultivar.key if self.cultivar else plain_name(self.name)

    @property
    def is_seedling(self) -> bool:
        """Whether it is one of a kind."""
        return SEEDLING in plain_name(self.name)

    @property
    def is_pollen_sterile(self) -> bool:
        """Whether its pollen is good for nothing."""
        return self.cultivar is not None and self.cultivar.is_pollen_sterile

    @property
    def flower_type(self) -> str:
        """Return A or B, I or II, where it is known."""
        return self.cultivar.flower_type if self.cultivar else ""


@lru_cache(maxsize=4096)
def plain_name(name: str) -> str:
    """Return a name without accents, case and outer or double spaces."""
    letters = unicodedata.normalize("NFKD", name.casefold())
    bare = "".join(letter for letter in letters if not unicodedata.combining(letter))
    return " ".join(bare.split())


def own_flowers(plant: PlantFacts) -> Flowers:
    """Return the flowers of a plant's own cultivar."""
    return Flowers(
        species_key=plant.species.key,
        name=plant.cultivar_name,
        sex=plant.sex or _sex(plant.cultivar),
        cultivar=plant.cultivar,
        bloom_months=plant.species.bloom,
    )


def grafted_flowers(plant: PlantFacts) -> tuple[Flowers, ...]:
    """Return the flowers of the cultivars grafted onto a plant."""
    keys = plant.graft_species_keys or ("",) * len(plant.grafts)
    found = []
    for (name, cultivar), key in zip(plant.grafts, keys, strict=True):
        species_key = key or plant.species.key
        is_own_kind = species_key == plant.species.key
        months = plant.species.bloom if is_own_kind else None
        found.append(Flowers(species_key, name, _sex(cultivar), cultivar, months))
    return tuple(found)


def flowers_of(cultivar: CultivarFacts, bloom_months: Span | None = None) -> Flowers:
    """Return the flowers of a cultivar that nobody has planted yet."""
    return Flowers(
        cultivar.species_key, cultivar.name, _sex(cultivar), cultivar, bloom_months
    )


def _sex(cultivar: CultivarFacts | None) -> str:
    return cultivar.sex if cultivar else ""


def judge(receiver: Flowers, donor: Flowers) -> Match | Refusal:
    """Return whether ``donor`` gives ``receiver`` pollen it can use, and why (not).

    Notes
    -----
    Another cultivar of the same kind, or of one it is known to cross with; bloom
    classes no more than one apart; a partner that either names counts as meeting. Of
    kinds with male and female plants the sexes decide instead of the names.
    """
    if receiver.species_key != donor.species_key:
        return _judge_kinds(receiver, donor)
    refusal = _no_pollen(receiver, donor)
    if refusal is not None:
        return refusal
    if _is_by_sexes(receiver):
        return _judge_sexes(receiver, donor)
    return _judge_names(receiver, donor)


def _no_pollen(receiver: Flowers, donor: Flowers) -> Refusal | None:
    if donor.is_pollen_sterile:
        return Refusal.POLLEN_STERILE
    if donor.sex == "female":
        return Refusal.FEMALE
    if not donor.sex and _is_by_sexes(receiver) and not _sets_alone(donor):
        return Refusal.SEX_NOT_KNOWN
    return None


def _is_by_sexes(receiver: Flowers) -> bool:
    key = receiver.species_key
    is_female = receiver.sex == "female"
    return key in SEPARATE_SEXES or (is_female and key in FEMALES_NEED_POLLEN)


def _sets_alone(flowers: Flowers) -> bool:
    """Whether it is known to bear by itself, and so has pollen of its own."""
    known = flowers.cultivar.self_fruitful if flowers.cultivar else ""
    return known in {"yes", "partial"}


def _judge_sexes(receiver: Flowers, donor: Flowers) -> Match | Refusal:
    """Male and female; their cultivars matter only where bloom is known."""
    if _names(receiver, donor):
        return Match(Bloom.MEETS, Ground.NAMED, _source_of_names(receiver, donor))
    bloom = _bloom(receiver, donor)
    if isinstance(bloom, Refusal):
        return bloom
    return Match(bloom, Ground.SEXES, CATALOGUE)


def _judge_names(receiver: Flowers, donor: Flowers) -> Match | Refusal:
    refusal = _of_names(receiver, donor)
    if refusal is not None:
        return refusal
    if _names(receiver, donor):
        return Match(Bloom.MEETS, Ground.NAMED, _source_of_names(receiver, donor))
    if receiver.flower_type and receiver.flower_type == donor.flower_type:
        return Refusal.SAME_FLOWER_TYPE
    bloom = _bloom(receiver, donor)
    if isinstance(bloom, Refusal):
        return bloom
    return Match(bloom, Ground.CULTIVARS, CATALOGUE)


def _of_names(receiver: Flowers, donor: Flowers) -> Refusal | None:
    if not plain_name(receiver.name) or not plain_name(donor.name):
        return Refusal.UNNAMED
    if receiver.identity == donor.identity and not receiver.is_seedling:
        return Refusal.SAME_CULTIVAR
    if _names_against(receiver, donor):
        return Refusal.NAMED_AGAINST
    return None


def _judge_kinds(receiver: Flowers, donor: Flowers) -> Match | Refusal:
    known = cross(receiver.species_key, donor.species_key)
    if known is None:
        return Refusal.STRANGER
    if not known.can:
        return Refusal.KINDS_DO_NOT_CROSS
    refusal = _no_pollen(receiver, donor)
    if refusal is not None:
        return refusal
    if _are_apart(receiver.bloom_months, donor.bloom_months):
        return Refusal.BLOOM_APART
    return Match(Bloom.UNSURE, Ground.KINDS, known.source)


def _bloom(one: Flowers, other: Flowers) -> Bloom | Refusal:
    """Compare bloom classes, which order the cultivars of one kind only."""
    first = one.cultivar.bloom if one.cultivar else None
    second = other.cultivar.bloom if other.cultivar else None
    if first is None or second is None:
        return Bloom.UNSURE
    meets = abs(first - second) <= CLASSES_APART
    return Bloom.MEETS if meets else Refusal.BLOOM_APART


def _are_apart(one: Span | None, other: Span | None) -> bool:
    """Whether two kinds are known to share no month of bloom."""
    if one is None or other is None:
        return False
    return not _months(one) & _months(other)


def _months(span: Span) -> set[int]:
    length = (span.end_month - span.start_month) % 12 + 1
    return {(span.start_month - 1 + after) % 12 + 1 for after in range(length)}


def _lists(names: tuple[str, ...], other: Flowers) -> bool:
    known_as = {plain_name(other.name)}
    if other.cultivar:
        known_as.add(plain_name(other.cultivar.name))
    return any(plain_name(name) in known_as for name in names)


def _is_listed_by(one: Flowers, other: Flowers) -> bool:
    return one.cultivar is not None and _lists(one.cultivar.partners, other)


def _names(one: Flowers, other: Flowers) -> bool:
    return _is_listed_by(one, other) or _is_listed_by(other, one)


def _names_against(one: Flowers, other: Flowers) -> bool:
    pairs = ((one, other), (other, one))
    return any(a.cultivar and _lists(a.cultivar.not_partners, b) for a, b in pairs)


def _source_of_names(one: Flowers, other: Flowers) -> str:
    """Return where the named partner is read; what either knows by reading goes first."""
    found = []
    for each, named in ((one, other), (other, one)):
        if _is_listed_by(each, named) and each.cultivar is not None:
            if "partners" in each.cultivar.unverified:
                found.append(MEMORY)
            else:
                found.append(dict(each.cultivar.sources).get("partners", CATALOGUE))
    return next((source for source in found if source != MEMORY), MEMORY)
