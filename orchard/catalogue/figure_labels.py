"""The figures of the catalogue by the names people read, and the words of their values."""

from django.utils.translation import gettext, gettext_noop

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
    "botanical_name": gettext_noop("Botanical name"),
    "family": gettext_noop("Family"),
    "habit": gettext_noop("It grows as"),
    "leaf": gettext_noop("Leaves in winter"),
    "chill_hours_min": gettext_noop("Winter chill it needs, least"),
    "chill_hours_max": gettext_noop("Winter chill it needs, most"),
    "chill_portions": gettext_noop("Winter chill it needs, in portions"),
    "usda_zone_min": gettext_noop("Coldest hardiness zone"),
    "usda_zone_max": gettext_noop("Warmest hardiness zone"),
    "damage_temp_young_c": gettext_noop("A young one is damaged at"),
    "damage_temp_mature_c": gettext_noop("A grown one is damaged at"),
    "move_in_temp_c": gettext_noop("A pot comes in at"),
    "bloom_damage_temp_c": gettext_noop("Open flowers are damaged at"),
    "mature_height_m": gettext_noop("Height at full size"),
    "mature_spread_m": gettext_noop("Width at full size"),
    "spacing_min_m": gettext_noop("Space between two, at least"),
    "spacing_typical_m": gettext_noop("Space between two, usually"),
    "root_depth_m": gettext_noop("Roots mostly reach"),
    "root_depth_max_m": gettext_noop("Roots reach at most"),
    "kc_ini": gettext_noop("Crop coefficient, early"),
    "kc_mid": gettext_noop("Crop coefficient, full leaf"),
    "kc_end": gettext_noop("Crop coefficient, late"),
    "depletion_p": gettext_noop("Share of the soil's water it uses without stress"),
    "self_fruitful": gettext_noop("Sets fruit alone"),
    "pollination_note": gettext_noop("Of its pollination"),
    "bloom_start_month": gettext_noop("Blooms from"),
    "bloom_end_month": gettext_noop("Blooms until"),
    "harvest_start_month": gettext_noop("Ripe from"),
    "harvest_end_month": gettext_noop("Ripe until"),
    "days_bloom_to_harvest": gettext_noop("Days from bloom to ripe"),
    "years_to_first_crop": gettext_noop("Years to the first crop"),
    "yield_mature_kg": gettext_noop("A grown one bears a year"),
    "prune_system": gettext_noop("Trained as"),
    "prune_months": gettext_noop("Months for cuts"),
    "prune_reason": gettext_noop("Why then"),
    "ph_min": gettext_noop("pH of the soil, least"),
    "ph_max": gettext_noop("pH of the soil, most"),
    "feed_group": gettext_noop("Fed as"),
    "nitrogen_first_year_g": gettext_noop("Nitrogen in its first year"),
    "nitrogen_mature_g": gettext_noop("Nitrogen at full size, a year"),
    "feed_times_per_year": gettext_noop("Feedings a year"),
    "container_ok": gettext_noop("Life in a pot"),
    "container_min_l": gettext_noop("Smallest pot of a grown one"),
    "pup_notes": gettext_noop("Suckers and pups"),
    "toxicity_note": gettext_noop("Poison"),
    "invasive_note": gettext_noop("Running wild"),
    "bloom": gettext_noop("Bloom, beside others of its kind"),
    "bloom_note": gettext_noop("When it blooms"),
    "is_pollen_sterile": gettext_noop("Its pollen is of no use"),
    "sex": gettext_noop("Its flowers are"),
    "flower_type": gettext_noop("Type of flower"),
    "partners": gettext_noop("Good partners"),
    "not_partners": gettext_noop("No partners"),
    "partner_note": gettext_noop("Other partners"),
    "harvest_note": gettext_noop("When it is ripe"),
}

#: The values of the figures that are chosen, by how the table writes them.
CHOICES: dict[str, dict[str, str]] = {
    "habit": {
        Habit.TREE: gettext_noop("a tree"),
        Habit.SHRUB: gettext_noop("a shrub"),
        Habit.VINE: gettext_noop("a vine"),
        Habit.HERB: gettext_noop("a tall herb"),
    },
    "leaf": {
        Leaf.DECIDUOUS: gettext_noop("none: it stands bare"),
        Leaf.EVERGREEN: gettext_noop("all: it is evergreen"),
        Leaf.SEMI: gettext_noop("some"),
    },
    "self_fruitful": {
        SelfFruitful.YES: gettext_noop("yes"),
        SelfFruitful.PARTIAL: gettext_noop("partly: more with another"),
        SelfFruitful.NO: gettext_noop("no: it needs another"),
    },
    "feed_group": {
        FeedGroup.CITRUS: gettext_noop("citrus"),
        FeedGroup.STONE: gettext_noop("stone fruit"),
        FeedGroup.POME: gettext_noop("pome fruit"),
        FeedGroup.BERRY_ACID: gettext_noop("berries of sour soil"),
        FeedGroup.TROPICAL: gettext_noop("tropical fruit"),
        FeedGroup.NUT: gettext_noop("nuts"),
        FeedGroup.OTHER: gettext_noop("other fruit"),
    },
    "container_ok": {
        ContainerFit.GOOD: gettext_noop("good"),
        ContainerFit.FAIR: gettext_noop("fair"),
        ContainerFit.POOR: gettext_noop("poor"),
    },
    "prune_system": {
        PruneSystem.CENTRAL_LEADER: gettext_noop("central leader"),
        PruneSystem.OPEN_CENTER: gettext_noop("open center"),
        PruneSystem.CANE: gettext_noop("canes"),
        PruneSystem.SPUR: gettext_noop("spurs"),
        PruneSystem.CANE_OR_SPUR: gettext_noop("canes or spurs"),
        PruneSystem.MULTI_STEM: gettext_noop("several stems"),
        PruneSystem.PUP_SELECTION: gettext_noop("a few chosen pups"),
        PruneSystem.TRELLIS_RENEWAL: gettext_noop("a trellis, wood renewed"),
        PruneSystem.NONE: gettext_noop("nothing in particular"),
    },
    "sex": {
        FlowerSex.FEMALE: gettext_noop("female"),
        FlowerSex.MALE: gettext_noop("male"),
        FlowerSex.BOTH: gettext_noop("both"),
    },
    "flower_type": {
        FlowerType.A: gettext_noop("A: takes pollen in the morning"),
        FlowerType.B: gettext_noop("B: takes pollen in the afternoon"),
        FlowerType.I: gettext_noop("I: sheds pollen first"),
        FlowerType.II: gettext_noop("II: takes pollen first"),
    },
    "is_pollen_sterile": {YesNo.YES: gettext_noop("yes"), YesNo.NO: gettext_noop("no")},
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
    1.0: gettext_noop("very early"),
    2.0: gettext_noop("early"),
    3.0: gettext_noop("middle"),
    4.0: gettext_noop("rather late"),
    5.0: gettext_noop("late"),
}


def bloom_words(bloom: float) -> str:
    """Return a class of bloom in words, such as ``early to middle``."""
    low, high = float(int(bloom)), float(int(bloom + 0.5))
    if low == high:
        return gettext(BLOOM_WORDS[low])
    return gettext("{first} to {last}").format(
        first=gettext(BLOOM_WORDS[low]), last=gettext(BLOOM_WORDS[high])
    )


def label_of(figure: str) -> str:
    """Return what a figure is called."""
    return gettext(LABELS[figure])


def choice_words(figure: str, value: str) -> str:
    """Return a value that was chosen, as people read it; another text as it is."""
    words = CHOICES.get(figure, {}).get(value)
    return gettext(words) if words else str(value)
