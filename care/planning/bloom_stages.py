"""The stages of bud and bloom that a person may report for a species."""

from care.science.frost import bud_stages

#: For a species without published critical temperatures.
USUAL_STAGES = ("first_swell", "first_bloom", "full_bloom", "post_bloom")
RESTING = ("dormant",)
AFTER_BLOOM = ("harvest", "leaf_drop")


def reportable_stages(species_key: str) -> tuple[str, ...]:
    """Return the stages to choose from, in the order of the season."""
    return (*RESTING, *(bud_stages(species_key) or USUAL_STAGES), *AFTER_BLOOM)
