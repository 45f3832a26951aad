"""Thinning: bearing trees that are thinned, four to seven weeks after bloom."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Observation, Stage, StageDay, WorkDone
from care.rules.thinning import propose
from tests.care.rules.cases import WARM, WARM_SOUTH, morning, orange, species, tree

FULL_BLOOM = date(2014, 4, 20)
JUNE = date(2014, 6, 1)
SEEN = (Observation(1, "bloom_stage", FULL_BLOOM, word="full_bloom"),)


def closed(key, on, what="done"):
    return WorkDone(1, "thinning", key, on, what)


def test_the_window_counts_from_the_bloom_that_was_seen():
    (task,) = propose(morning(date(2014, 5, 20), observations=SEEN))
    assert (task.kind, task.key, task.action) == ("thinning", "2014/1", "thin")
    # Extension pages: not later than 45-50 days after bloom; apple flower buds are
    # laid 4-6 weeks after full bloom
    assert task.earliest == FULL_BLOOM + timedelta(weeks=4)
    assert task.latest == FULL_BLOOM + timedelta(weeks=7)
    assert task.reason.fact("bloom_seen") is True
    assert task.reason.fact("spacing_mm") == 150
    assert task.reason.fact("per_cluster") == 1
    assert task.amount is None


def test_a_guess_by_month_says_so():
    (task,) = propose(morning(JUNE))
    assert task.reason.fact("bloom_seen") is False
    assert task.reason.fact("full_bloom_on") == date(2014, 5, 1)
    assert "bloom_seen" in task.reason.would_change


@pytest.mark.parametrize(
    ("day", "is_firm"), [(date(2014, 5, 3), False), (date(2014, 5, 4), True)]
)
def test_a_projection_until_two_weeks_before(day, is_firm):
    (task,) = propose(morning(day, observations=SEEN))
    assert task.is_firm is is_firm


@pytest.mark.parametrize("what", ["done", "skipped"])
def test_once_closed_the_next_crop_is_a_projection(what):
    (task,) = propose(morning(JUNE, work=(closed("2014/1", JUNE, what),)))
    assert (task.key, task.is_firm) == ("2015/1", False)


def test_past_the_window_nothing_is_late():
    (task,) = propose(morning(date(2014, 7, 15)))
    assert (task.key, task.is_firm) == ("2015/1", False)


@pytest.mark.parametrize("key", ["apple", "pear", "peach", "nectarine", "apricot"])
def test_kinds_that_are_thinned(key):
    assert propose(morning(JUNE, tree(species(key))))


@pytest.mark.parametrize("key", ["sweet_cherry", "fig", "almond", "mulberry"])
def test_kinds_that_are_not_thinned(key):
    assert propose(morning(JUNE, tree(species(key)))) == ()
    assert propose(morning(JUNE, tree(orange()))) == ()


def test_fresh_trees_lose_their_fruit_and_young_ones_are_left_alone():
    fresh = tree(species("fig"), planted_on=date(2014, 3, 1))
    (task,) = propose(morning(JUNE, fresh))
    assert (task.action, task.reason.code) == ("remove_fruit", "thin_fresh")
    assert task.cautions == ()
    assert task.reason.would_change == ("bloom_seen",)
    young = tree(planted_on=date(2011, 3, 1))  # bears in its fourth year
    assert [t.is_firm for t in propose(morning(JUNE, young))] == [False]
    bush = tree(species("currant", habit="shrub"), planted_on=date(2014, 3, 1))
    assert propose(morning(JUNE, bush)) == ()


def test_a_tree_planted_in_fruit_is_cleared_from_its_planting_on():
    planted = date(2014, 6, 5)
    (task,) = propose(morning(planted, tree(planted_on=planted, entered_on=planted)))
    assert (task.earliest, task.action) == (planted, "remove_fruit")


def test_without_bloom_there_is_nothing_to_count_from():
    assert propose(morning(JUNE, tree(species(bloom=None)))) == ()


@pytest.mark.parametrize(
    ("changes", "cautions"),
    [
        ({"height_m": 1.9}, ()),
        ({"height_m": 3.0}, ("look_for_wires", "ladder")),
        ({"height_m": None}, ("look_for_wires", "ladder", "stay_on_the_ground")),
        ({"height_m": 3.0, "near_wires": True}, ("power_lines",)),
    ],
)
def test_a_ladder_is_warned_of_and_never_used_near_wires(changes, cautions):
    (task,) = propose(morning(JUNE, tree(**changes)))
    assert task.cautions == cautions


@given(crop=st.integers(2013, 2040), month=st.integers(1, 12))
@settings(max_examples=60)
def test_windows_mirror_by_half_a_year(crop, month):
    from care.facts import Span

    its_tree = tree(species(bloom=Span(month, month)), entered_on=date(2012, 1, 1))
    done = tuple(closed(f"{year}/1", date(2012, 1, 1)) for year in range(2005, crop))
    day = date(crop - 1, 12, 1)
    (north,) = propose(morning(day, its_tree, WARM, work=done))
    (south,) = propose(morning(day, its_tree, WARM_SOUTH, work=done))
    assert north.key == south.key == f"{crop}/1"
    assert abs((south.due - north.due).days - 182.6) <= 4


@given(day=st.dates(date(2014, 1, 1), date(2015, 12, 30)))
@settings(max_examples=60)
def test_keys_are_stable_from_day_to_day(day):
    (today,) = propose(morning(day))
    (tomorrow,) = propose(morning(day + timedelta(days=1)))
    assert (tomorrow.key == today.key) is (today.latest > day)


def test_a_modelled_bloom_goes_before_the_months():
    bloom = StageDay(Stage.FULL_BLOOM, 2014, date(2014, 4, 5), "heat")
    (task,) = propose(morning(date(2014, 5, 10), stages=(bloom,)))
    assert task.earliest == date(2014, 5, 3)
    assert task.latest == date(2014, 5, 24)
    assert task.reason.fact("bloom_basis") == "heat"
