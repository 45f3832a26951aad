"""Replanting: who does badly where its like stood before."""

from care.facts import SpeciesFacts

PNW, WSU, PRACTICE = "pnw_replant", "wsu_replant", "common_practice"
# Pome fruit after pome fruit: Pacific Northwest Plant Disease Management Handbook,
# apple replant disease. Cherries, peaches, plums, citrus: Washington State University,
# Tree Fruit Research and Extension Center, replant disease.
GROUPS = {"pome": PNW, "stone": WSU, "citrus": WSU}


def replant_source(old: SpeciesFacts, new: SpeciesFacts) -> str:
    """Return who says that ``new`` does badly where ``old`` stood; nothing: nobody.

    That a kind of no such group is not planted after itself is common practice.
    """
    if old.feed_group == new.feed_group and new.feed_group in GROUPS:
        return GROUPS[new.feed_group]
    return PRACTICE if old.key == new.key else ""
