"""Pruning: windows, limits, holds, and the hard stops of safety."""

from dataclasses import replace
from datetime import date

import pytest

from care.facts import Answer, WorkDone
from care.rules.pruning import propose
from tests.care.rules.cases import (
    MILD,
    WARM_SOUTH,
    minima,
    morning,
    orange,
    species,
    tree,
)

WINTER = date(2014, 1, 10)


def cut(key, on, share=None, what="done"):
    return WorkDone(1, "pruning", key, on, what, share)


def test_an_apple_is_pruned_in_late_winter_by_a_quarter_at_most():
    (prune,) = propose(morning(WINTER))
    assert (prune.key, prune.action, prune.unit) == ("2014/1", "prune", "share")
    # ANSI A300 (1995) 5.3.1
    assert prune.amount == 0.25
    assert (prune.earliest, prune.latest) == (date(2014, 1, 1), date(2014, 3, 31))
    assert prune.due == date(2014, 2, 14)
    assert prune.is_firm


def test_the_southern_apple_is_pruned_half_a_year_later():
    (prune,) = propose(morning(date(2014, 6, 10), site=WARM_SOUTH))
    assert (prune.key, prune.earliest, prune.latest) == (
        "2014/1",
        date(2014, 7, 1),
        date(2014, 9, 30),
    )


def test_done_skipped_or_past_leads_to_next_season_as_a_projection():
    for work in (
        (cut("2014/1", date(2014, 1, 5), 0.25),),
        (cut("2014/1", date(2014, 1, 5), what="skipped"),),
    ):
        (later,) = propose(morning(WINTER, work=work))
        assert (later.key, later.is_firm) == ("2015/1", False)
    (later,) = propose(morning(date(2014, 6, 1)))
    assert (later.key, later.is_firm) == ("2015/1", False)


def test_what_was_cut_this_season_counts():
    work = (cut("", date(2014, 1, 5), 0.15),)
    (prune,) = propose(morning(WINTER, work=work))
    assert prune.amount == pytest.approx(0.10)
    spent = (cut("", date(2014, 1, 5), 0.25),)
    assert not propose(morning(WINTER, work=spent))[0].is_firm


def test_two_windows_a_year_are_two_tasks():
    berry = species("blackberry", prune_months=(7, 8, 2), prune_system="cane")
    found = propose(morning(WINTER, tree(berry)))
    assert [(p.key, p.is_firm) for p in found] == [("2014/1", True), ("2014/2", False)]
    work = (cut("2014/1", date(2014, 2, 5)),)
    summer = propose(morning(date(2014, 3, 1), tree(berry), work=work))
    assert [(p.key, p.is_firm) for p in summer] == [("2014/2", True)]


def test_an_unknown_past_means_a_question():
    newcomer = tree(entered_on=date(2014, 2, 10))
    (ask,) = propose(morning(date(2014, 2, 10), newcomer))
    assert (ask.action, ask.reason.code, ask.amount) == (
        "check",
        "prune_ask_past",
        None,
    )
    no = replace(newcomer, pruned_before=Answer.NO)
    assert propose(morning(date(2014, 2, 10), no))[0].amount == 0.25
    yes = replace(newcomer, pruned_before=Answer.YES)
    assert propose(morning(date(2014, 2, 10), yes))[0].key == "2015/1"
    early = tree(entered_on=date(2013, 12, 1))
    assert propose(morning(WINTER, early))[0].action == "prune"


@pytest.mark.parametrize(
    ("kind", "own_rule"),
    [
        (species("peach", feed_group="stone"), "fruiting_shoots"),
        (species("grape", habit="vine"), "vine"),
        (species("raspberry", prune_system="cane"), "canes"),
        (species("banana", prune_system="pup_selection"), "stems"),
    ],
)
def test_crops_with_a_rule_of_their_own_get_no_quarter(kind, own_rule):
    prune = propose(morning(WINTER, tree(kind)))[0]
    assert (prune.reason.code, prune.amount) == ("prune_own_rule", None)
    assert prune.reason.fact("own_rule") == own_rule


def test_a_tree_in_its_first_year_is_only_shaped():
    young = tree(
        planted_on=date(2013, 12, 1), entered_on=date(2013, 12, 1), crown_width_m=0.5
    )
    prune = propose(morning(WINTER, young))[0]
    assert (prune.reason.code, prune.amount) == ("prune_formative", None)
    assert "saw" not in prune.cautions
    late = replace(young, planted_on=date(2014, 2, 20), entered_on=date(2014, 2, 20))
    assert propose(morning(date(2014, 2, 20), late))[0].earliest == date(2014, 2, 20)


def test_a_window_before_the_planting_is_no_task():
    new = tree(planted_on=date(2014, 4, 10), entered_on=date(2014, 3, 20))
    (later,) = propose(morning(date(2014, 3, 25), new))
    assert later.key == "2015/1"


def test_near_wires_nobody_prunes():
    (check,) = propose(morning(WINTER, tree(near_wires=True)))
    assert (check.action, check.amount) == ("check", None)
    assert check.reason.code == "prune_near_wires"
    assert check.cautions == ("power_lines",)


def test_cautions_fit_the_tree():
    low = tree(height_m=1.8, planted_on=date(2012, 3, 1))
    assert set(propose(morning(WINTER, low))[0].cautions) == {
        "look_for_wires",
        "clean_tools",
    }
    tall = tree(
        species("sweet_cherry", feed_group="stone", toxicity_note="pits"), height_m=7.0
    )
    cautions = propose(morning(WINTER, tall))[0].cautions
    assert {"ladder", "call_professional", "saw", "dry_spell", "toxic_parts"} <= set(
        cautions
    )


def test_pruning_waits_for_forecast_cold_to_pass():
    bitter = minima(WINTER, [-5.0, -15.0, -14.0, 1.0])
    (prune,) = propose(morning(WINTER, weather=bitter))
    assert prune.earliest == date(2014, 1, 13)
    assert prune.reason.fact("held_by") == "cold"
    usual = minima(WINTER, [-5.0, -6.0, 1.0])
    assert propose(morning(WINTER, weather=usual))[0].earliest == date(2014, 1, 1)


def test_a_hold_past_the_window_ends_the_season():
    last_day = date(2014, 3, 31)
    bitter = minima(last_day, [-20.0])
    (later,) = propose(morning(last_day, weather=bitter))
    assert (later.key, later.is_firm) == ("2015/1", False)


def test_tender_trees_are_not_pruned_before_the_last_frost():
    (prune,) = propose(morning(date(2014, 2, 10), tree(orange())))
    assert prune.earliest == date(2014, 3, 21)
    assert prune.reason.code == "prune_light"


def test_no_months_no_proposal():
    assert propose(morning(WINTER, tree(species(prune_months=())), MILD)) == ()
