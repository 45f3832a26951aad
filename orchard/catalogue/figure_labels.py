"""The figures of the catalogue by the names people read, and the words of their values."""

from orchard.catalogue.cultivars import FlowerSex, FlowerType, YesNo
from orchard.catalogue.species import (
    ContainerFit,
    FeedGroup,
    Habit,
    Leaf,
    PruneSystem,
    SelfFruitful,
)

#: What a figure is called; those of a cultivar that a species has too are the same.
LABELS = {
    "botanical_name": "Botanical name",
    "family": "Family",
    "habit": "It grows as",
    "leaf": "Leaves in winter",
    "chill_hours_min": "Winter chill it needs, least",
    "chill_hours_max": "Winter chill it needs, most",
    "chill_portions": "Winter chill it needs, in portions",
    "usda_zone_min": "Coldest hardiness zone",
    "usda_zone_max": "Warmest hardiness zone",
    "damage_temp_young_c": "A young one is damaged at",
    "damage_temp_mature_c": "A grown one is damaged at",
    "move_in_temp_c": "A pot comes in at",
    "bloom_damage_temp_c": "Open flowers are damaged at",
    "mature_height_m": "Height at full size",
    "mature_spread_m": "Width at full size",
    "spacing_min_m": "Space between two, at least",
    "spacing_typical_m": "Space between two, usually",
    "root_depth_m": "Roots mostly reach",
    "root_depth_max_m": "Roots reach at most",
    "kc_ini": "Crop coefficient, early",
    "kc_mid": "Crop coefficient, full leaf",
    "kc_end": "Crop coefficient, late",
    "depletion_p": "Share of the soil's water it uses without stress",
    "self_fruitful": "Sets fruit alone",
    "pollination_note": "Of its pollination",
    "bloom_start_month": "Blooms from",
    "bloom_end_month": "Blooms until",
    "harvest_start_month": "Ripe from",
    "harvest_end_month": "Ripe until",
    "days_bloom_to_harvest": "Days from bloom to ripe",
    "years_to_first_crop": "Years to the first crop",
    "yield_mature_kg": "A grown one bears a year",
    "prune_system": "Trained as",
    "prune_months": "Months for cuts",
    "prune_reason": "Why then",
    "ph_min": "pH of the soil, least",
    "ph_max": "pH of the soil, most",
    "feed_group": "Fed as",
    "nitrogen_first_year_g": "Nitrogen in its first year",
    "nitrogen_mature_g": "Nitrogen at full size, a year",
    "feed_times_per_year": "Feedings a year",
    "container_ok": "Life in a pot",
    "container_min_l": "Smallest pot of a grown one",
    "pup_notes": "Suckers and pups",
    "toxicity_note": "Poison",
    "invasive_note": "Running wild",
    "bloom": "Bloom, beside others of its kind",
    "bloom_note": "When it blooms",
    "is_pollen_sterile": "Its pollen is of no use",
    "sex": "Its flowers are",
    "flower_type": "Type of flower",
    "partners": "Good partners",
    "not_partners": "No partners",
    "partner_note": "Other partners",
    "harvest_note": "When it is ripe",
}

#: The values of the figures that are chosen, by how the table writes them.
CHOICES: dict[str, dict[str, str]] = {
    "habit": {
        Habit.TREE: "a tree",
        Habit.SHRUB: "a shrub",
        Habit.VINE: "a vine",
        Habit.HERB: "a tall herb",
    },
    "leaf": {
        Leaf.DECIDUOUS: "none: it stands bare",
        Leaf.EVERGREEN: "all: it is evergreen",
        Leaf.SEMI: "some",
    },
    "self_fruitful": {
        SelfFruitful.YES: "yes",
        SelfFruitful.PARTIAL: "partly: more with another",
        SelfFruitful.NO: "no: it needs another",
    },
    "feed_group": {
        FeedGroup.CITRUS: "citrus",
        FeedGroup.STONE: "stone fruit",
        FeedGroup.POME: "pome fruit",
        FeedGroup.BERRY_ACID: "berries of sour soil",
        FeedGroup.TROPICAL: "tropical fruit",
        FeedGroup.NUT: "nuts",
        FeedGroup.OTHER: "other fruit",
    },
    "container_ok": {
        ContainerFit.GOOD: "good",
        ContainerFit.FAIR: "fair",
        ContainerFit.POOR: "poor",
    },
    "prune_system": {
        PruneSystem.CENTRAL_LEADER: "central leader",
        PruneSystem.OPEN_CENTER: "open center",
        PruneSystem.CANE: "canes",
        PruneSystem.SPUR: "spurs",
        PruneSystem.CANE_OR_SPUR: "canes or spurs",
        PruneSystem.MULTI_STEM: "several stems",
        PruneSystem.PUP_SELECTION: "a few chosen pups",
        PruneSystem.TRELLIS_RENEWAL: "a trellis, wood renewed",
        PruneSystem.NONE: "nothing in particular",
    },
    "sex": {
        FlowerSex.FEMALE: "female",
        FlowerSex.MALE: "male",
        FlowerSex.BOTH: "both",
    },
    "flower_type": {
        FlowerType.A: "A: takes pollen in the morning",
        FlowerType.B: "B: takes pollen in the afternoon",
        FlowerType.I: "I: sheds pollen first",
        FlowerType.II: "II: takes pollen first",
    },
    "is_pollen_sterile": {YesNo.YES: "yes", YesNo.NO: "no"},
}
MONTHS = (
    *("bloom_start_month", "bloom_end_month"),
    *("harvest_start_month", "harvest_end_month"),
)
#: Numbers that say how many, not how much.
COUNTS = (
    *("chill_hours_min", "chill_hours_max", "days_bloom_to_harvest"),
    "feed_times_per_year",
)
BLOOM_WORDS = {
    1.0: "very early",
    2.0: "early",
    3.0: "middle",
    4.0: "rather late",
    5.0: "late",
}


def bloom_words(bloom: float) -> str:
    """Return a class of bloom in words, such as ``early to middle``."""
    low, high = float(int(bloom)), float(int(bloom + 0.5))
    if low == high:
        return BLOOM_WORDS[low]
    return f"{BLOOM_WORDS[low]} to {BLOOM_WORDS[high]}"


def label_of(figure: str) -> str:
    """Return what a figure is called."""
    return LABELS[figure]
