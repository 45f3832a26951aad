"""Weeding: young trees and trees in grass, in growth only, and seldom."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import assume, given, settings, strategies as st

from care.facts import Mulch, TreeFacts, WorkDone
from care.rules.weeding import propose
from tests.care.rules.cases import WARM, WARM_SOUTH, morning, tree

JUNE = date(2014, 6, 1)


def young(floor: str = "grass", **changes: Any) -> TreeFacts:
    facts: dict[str, Any] = {
        "floor": floor,
        "planted_on": date(2014, 3, 1),
        "entered_on": date(2014, 3, 1),
        "crown_width_m": 0.8,
    }
    return tree(**{**facts, **changes})


def weeded(on, what="done", key="next"):
    return WorkDone(1, "weeding", key, on, what)


def by_key(situation):
    return {proposal.key: proposal for proposal in propose(situation)}


def weeding(situation):
    return by_key(situation)["next"]


def test_a_young_tree_is_weeded_and_its_bark_kept_from_the_trimmer():
    task = weeding(morning(JUNE, young()))
    assert (task.kind, task.key, task.action) == ("weeding", "next", "weed")
    assert "trimmer_off_bark" in task.cautions
    assert task.reason.fact("ring_diameter_m") == 1.1  # Mulch ring of the first year
    assert task.amount is None


# Common practice, no source: every four to six weeks; mulch holds weeds back.
@pytest.mark.parametrize(
    ("floor", "days"), [("grass", 28), ("bare", 28), ("mulch", 42)]
)
def test_the_interval_counts_from_the_last_weeding(floor, days):
    task = weeding(morning(JUNE, young(floor), work=(weeded(date(2014, 5, 20)),)))
    assert task.due == date(2014, 5, 20) + timedelta(days=days)


def test_a_skip_is_believed_for_as_long_as_the_work():
    work = (weeded(date(2014, 4, 1)), weeded(JUNE, "skipped"))
    task = weeding(morning(JUNE, young(), work=work))
    assert task.earliest > JUNE + timedelta(days=14)


@pytest.mark.parametrize(
    ("day", "due"),
    [
        (date(2014, 5, 3), date(2014, 4, 12)),
        (date(2014, 5, 4), date(2014, 5, 24)),
        (date(2014, 6, 14), date(2014, 5, 24)),
        (date(2014, 6, 15), date(2014, 7, 5)),
    ],
)
def test_weeds_that_nobody_pulled_are_never_late(day, due):
    task = weeding(morning(day, young("mulch")))
    assert task.due == due
    assert task.latest >= day


def test_a_fresh_tree_has_four_weeks_of_peace():
    late = young(planted_on=date(2014, 5, 25), entered_on=date(2014, 5, 25))
    assert weeding(morning(JUNE, late)).due == date(2014, 6, 22)


@pytest.mark.parametrize(
    "its_tree",
    [
        young(in_container=True, container_litres=40.0),
        young("mulch", planted_on=date(2004, 3, 1)),
        young("bare", planted_on=None),
        young("mulch", planted_on=date(2011, 5, 1)),
        young(planted_on=date(2014, 11, 1)),
    ],
    ids=["pot", "grown", "unknown age", "just three", "not yet planted"],
)
def test_pots_and_grown_trees_without_grass_are_left_alone(its_tree):
    assert propose(morning(JUNE, its_tree)) == ()


def test_a_grown_tree_in_grass_is_weeded_half_as_often():
    old = young(planted_on=None)
    task = weeding(morning(JUNE, old, work=(weeded(date(2014, 5, 1)),)))
    assert task.reason.code == "weed_grass"
    assert task.due == date(2014, 6, 26)


@pytest.mark.parametrize("day", [date(2014, 1, 10), date(2014, 11, 20)])
def test_dormant_trees_are_left_alone(day):
    dormant = young(planted_on=date(2013, 3, 1), has_trunk_guard=True)
    assert list(by_key(morning(day, dormant))) == ["next/guard"]


def test_nothing_is_due_after_growth_has_ended():
    work = (weeded(date(2014, 10, 10)),)
    assert "next" not in by_key(morning(date(2014, 10, 20), young(), work=work))


def test_a_recorded_ring_is_the_ring():
    laid = Mulch("wood_chips", 75.0, date(2014, 3, 1), ring_radius_m=0.9)
    task = weeding(morning(JUNE, young("mulch", mulch=laid)))
    assert task.reason.fact("ring_diameter_m") == 1.8


@given(day=st.dates(date(2014, 11, 1), date(2016, 10, 31)))
@settings(max_examples=60)
def test_the_season_mirrors_by_half_a_year(day):
    """Frost-free north and south, same weeds six months later."""
    months = day.year * 12 + day.month - 1 + 6
    mirrored = date(months // 12, months % 12 + 1, min(day.day, 28))
    day = day.replace(day=mirrored.day)
    grown = young(planted_on=None)
    north = propose(morning(day, grown, WARM))
    south = propose(morning(mirrored, grown, WARM_SOUTH))
    assume(len(north) == len(south))  # months differ in length
    for one, other in zip(north, south, strict=True):
        shift = (other.due - mirrored) - (one.due - day)
        turns = round(shift / timedelta(days=56))  # one may be a turn ahead
        assert abs(turns) <= 1
        assert abs(shift - turns * timedelta(days=56)) <= timedelta(days=5)


def edged(on):
    return weeded(on, key="next/edge")


def test_the_edge_of_a_ring_is_a_task_of_its_own():
    # Common practice, no source: spring, summer and autumn
    edge = by_key(morning(date(2014, 4, 1), young()))["next/edge"]
    assert (edge.action, edge.due) == ("edge", date(2014, 3, 29))
    assert {"trimmer_off_bark", "trimmer_throws"} <= set(edge.cautions)
    again = by_key(morning(JUNE, young(), work=(edged(date(2014, 4, 10)),)))
    assert again["next/edge"].due == date(2014, 7, 10)


def test_a_cut_edge_is_no_weeding_and_weeding_cuts_no_edge():
    work = (edged(date(2014, 5, 25)),)
    assert weeding(morning(JUNE, young(), work=work)).due < date(2014, 6, 20)
    assert by_key(morning(JUNE, young(), work=work))["next/edge"].due > JUNE
    pulled = (weeded(date(2014, 5, 25)),)
    assert by_key(morning(JUNE, young(), work=pulled))["next/edge"].due < date(
        2014, 7, 1
    )


RING = Mulch("wood_chips", 75.0, date(2014, 3, 1), ring_radius_m=0.9)


@pytest.mark.parametrize(
    ("its_tree", "is_edged"),
    [
        (young("grass"), True),
        (young("mulch"), True),
        (young("bare"), False),
        (young("grass", planted_on=None), False),
        (young("grass", planted_on=None, mulch=RING), True),
        (young("mulch", planted_on=None, mulch=RING), False),
    ],
    ids=["young", "mulched", "bare", "no ring", "ring in grass", "old and mulched"],
)
def test_only_a_ring_beside_grass_is_edged(its_tree, is_edged):
    assert ("next/edge" in by_key(morning(JUNE, its_tree))) is is_edged


def test_no_edge_is_cut_after_growth():
    work = (edged(date(2014, 9, 1)),)
    assert "next/edge" not in by_key(morning(date(2014, 10, 20), young(), work=work))
    assert "next/edge" not in by_key(morning(date(2014, 12, 1), young()))


def guard(situation):
    return by_key(situation).get("next/guard")


def test_a_young_tree_gets_a_guard_and_the_guard_a_look():
    fit = guard(morning(JUNE, young()))
    assert (fit.action, fit.due) == ("fit_guard", date(2014, 3, 15))
    assert "guard_loose" in fit.cautions
    work = (weeded(date(2014, 3, 20), key="next/guard"),)
    look = guard(morning(JUNE, young(), work=work))
    assert (look.action, look.due) == ("look_guard", date(2014, 9, 18))
    looked = (*work, weeded(date(2014, 9, 20), key="next/guard"))
    later = guard(morning(date(2014, 10, 1), young(), work=looked))
    assert later.due == date(2015, 3, 21)


def test_a_recorded_guard_is_looked_at_however_old_the_tree():
    old = young(planted_on=None, has_trunk_guard=True)
    assert guard(morning(JUNE, old)).action == "look_guard"
    assert guard(morning(JUNE, young(planted_on=None))) is None


def test_whoever_wants_no_guard_is_left_alone_for_a_year():
    work = (weeded(date(2014, 3, 20), "skipped", "next/guard"),)
    fit = guard(morning(JUNE, young(), work=work))
    assert (fit.action, fit.due) == ("fit_guard", date(2015, 3, 20))
