"""Pruning: windows, limits, holds, and the hard stops of safety."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Answer, RainFacts, RainState, Stage, StageDay, WorkDone
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
    ],
)
def test_crops_with_a_rule_of_their_own_get_no_quarter(kind, own_rule):
    prune = propose(morning(WINTER, tree(kind)))[0]
    assert (prune.reason.code, prune.amount) == ("prune_own_rule", None)
    assert prune.reason.fact("own_rule") == own_rule


def test_bananas_have_their_own_kind_of_task():
    banana = tree(species("banana", prune_system="pup_selection"))
    assert propose(morning(WINTER, banana)) == ()


@pytest.mark.parametrize(("age", "is_trained"), [(0, True), (3, True), (4, False)])
def test_a_tree_in_training_is_not_pruned_as_well(age, is_trained):
    planted = date(2014 - age, 1, 5)
    young = tree(planted_on=planted, entered_on=planted)
    found = propose(morning(WINTER, young))
    assert ([p.key for p in found] == []) is (is_trained and age < 3)
    assert all(p.key == "2015/1" and not p.is_firm for p in found) is is_trained
    wired = replace(young, near_wires=True)
    assert propose(morning(WINTER, wired))[0].reason.code == "prune_near_wires"


def test_a_tree_cut_in_summer_may_have_lost_its_quarter_in_the_winter_before():
    plum = species("european_plum", feed_group="stone", prune_months=(7, 8))
    entered = date(2014, 2, 1)
    newcomer = tree(plum, entered_on=entered)
    (ask,) = propose(morning(entered, newcomer))
    assert (ask.reason.code, ask.amount) == ("prune_ask_past", None)
    assert ask.earliest == date(2014, 7, 1)
    no = replace(newcomer, pruned_before=Answer.NO)
    assert propose(morning(entered, no))[0].amount == 0.25
    yes = replace(newcomer, pruned_before=Answer.YES)
    assert [one.key for one in propose(morning(entered, yes))] == ["2015/1"]
    known = replace(newcomer, entered_on=date(2013, 10, 30))
    assert propose(morning(entered, known))[0].amount == 0.25
    canes = species("raspberry", prune_months=(7, 8), prune_system="cane")
    assert propose(morning(entered, replace(yes, species=canes)))[0].key == "2014/1"


def test_a_tree_is_not_pruned_before_it_is_planted():
    vine = species("currant", habit="shrub", prune_system="cane")
    planted = date(2014, 2, 20)
    late = tree(vine, planted_on=planted, entered_on=planted)
    (first,) = propose(morning(planted, late))
    assert (first.earliest, first.reason.code) == (planted, "prune_formative")
    assert first.amount is None


def test_a_window_before_the_planting_is_no_task():
    shrub = species("currant", habit="shrub", prune_system="cane")
    new = tree(shrub, planted_on=date(2014, 4, 10), entered_on=date(2014, 3, 20))
    (later,) = propose(morning(date(2014, 3, 25), new))
    assert later.key == "2015/1"


def test_near_wires_nobody_prunes():
    (check,) = propose(morning(WINTER, tree(near_wires=True)))
    assert (check.action, check.amount) == ("check", None)
    assert check.reason.code == "prune_near_wires"
    assert check.cautions == ("power_lines",)
    # 29 CFR 1910.269: 10 ft to 50 kV to ground
    assert check.reason.fact("keep_away_m") == pytest.approx(3.05, abs=0.005)
    assert check.sources == ("osha_1910_269",)


@pytest.mark.parametrize(("height_m", "is_called"), [(6.0, False), (6.2, True)])
def test_above_twenty_feet_a_professional_is_called(height_m, is_called):
    (task,) = propose(morning(WINTER, tree(height_m=height_m)))
    assert (task.reason.code == "prune_too_tall") is is_called
    if is_called:
        assert (task.action, task.amount) == ("check", None)
        assert task.cautions == ("call_professional",)
        assert task.sources == ("osu_tall_trees",)


def test_a_height_target_is_kept_by_yearly_cuts():
    (task,) = propose(morning(WINTER, tree(height_m=4.0, height_target_m=3.2)))
    assert task.reason.code == "prune_to_height"
    assert task.reason.fact("height_after_m") == pytest.approx(3.2)
    assert task.amount == 0.25
    (much,) = propose(morning(WINTER, tree(height_m=6.0, height_target_m=3.0)))
    assert much.reason.fact("height_after_m") == pytest.approx(5.0)
    citrus = tree(orange(), height_m=4.0, height_target_m=3.2)
    assert propose(morning(date(2014, 2, 10), citrus))[0].reason.code == (
        "prune_to_height"
    )
    low = tree(height_m=3.0, height_target_m=3.2)
    assert propose(morning(WINTER, low))[0].reason.code == "prune_window"


def test_a_neglected_tree_is_brought_back_by_a_quarter_a_year():
    old = tree(entered_on=date(2010, 1, 1))
    (task,) = propose(morning(WINTER, old))
    assert (task.reason.code, task.amount) == ("prune_renovate", 0.25)
    assert task.reason.fact("renovation_season") == 1
    assert "wsu_renovation" in task.sources


def test_cautions_fit_the_tree():
    shrub = species("currant", habit="shrub", prune_system="cane")
    low = tree(shrub, height_m=1.8, planted_on=date(2012, 3, 1))
    assert set(propose(morning(WINTER, low))[0].cautions) == {
        "look_for_wires",
        "clean_tools",
    }
    tall = tree(
        species("sweet_cherry", feed_group="stone", toxicity_note="pits"), height_m=6.0
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


def test_cuts_of_another_month_wait_for_no_weather_of_this_week():
    bitter = minima(WINTER, [-15.0, -14.0, 1.0])
    summer = tree(species(prune_months=(7, 8)))
    (prune,) = propose(morning(WINTER, summer, weather=bitter))
    assert prune.earliest == date(2014, 7, 1)
    assert prune.reason.fact("held_until") is None
    assert prune.reason.fact("held_by") is None


def test_mango_sap_is_warned_of():
    mango = replace(orange(prune_months=(1,)), key="mango")
    (task,) = propose(morning(WINTER, tree(mango), WARM_SOUTH))
    assert "mango_sap" in task.cautions


def test_a_plum_in_a_wet_winter_keeps_its_key_in_summer():
    plum = species("japanese_plum", feed_group="stone", prune_months=(1, 2))
    rains = RainFacts(RainState.SET_IN, usual_start=290, usual_end=100)
    (task,) = propose(morning(WINTER, tree(plum), rains=rains))
    assert (task.key, task.earliest) == ("2014/1", date(2014, 6, 1))
    assert task.reason.fact("wet_winter") is True


def test_stone_fruit_waits_for_a_dry_spell():
    plum = species("japanese_plum", feed_group="stone", prune_months=(1, 2))
    wet = minima(WINTER, [5.0] * 4, rain_mm=np.array([4.0, 3.0, 0.0, 0.0]))
    (task,) = propose(morning(WINTER, tree(plum), weather=wet))
    assert task.earliest == date(2014, 1, 12)
    assert task.reason.fact("held_by") == "wet"


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


def test_bud_break_moves_the_window_and_never_the_key():
    buds = StageDay(Stage.BUD_BREAK, 2014, date(2014, 2, 20), "heat")
    (task,) = propose(morning(WINTER, stages=(buds,)))
    assert (task.key, task.latest) == ("2014/1", date(2014, 2, 20))


@given(
    shares=st.lists(st.floats(0.01, 0.4), max_size=5),
    start=st.dates(date(2013, 11, 1), date(2014, 10, 31)),
)
@settings(max_examples=40)
def test_a_season_never_takes_more_than_the_limit(shares, start):
    work = tuple(cut("", start, share) for share in shares)
    for task in propose(morning(start, work=work)):
        gone = sum(shares) if task.key.startswith("2014/") else 0.0
        assert task.amount + min(gone, 0.25) <= 0.25 + 1e-3


@given(day=st.dates(date(2014, 1, 1), date(2016, 12, 30)))
@settings(max_examples=40)
def test_from_one_day_to_the_next_a_key_stays_until_its_window_ends(day):
    (today,) = propose(morning(day))
    (tomorrow,) = propose(morning(day + timedelta(days=1)))
    assert tomorrow.key == today.key or today.latest == day or not today.is_firm
