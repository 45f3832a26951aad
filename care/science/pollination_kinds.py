"""What is particular to some kinds when they pollinate: sexes, crosses, wind, reach."""

from dataclasses import dataclass

#: Within this a partner is well placed, beyond the second one too far [m]: 50 and
#: 100 ft, the distances bees work well and poorly (an extension summary of
#: pollination in home orchards, read in a reprint).
NEAR_M = 15.0
FARTHEST_M = 30.0

#: Kinds with male and female plants. American persimmon: Coladonato (1992), US Forest
#: Service; the others from memory, as the catalogue notes.
SEPARATE_SEXES = frozenset(
    {"kiwifruit", "hardy_kiwi", "american_persimmon", "pistachio", "date_palm"}
)

#: Kinds of which a plant may be female only and then sets nothing without pollen
#: (from memory). A female mulberry sets without.
FEMALES_NEED_POLLEN = SEPARATE_SEXES | {"papaya", "muscadine"}

#: Females of a kind that one male serves (from memory, as the catalogue notes).
FEMALES_A_MALE = {"kiwifruit": 8, "hardy_kiwi": 8}

#: Kinds whose pollen the wind carries. Hazelnut: Slate (1930); pecan: Texas A&M,
#: Nesbitt; the others from memory.
BY_WIND = frozenset(
    {
        "walnut",
        "black_walnut",
        "pecan",
        "hazelnut",
        "olive",
        "pistachio",
        "mulberry",
        "chestnut",
        "date_palm",
    }
)

#: Kinds that set poorly without a hand and a brush, as the catalogue notes of each.
BY_HAND = frozenset(
    {"cherimoya", "atemoya", "sugar_apple", "soursop", "date_palm", "dragon_fruit"}
)


@dataclass(frozen=True, slots=True)
class ReachRule:
    """How far a partner may stand; without a farthest distance none is known.

    ``source`` is a key of the references, ``memory`` for what nobody read.
    """

    near_m: float
    farthest_m: float | None
    source: str


BEES = ReachRule(NEAR_M, FARTHEST_M, "pollination_distances")

#: A hazel's partner stands no farther than 50 ft (an extension answer of 2016).
HAZEL = ReachRule(NEAR_M, NEAR_M, "ask_extension_hazel")

#: An elder's within 60 ft (Cornell).
ELDER = ReachRule(18.0, FARTHEST_M, "cornell_hwwff_eld")

#: Other pollen on the wind: near is near, but how far it carries we have not read.
WIND = ReachRule(NEAR_M, None, "memory")


def reach_rule(species_key: str) -> ReachRule:
    """Return how far a partner of a kind may stand."""
    if species_key == "hazelnut":
        return HAZEL
    if species_key == "elderberry":
        return ELDER
    return WIND if species_key in BY_WIND else BEES


@dataclass(frozen=True, slots=True)
class Cross:
    """Whether two kinds pollinate each other, and who says so."""

    can: bool
    source: str


_CROSSES = {
    # Oregon State University Extension: compatible where bloom meets, which it mostly
    # does not; Washington State University says the same.
    frozenset({"pear", "asian_pear"}): Cross(can=True, source="osu_pears"),
    # A nectarine is a peach without down (botany; from memory).
    frozenset({"peach", "nectarine"}): Cross(can=True, source="memory"),
    # Both have four sets of chromosomes (from memory).
    frozenset({"blueberry_highbush", "blueberry_southern_highbush"}): Cross(
        can=True, source="memory"
    ),
    # Two and six sets of chromosomes (from memory).
    frozenset({"european_plum", "japanese_plum"}): Cross(can=False, source="memory"),
    frozenset({"blueberry_highbush", "blueberry_rabbiteye"}): Cross(
        can=False, source="memory"
    ),
    frozenset({"blueberry_southern_highbush", "blueberry_rabbiteye"}): Cross(
        can=False, source="memory"
    ),
    # They cross, but sour cherries bloom later: not to be counted on (from memory).
    frozenset({"sweet_cherry", "sour_cherry"}): Cross(can=False, source="memory"),
}


def cross(species_key: str, other_key: str) -> Cross | None:
    """Return what is known of two kinds that differ; ``None``: strangers."""
    return _CROSSES.get(frozenset({species_key, other_key}))
