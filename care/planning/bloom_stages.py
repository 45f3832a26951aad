"""The stages of bud and bloom that a person may report for a species."""

from care.facts import SpeciesFacts, Stage
from care.science.crop import FULL_BLOOM_LAG_DAYS
from care.science.frost import bud_stages

#: For a species without published critical temperatures.
USUAL_STAGES = (
    "first_swell",
    "bud_break",
    "first_bloom",
    "full_bloom",
    "post_bloom",
)
RESTING = ("dormant",)
LEAF_DROP = ("leaf_drop",)

#: The turn of the year each word tells of, and how many days before the report it was;
#: swelling comes about a week before bud break (common practice, no source).
SEEN_STAGES: dict[str, tuple[Stage, int]] = {
    "first_swell": (Stage.BUD_BREAK, -7),
    "silver_tip": (Stage.BUD_BREAK, -7),
    "scales_separating": (Stage.BUD_BREAK, -7),
    "bud_break": (Stage.BUD_BREAK, 0),
    "green_tip": (Stage.BUD_BREAK, 0),
    "buds_exposed": (Stage.BUD_BREAK, 0),
    "calyx_green": (Stage.BUD_BREAK, 0),
    "tip_separates": (Stage.BUD_BREAK, 0),
    "side_green": (Stage.BUD_BREAK, 0),
    "side_white": (Stage.BUD_BREAK, 0),
    "full_bloom": (Stage.FULL_BLOOM, FULL_BLOOM_LAG_DAYS["full_bloom"]),
    "post_bloom": (Stage.PETAL_FALL, 0),
    "in_shuck": (Stage.PETAL_FALL, 0),
    "harvest": (Stage.HARVEST, 0),
    "leaf_drop": (Stage.LEAF_DROP, 0),
}


def reportable_stages(species: SpeciesFacts) -> tuple[str, ...]:
    """Return the stages to choose from, in the order of the season.

    An evergreen neither rests bare nor drops its leaves at once.
    """
    stages = (*(bud_stages(species.key) or USUAL_STAGES), "harvest")
    if species.is_evergreen:
        return stages
    return (*RESTING, *stages, *LEAF_DROP)
