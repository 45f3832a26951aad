"""Feeding by how a tree grew: asked first, never both, never before it has grown."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Observation, Stage, StageDay, WorkDone
from care.rules.feeding import propose
from tests.care.rules.cases import MILD, SHORT, morning, outlook, species, tree

SPRING = date(2014, 3, 10)
AUTUMN = date(2013, 10, 1)


def shoots(mm, on=AUTUMN):
    return Observation(1, "shoot_growth_mm", on, mm)


def looked(what="done", reason=""):
    return WorkDone(1, "feeding", "2014/growth", SPRING, what, reason=reason)


def grown_tree(mm, *work, today=SPRING, **more):
    return propose(morning(today, observations=(shoots(mm),), work=work, **more))


def test_long_shoots_mean_no_feed_and_say_so_without_asking_for_a_tick():
    # NC State, Guilford County: a bearing tree should grow 8-15 in
    (rest,) = grown_tree(700.0)
    assert (rest.action, rest.reason.code) == ("rest", "feed_rest_growth")
    assert (rest.amount, rest.is_firm) == (None, False)
    assert rest.reason.fact("band_high_mm") == 381


def test_shoots_as_they_should_be_get_half():
    (half,) = grown_tree(250.0)
    assert half.reason.fact("nitrogen_g") == pytest.approx(100)
    assert half.reason.fact("growth") == "in_band"


def test_short_shoots_are_asked_about_before_they_are_fed():
    (ask,) = grown_tree(20.0)
    assert (ask.action, ask.reason.code) == ("check", "feed_ask_short_shoots")
    assert (ask.key, ask.amount, ask.is_firm) == ("2014/growth", None, True)


def test_hunger_is_fed_by_the_whole_ladder_and_never_by_more():
    (feed,) = grown_tree(20.0, looked())
    assert (feed.action, feed.key) == ("feed", "2014/1")
    assert feed.reason.fact("nitrogen_g") == pytest.approx(200)


@pytest.mark.parametrize("word", ["dry", "wet", "planting"])
def test_another_cause_means_no_feed(word):
    said = Observation(1, "short_shoots_cause", SPRING, word=word)
    situation = morning(SPRING, observations=(shoots(20.0), said))
    assert propose(situation)[0].reason.code == "feed_rest_cause"


def test_an_answer_by_the_reason_for_leaving_it_out():
    for reason in ("not_hungry", "soil_dry", "grows_enough", "fed_otherwise"):
        rest = grown_tree(20.0, looked("skipped", reason))
        assert rest[0].reason.code == "feed_rest_cause"
    (half,) = grown_tree(20.0, looked("skipped", "no_time"))
    assert half.reason.fact("nitrogen_g") == pytest.approx(100)


def test_what_the_records_suggest_stands_beside_the_question():
    dry = grown_tree(20.0, water=outlook(stress_ks=0.8))[0]
    assert dry.reason.fact("maybe_dry") is True
    assert dry.reason.fact("maybe_wet") is False
    was_dry = outlook(history_missing_l=(20.0, 70.0, 0.0))
    assert grown_tree(20.0, water=was_dry)[0].reason.fact("maybe_dry") is True
    wet = grown_tree(20.0, water=outlook(is_saturated=True))[0]
    assert wet.reason.fact("maybe_wet") is True
    clay = tree(drainage_hours=60.0)
    slow = propose(morning(SPRING, clay, observations=(shoots(20.0),)))[0]
    assert slow.reason.fact("maybe_wet") is True
    fresh = tree(planted_on=date(2012, 3, 1), crown_width_m=None)
    young = propose(morning(SPRING, fresh, observations=(shoots(200.0),)))[0]
    assert young.reason.fact("maybe_planting") is True


def test_old_readings_and_those_of_the_planting_season_say_nothing():
    assert grown_tree(20.0, today=date(2014, 10, 2))[-1].action == "feed"
    fresh = tree(planted_on=date(2013, 3, 1), entered_on=date(2013, 3, 1))
    found = propose(morning(SPRING, fresh, observations=(shoots(20.0),)))
    assert found[0].reason.fact("growth") is None


@given(
    shoot_mm=st.floats(0, 1500),
    today=st.dates(date(2013, 11, 1), date(2014, 12, 31)),
    what=st.sampled_from([None, "done", "skipped"]),
)
@settings(max_examples=80)
def test_a_tree_is_never_asked_about_and_fed_at_once(shoot_mm, today, what):
    work = () if what is None else (looked(what, "not_hungry"),)
    for site in (MILD, SHORT):
        situation = morning(today, site=site, observations=(shoots(shoot_mm),))
        found = propose(replace(situation, work=work))
        season = [p for p in found if p.key.startswith("2014/")]
        assert len({p.action for p in season}) <= 1


@given(shoot_mm=st.floats(0, 1500), more_mm=st.floats(0, 500))
@settings(max_examples=40)
def test_longer_shoots_never_get_more(shoot_mm, more_mm):
    def fed(mm):
        first = grown_tree(mm, looked())[0]
        return first.amount or 0.0

    assert fed(shoot_mm + more_mm) <= fed(shoot_mm)


def test_hard_pruning_stops_feeding():
    hard = WorkDone(1, "pruning", "2014/1", date(2014, 2, 1), amount=0.4)
    rest, _later = propose(morning(SPRING, work=(hard,)))
    assert rest.reason.code == "feed_rest_pruned"
    light = replace(hard, amount=0.2)
    assert propose(morning(SPRING, work=(light,)))[0].action == "feed"


def fresh_tree(**more):
    planted = date(2014, 2, 1)
    return tree(planted_on=planted, entered_on=planted, **more)


def test_a_fresh_leaf_shedder_is_measured_a_month_on_and_not_fed():
    # Texas A&M: a month after planting, only if it has grown six inches
    (look,) = propose(morning(date(2014, 4, 10), fresh_tree()))
    assert look.reason.code == "feed_ask_first_growth"
    assert (look.action, look.amount, look.due) == ("check", None, date(2014, 3, 31))
    assert look.reason.fact("needed_mm") == 150


def test_six_inches_of_growth_let_it_be_fed_in_its_first_year():
    grew = shoots(160.0, date(2014, 4, 8))
    today = date(2014, 4, 10)
    (feed,) = propose(morning(today, fresh_tree(), observations=(grew,)))
    assert (feed.key, feed.is_firm) == ("2014/1", True)
    assert "not_in_hole" in feed.cautions
    stalled = shoots(90.0, date(2014, 4, 8))
    (look,) = propose(morning(today, fresh_tree(), observations=(stalled,)))
    assert look.action == "check"


def test_a_look_that_found_no_growth_ends_the_question():
    today = date(2014, 4, 10)
    work = (WorkDone(1, "feeding", "2014/growth", today),)
    found = propose(morning(today, fresh_tree(), work=work))
    assert [(p.key, p.is_firm) for p in found] == [("2015/1", False)]


def test_a_first_look_that_comes_too_late_is_left_out():
    late = tree(planted_on=date(2014, 4, 5), entered_on=date(2014, 4, 5))
    (later,) = propose(morning(date(2014, 4, 20), late))
    assert (later.key, later.is_firm) == ("2015/1", False)


def test_a_first_look_comes_before_each_part_and_lapses():
    thrice = replace(fresh_tree(), species=species(feed_times_per_year=3))
    (look,) = propose(morning(date(2014, 6, 17), thrice))
    assert (look.due, look.latest) == (date(2014, 5, 6), date(2014, 6, 17))
    missed = propose(morning(date(2014, 6, 18), thrice))
    assert [(p.key, p.is_firm) for p in missed] == [("2015/1", False)]


def test_a_tree_yet_to_be_planted_gets_nothing_before_it_has_settled():
    planned = tree(planted_on=date(2014, 11, 20), entered_on=date(2014, 1, 1))
    found = propose(morning(SPRING, planned))
    assert all(not proposal.is_firm for proposal in found)
    assert all(p.earliest >= date(2014, 12, 11) for p in found)


def test_bud_break_that_was_seen_moves_the_first_feeding():
    def first(on, basis):
        stages = (StageDay(Stage.BUD_BREAK, 2014, on, basis),)
        return propose(morning(SPRING, stages=stages))[0]

    late = first(date(2014, 4, 6), "seen")
    assert late.earliest == date(2014, 4, 6)
    assert late.reason.fact("growth_start_basis") == "seen"
    assert "bud_break_seen" not in late.reason.would_change
    early = first(date(2014, 2, 20), "heat")
    assert early.earliest == date(2014, 2, 20)
    assert "bud_break_seen" in early.reason.would_change


def test_a_persimmon_of_fair_growth_is_left_alone():
    # As relayed: fed only where shoots stay under 12 in
    kind = species("asian_persimmon", feed_group="other")
    situation = morning(SPRING, tree(kind), observations=(shoots(400.0),))
    assert propose(situation)[0].reason.code == "feed_rest_growth"
