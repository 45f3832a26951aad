"""Stages of the year in words: dates, and what they rest on."""

from datetime import date

from care.facts import Stage
from care.planning.stages_by_species import SpeciesYear, StageSpan
from care.views.days import DASH
from care.views.year_words import SHOWN, stage_rows

TODAY = date(2014, 6, 1)


def test_each_date_says_what_it_rests_on():
    apple = SpeciesYear(
        "Apple",
        {
            Stage.BUD_BREAK: StageSpan(date(2014, 3, 20), date(2014, 3, 24), "seen"),
            Stage.FULL_BLOOM: StageSpan(date(2014, 4, 14), date(2014, 4, 14), "heat"),
            Stage.LEAF_DROP: StageSpan(date(2014, 12, 1), date(2014, 12, 1), "months"),
        },
    )
    (row,) = stage_rows([apple], TODAY)
    assert row.name == "Apple"
    assert dict(zip(SHOWN, row.stages, strict=True)) == {
        Stage.BUD_BREAK: f"20{DASH}24 March, seen",
        Stage.FULL_BLOOM: "14 April, reckoned",
        Stage.HARVEST: "",
        Stage.LEAF_DROP: "1 December, first guess",
    }
    assert row.told[1] == ("Full bloom", "14 April, reckoned")
