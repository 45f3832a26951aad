"""Shoots that are taken off for good: suckers, water sprouts, pups; sick wood too.

Lengths in millimetres, days counted from bud break or full bloom.
"""

from datetime import timedelta

from care.facts import Situation, SpeciesFacts, TreeFacts
from care.science.crop import Bloom
from care.science.season import Window, season_date, start_of_growth
from care.science.training import SUMMER_FROM_DAYS, SUMMER_TO_DAYS

# Suckers: looked for in April where buds break in March (UC Master Gardeners,
# Sacramento County), pulled at any time.
SUCKERS_FROM_DAYS, SUCKERS_TO_DAYS = 14, 75
# Water sprouts come off at 10-12 in, in mid-June, while their base is green (newspaper
# advice of Washington State University Extension).
SPROUT_LEAST_MM, SPROUT_MOST_MM = 250.0, 300.0
# Fire blight is cut 8-12 in below what shows (UC IPM Pest Notes 7414, read in a copy).
BLIGHT_LEAST_MM, BLIGHT_MOST_MM = 200.0, 300.0
# Strikes show after petal fall and while shoots grow; weekly looks (UC Master Gardeners,
# Butte County); the days from memory.
BLIGHT_FROM_DAYS, BLIGHT_TO_DAYS = 14, 70
TOOL_ALCOHOL_PERCENT = 70.0  # or one part of bleach in ten (UC IPM; Illinois Extension)
TOOL_SECONDS = 30.0
STEMS_KEPT = (3, 4)  # of a banana mat (UF/IFAS, from memory; the catalogue's)
PUP_DAYS = 30  # the catalogue says monthly

OWN_ROOTS = frozenset(
    {"fig", "pomegranate", "guava", "jaboticaba", "coffee", "cacao", "papaya"}
    | {"mulberry", "date_palm", "tamarind"}
)
GRAFTED_SHRUBS = frozenset({"kumquat"})  # all other shrubs grow from cuttings or seed
SUCKER_FREELY = frozenset(
    {"fig", "pomegranate", "hazelnut", "quince", "sour_cherry", "guava"}
    | {"american_persimmon", "pawpaw", "olive", "elderberry", "cacao"}
)
BLIGHTED = ("apple", "pear", "asian_pear", "quince", "loquat")
CLEAN_UP_FROM = (12, 1)  # northern month and day; common practice, no source
MUMMIES = ("almond",)  # and all pome and stone fruit


def has_rootstock(tree: TreeFacts) -> bool:
    """Return whether a tree has a graft to mind, and shoots of another kind below it.

    Entered as grafted, which is what an entry says unless somebody changed it, and of a
    kind that is grafted at all.
    """
    species = tree.species
    is_tree = species.habit == "tree" and species.key not in OWN_ROOTS
    return tree.is_grafted and (is_tree or species.key in GRAFTED_SHRUBS)


def suckers_window(situation: Situation, season: int) -> Window:
    """Return the weeks after bud break in which suckers are looked for."""
    return _after_growth(situation, season, SUCKERS_FROM_DAYS, SUCKERS_TO_DAYS)


def sprouts_window(situation: Situation, season: int) -> Window:
    """Return the weeks in which water sprouts still pull off."""
    return _after_growth(situation, season, SUMMER_FROM_DAYS, SUMMER_TO_DAYS)


def _after_growth(situation: Situation, season: int, first: int, last: int) -> Window:
    growth = start_of_growth(situation, season).on
    return Window(growth + timedelta(days=first), growth + timedelta(days=last))


def blight_window(bloom: Bloom) -> Window:
    """Return the weeks after bloom in which strikes of fire blight show."""
    return Window(
        bloom.full_on + timedelta(days=BLIGHT_FROM_DAYS),
        bloom.full_on + timedelta(days=BLIGHT_TO_DAYS),
    )


def clean_up_window(situation: Situation, season: int) -> Window:
    """Return the weeks before bud break in which what rots is cleared."""
    bud_on = start_of_growth(situation, season).on
    start = season_date(season, *CLEAN_UP_FROM, southern=situation.site.is_southern)
    return Window(min(start, bud_on), bud_on)


def keeps_mummies(species: SpeciesFacts) -> bool:
    """Return whether rot winters in fruit that hangs on, as on pome and stone fruit."""
    is_kind = species.feed_group in ("pome", "stone") or species.key in MUMMIES
    return is_kind and species.leaf == "deciduous"
