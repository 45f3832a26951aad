"""The stages of bud and bloom in words."""

from django.utils.translation import gettext, gettext_noop

#: What the tables call each stage.
TABLE = {
    "dormant": gettext_noop("dormant"),
    "first_swell": gettext_noop("first swell"),
    "bud_break": gettext_noop("bud break"),
    "silver_tip": gettext_noop("silver tip"),
    "scales_separating": gettext_noop("scales separating"),
    "green_tip": gettext_noop("green tip"),
    "half_inch_green": gettext_noop("half inch green"),
    "tight_cluster": gettext_noop("tight cluster"),
    "open_cluster": gettext_noop("open cluster"),
    "buds_exposed": gettext_noop("buds exposed"),
    "tip_separates": gettext_noop("tip separates"),
    "side_green": gettext_noop("side green"),
    "side_white": gettext_noop("side white"),
    "calyx_green": gettext_noop("calyx green"),
    "calyx_red": gettext_noop("calyx red"),
    "first_pink": gettext_noop("first pink"),
    "full_pink": gettext_noop("full pink"),
    "first_white": gettext_noop("first white"),
    "full_white": gettext_noop("full white"),
    "first_bloom": gettext_noop("first bloom"),
    "full_bloom": gettext_noop("full bloom"),
    "post_bloom": gettext_noop("post bloom"),
    "in_shuck": gettext_noop("in shuck"),
}
#: What a grower calls a stage where the tables' name is not plain.
PLAIN = {
    "dormant": gettext_noop("at rest"),
    "first_swell": gettext_noop("buds swell"),
    "bud_break": gettext_noop("buds open, first green"),
    "first_bloom": gettext_noop("first flowers open"),
    "post_bloom": gettext_noop("petals fall"),
    "in_shuck": gettext_noop("petals fallen, fruit in the shuck"),
    "harvest": gettext_noop("last fruit picked"),
    "leaf_drop": gettext_noop("leaves drop"),
}


def stage_words(stage: str) -> str:
    """Return a stage in words, such as ``petals fall``."""
    return gettext(PLAIN[stage]) if stage in PLAIN else table_words(stage)


def table_words(stage: str) -> str:
    """Return a stage as the tables call it, such as ``post bloom``."""
    return gettext(TABLE.get(stage, stage.replace("_", " ")))
