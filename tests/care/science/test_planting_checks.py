"""The lists of a planting, which task and sheet share; the rules' tests try the rest."""

from datetime import date

from care.science.planting_checks import (
    BACKFILLS,
    day_cautions,
    day_checks,
    ground_checks,
    usual_backfill,
)
from tests.care.rules.cases import species, tree

BLUEBERRY = species("blueberry", feed_group="berry_acid", habit="shrub")


def new(kind=None):
    return tree(kind, planted_on=date(2015, 3, 1), stock_litres=24.6)


def test_what_goes_back_is_the_usual_of_the_kind_unless_somebody_chose():
    assert usual_backfill(BLUEBERRY) == "acid"
    assert "acid_backfill" in day_checks(new(BLUEBERRY))
    for choice, code in BACKFILLS.items():
        found = day_checks(new(), choice)
        assert [each for each in found if each.endswith("_backfill")] == [code]


def test_lists_and_cautions_stand_without_a_plan():
    assert ground_checks(species(), is_soil_tested=True) == ("lead", "plant_quarantine")
    assert day_cautions(new(), is_asked=False)[0] == "wait_for_marks"
