"""The stages of bud and bloom in words."""

#: What a grower calls a stage where the tables' name is not plain.
PLAIN = {
    "dormant": "at rest",
    "first_swell": "buds swell",
    "bud_break": "buds open, first green",
    "first_bloom": "first flowers open",
    "post_bloom": "petals fall",
    "in_shuck": "petals fallen, fruit in the shuck",
    "harvest": "last fruit picked",
    "leaf_drop": "leaves drop",
}


def stage_words(stage: str) -> str:
    """Return a stage in words, such as ``petals fall``."""
    return PLAIN.get(stage, stage.replace("_", " "))
