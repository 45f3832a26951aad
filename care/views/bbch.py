"""Codes of the BBCH scale beside our words for stages, for those who know them.

Meier (ed.), Growth stages of mono- and dicotyledonous plants, BBCH Monograph, 2001,
scales of pome and of stone fruit, read where other pages report them. Which code fits
which stage of the frost tables is our own reading; stages without a clear one have none.
"""

#: Of both scales, and of every other plant by the general one.
GENERAL = {
    "dormant": "00",
    "first_bloom": "60",
    "full_bloom": "65",
    "post_bloom": "67",
    "leaf_drop": "93",
}
POME = GENERAL | {
    "silver_tip": "51",
    "scales_separating": "51",
    "green_tip": "53",
    "half_inch_green": "54",
    "tight_cluster": "55",
    "first_pink": "57",
    "first_white": "57",
    "full_pink": "59",
    "full_white": "59",
}
STONE = GENERAL | {
    "first_swell": "51",
    "side_green": "53",
    "side_white": "53",
    "tip_separates": "53",
    "green_tip": "53",
    "calyx_green": "54",
    "tight_cluster": "55",
    "open_cluster": "56",
    "calyx_red": "56",
    "first_pink": "57",
    "first_white": "57",
    "in_shuck": "72",
}
SCALES = {"pome": POME, "stone": STONE}
USUAL = GENERAL | {"first_swell": "01", "bud_break": "07"}


def bbch_code(stage: str, feed_group: str) -> str:
    """Return the code of a stage for a kind of fruit, or nothing."""
    return SCALES.get(feed_group, USUAL).get(stage, "")
