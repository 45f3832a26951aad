"""Suckers below the graft, water sprouts after cuts, and the pups of a banana."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Stage, StageDay, WorkDone
from care.planning.species_facts import species_facts
from care.rules.suckers import propose
from tests.care.rules.cases import MILD, WARM, WARM_SOUTH, morning, species, tree

APRIL = date(2014, 4, 5)
JUNE = date(2014, 6, 5)
BANANA = species_facts("banana")


def done(key, on, kind="suckers", what="done"):
    return WorkDone(1, kind, key, on, what)


PRUNED = (done("2014/1", date(2014, 2, 10), "pruning"),)


def test_suckers_are_looked_for_in_spring():
    (task,) = propose(morning(APRIL, tree()))
    assert (task.kind, task.key, task.action) == (
        "suckers",
        "2014/spring",
        "pull_suckers",
    )
    assert task.reason.code == "suckers_below_graft"
    assert task.sources == ("uc_mg_suckers",)
    # Sacramento County's April, a month after bud break there
    assert task.due.month == 4


@pytest.mark.parametrize(
    ("its_tree", "code"),
    [
        (tree(species_facts("fig")), "suckers_own_roots"),
        (tree(species_facts("hazelnut")), "suckers_own_roots"),
        (tree(species_facts("quince"), is_grafted=False), "suckers_own_roots"),
        (tree(species_facts("pear")), "suckers_below_graft"),
    ],
)
def test_own_roots_sucker_too(its_tree, code):
    assert propose(morning(APRIL, its_tree))[0].reason.code == code


def test_what_neither_is_grafted_nor_suckers_is_left_alone():
    assert propose(morning(APRIL, tree(is_grafted=False))) == ()
    assert propose(morning(APRIL, tree(species_facts("grape")))) == ()


def test_sprouts_answer_cuts():
    assert [p.key for p in propose(morning(JUNE, tree()))] == []
    (task,) = propose(morning(JUNE, tree(), work=PRUNED))
    assert (task.key, task.action) == ("2014/summer", "pull_sprouts")
    last_year = (done("2013/1", date(2013, 2, 10), "pruning"),)
    assert propose(morning(JUNE, tree(), work=last_year))
    skipped = (done("2014/1", date(2014, 2, 10), "pruning", "skipped"),)
    assert propose(morning(JUNE, tree(), work=skipped)) == ()


def test_sprouts_are_due_in_mid_june_where_buds_break_in_april():
    buds = StageDay(Stage.BUD_BREAK, 2014, date(2014, 3, 28), "seen")
    found = propose(morning(JUNE, tree(), work=PRUNED, stages=(buds,)))
    assert abs((found[-1].due - date(2014, 6, 15)).days) <= 5


@pytest.mark.parametrize(
    "its_tree",
    [
        tree(species_facts("orange")),
        tree(species_facts("raspberry")),
        tree(planted_on=date(2013, 2, 1)),
    ],
    ids=["evergreen", "canes", "in training"],
)
def test_who_has_no_sprouts_to_pull(its_tree):
    found = propose(morning(JUNE, its_tree, work=PRUNED))
    assert "2014/summer" not in [p.key for p in found]


def test_what_was_answered_or_is_past_is_closed():
    work = (*PRUNED, done("2014/spring", APRIL), done("2014/summer", JUNE))
    assert propose(morning(APRIL, tree(), work=work[:2]))[0].key == "2014/summer"
    assert propose(morning(JUNE, tree(), work=work)) == ()
    assert propose(morning(date(2014, 8, 1), tree(), work=PRUNED)) == ()
    newcomer = tree(entered_on=date(2014, 7, 30))
    assert propose(morning(date(2014, 7, 30), newcomer, work=PRUNED)) == ()


@pytest.mark.parametrize(
    ("changes", "cautions"),
    [
        ({"height_m": 1.8}, ()),
        ({"height_m": 3.0}, ("look_for_wires", "ladder")),
        ({"height_m": 3.0, "near_wires": True}, ("power_lines",)),
        ({"species": species(toxicity_note="sap"), "height_m": 1.0}, ("toxic_parts",)),
    ],
)
def test_sprouts_are_pulled_with_care(changes, cautions):
    found = propose(morning(JUNE, tree(**changes), work=PRUNED))
    assert found[-1].cautions == cautions


def test_suckers_start_at_the_ground_and_need_no_ladder():
    (task,) = propose(morning(APRIL, tree(near_wires=True, height_m=5.0)))
    assert task.cautions == ()


def test_a_mat_keeps_three_to_four_stems_and_is_thinned_monthly():
    mat = tree(BANANA, entered_on=date(2014, 3, 1))
    (task,) = propose(morning(date(2014, 5, 1), mat, WARM))
    assert (task.key, task.action) == ("next/pups", "choose_pups")
    assert (task.reason.fact("stems_least"), task.reason.fact("stems_most")) == (3, 4)
    assert task.due == date(2014, 3, 1)
    work = (done("next/pups", date(2014, 4, 20)),)
    (later,) = propose(morning(date(2014, 5, 1), mat, WARM, work=work))
    assert later.due == date(2014, 5, 20)
    assert not later.is_firm


def test_a_mat_that_is_due_is_thinned_within_a_fortnight():
    (task,) = propose(morning(date(2014, 5, 1), tree(BANANA), WARM))
    assert task.latest == task.due + timedelta(days=14)


def test_pups_wait_out_the_frost_season():
    mat = tree(BANANA)
    assert propose(morning(date(2014, 1, 10), mat, MILD)) == ()
    # entered in a winter long ago, they are not asked for since then
    (task,) = propose(morning(date(2014, 3, 25), mat, MILD))
    assert task.due == date(2014, 3, 20)
    # in November before the first frost the care year has turned already
    work = (done("next/pups", date(2014, 10, 10)),)
    (late,) = propose(morning(date(2014, 11, 5), mat, MILD, work=work))
    assert late.due == date(2014, 11, 9)


@given(day=st.dates(date(2014, 1, 1), date(2015, 12, 30)))
@settings(max_examples=60)
def test_windows_mirror_by_half_a_year_and_keys_are_stable(day):
    for its_tree in (tree(), tree(species_facts("fig"))):
        for site in (WARM, WARM_SOUTH):
            now = propose(morning(day, its_tree, site, work=PRUNED))
            then = propose(
                morning(day + timedelta(days=1), its_tree, site, work=PRUNED)
            )
            kept = {p.key for p in now if p.latest > day}
            changes_season = day.month in (4, 10) and (day + timedelta(days=1)).day == 1
            assert changes_season or kept <= {p.key for p in then}
    north = propose(morning(APRIL, tree(), WARM))[0]
    south = propose(morning(date(2014, 10, 5), tree(), WARM_SOUTH))[0]
    assert abs((south.due - north.due).days - 182.6) <= 4
