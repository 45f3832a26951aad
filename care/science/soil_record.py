"""What is known of the soil under one plant, and what it has been given."""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import Situation, TreeFacts
from care.science.canopy import crown_area_m2
from care.science.mulch import tree_ring_m
from care.science.nutrients import TEST_HOLDS_DAYS

KIND = "soil"
TEST = "next/test"
ACIDIFY = "acidify"
BED_DIAMETER_M = 1.2  # common practice, no source: where no spacing or spread is known
YEAR_DAYS = 365


@dataclass(frozen=True, slots=True)
class Acidity:
    """A soil's pH, and when it was measured; ``None`` where that is not recorded."""

    ph: float
    tested_on: date | None


def acidity(situation: Situation) -> Acidity | None:
    """Return the pH that counts: of the tree's own bed, else of the site.

    ``None`` where neither is known or the site's test is older than three years.
    """
    tree, test, today = situation.tree, situation.site.soil_test, situation.today
    if tree.soil_ph is not None:
        return Acidity(tree.soil_ph, _ticked_test_on(situation))
    if test is None or test.ph is None or test.on > today:
        return None
    if test.on + timedelta(days=TEST_HOLDS_DAYS) < today:
        return None
    return Acidity(test.ph, test.on)


def last_test_on(situation: Situation) -> date | None:
    """Return the day soil was last tested, by the site's record or a tick."""
    ticked, test = _ticked_test_on(situation), situation.site.soil_test
    if test is None or test.on > situation.today:
        return ticked
    return test.on if ticked is None else max(ticked, test.on)


def _ticked_test_on(situation: Situation) -> date | None:
    days = [
        work.on
        for work in situation.logged(KIND)
        if work.key == TEST and work.what == "done"
    ]
    return days[-1] if days else None


def sulfur_given(situation: Situation) -> tuple[tuple[date, float | None], ...]:
    """Return when sulfur was given, and how many grams where that was logged."""
    return tuple(
        (work.on, work.amount)
        for work in situation.logged(KIND)
        if work.what == "done" and work.key.partition("/")[2].startswith(ACIDIFY)
    )


def is_untested_since(situation: Situation, known: Acidity) -> bool:
    """Return whether sulfur was given after the test, so nobody knows the pH now."""
    given = sulfur_given(situation)
    if not given:
        return False
    return known.tested_on is None or given[-1][0] >= known.tested_on


def sulfur_this_year_g(situation: Situation, limit_g: float) -> float:
    """Return the sulfur given in the last twelve months [g].

    A giving of unknown amount counts as the whole year's ``limit_g``.
    """
    since = situation.today - timedelta(days=YEAR_DAYS)
    given = sulfur_given(situation)
    return sum(limit_g if g is None else g for on, g in given if on > since)


def bed_area_m2(tree: TreeFacts) -> float:
    """Return the ground to prepare for a plant before it is planted [m2].

    A circle as wide as its spacing, else as its full spread.
    """
    width = tree.spacing_m or tree.species.mature_spread_m or BED_DIAMETER_M
    return float(crown_area_m2(width))


def planted_area_m2(tree: TreeFacts, today: date) -> float:
    """Return the ground over a planted bush's roots [m2]: its ring, as for mulch."""
    return float(crown_area_m2(tree_ring_m(tree, today)))
