"""Training: the steps of a young tree's first years."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Answer, Stock, WorkDone
from care.planning.species_facts import species_facts
from care.rules.training import propose
from tests.care.rules.cases import (
    MILD,
    WARM,
    WARM_SOUTH,
    minima,
    morning,
    species,
    tree,
)

PLANTED = date(2014, 2, 10)
WINTER = date(2015, 1, 10)


def young(kind=None, planted=PLANTED, **more):
    return tree(kind, **{"planted_on": planted, "entered_on": planted, **more})


def done(key, on, what="done"):
    return WorkDone(1, "training", key, on, what)


def test_a_whip_is_headed_as_it_is_planted():
    head, shoots = propose(morning(PLANTED, young(stock=Stock.BARE_ROOT)))
    assert (head.kind, head.key, head.action) == ("training", "2014/planting", "train")
    assert head.reason.fact("step") == "head_whip"
    assert head.reason.fact("head_mm") == 750.0
    assert head.due == PLANTED
    assert (shoots.key, shoots.is_firm) == ("2014/summer", True)


def test_each_winter_and_summer_has_its_step():
    winter, summer = propose(morning(WINTER, young()))
    assert [winter.reason.fact("step"), summer.reason.fact("step")] == [
        "choose_branches",
        "spread_branches",
    ]
    assert (winter.earliest, winter.latest) == (date(2015, 1, 1), date(2015, 3, 31))
    assert winter.reason.fact("training_year") == 1
    assert "nmsu_h333" in winter.sources


@pytest.mark.parametrize("what", ["done", "skipped"])
def test_a_step_that_was_answered_is_closed(what):
    work = (done("2015/winter", WINTER, what),)
    assert [p.key for p in propose(morning(WINTER, young(), work=work))] == [
        "2015/summer"
    ]


def test_when_a_season_is_through_the_next_step_is_a_projection():
    autumn = date(2015, 9, 20)
    winter, summer = propose(morning(autumn, young()))
    assert (winter.key, winter.is_firm) == ("2016/winter", False)
    assert (summer.key, summer.is_firm) == ("2016/summer", False)


def test_a_step_of_next_season_is_firm_two_weeks_before():
    early = replace(young(species(prune_months=(11, 12))), planted_on=date(2014, 2, 10))
    found = propose(morning(date(2015, 10, 20), early))
    assert (found[0].key, found[0].is_firm) == ("2016/winter", True)


def test_grown_trees_and_kinds_without_a_frame_are_not_trained():
    assert propose(morning(WINTER, tree())) == ()
    assert propose(morning(WINTER, young(species_facts("banana")))) == ()


def test_near_wires_nothing_is_trained():
    assert propose(morning(WINTER, young(near_wires=True))) == ()


def test_what_was_pruned_before_its_entry_is_not_asked_again():
    newcomer = young(entered_on=date(2015, 2, 1), pruned_before=Answer.YES)
    assert [p.key for p in propose(morning(date(2015, 2, 1), newcomer))] == [
        "2015/summer"
    ]
    late = young(entered_on=date(2015, 4, 20))
    assert [p.key for p in propose(morning(date(2015, 4, 20), late))] == ["2015/summer"]


def test_cuts_wait_as_all_cuts_do():
    bitter = minima(WINTER, [-20.0, -20.0, 1.0])
    winter, _ = propose(morning(WINTER, young(), weather=bitter))
    assert winter.earliest == date(2015, 1, 12)
    assert winter.reason.fact("held_by") == "cold"
    last = date(2015, 3, 31)
    cold = minima(last, [-20.0])
    assert [p.key for p in propose(morning(last, young(), weather=cold))] == [
        "2015/summer"
    ]


def test_cautions_fit_the_kind():
    assert propose(morning(WINTER, young()))[0].cautions == (
        "look_for_wires",
        "clean_tools",
    )
    mango = young(species_facts("mango"), date(2014, 3, 1))
    found = propose(morning(date(2015, 7, 10), mango, WARM))
    assert {"toxic_parts", "mango_sap"} <= set(found[0].cautions)
    apricot = young(species_facts("apricot"))
    assert "dry_spell" in propose(morning(WINTER, apricot))[0].cautions


def test_rain_holds_stone_fruit_back():
    day = date(2015, 7, 10)
    wet = minima(day, [12.0] * 4, rain_mm=np.array([3.0, 0.0, 0.0, 0.0]))
    apricot = young(species_facts("apricot"))
    (task,) = propose(morning(day, apricot, weather=wet))
    assert task.earliest == day + timedelta(days=1)


@pytest.mark.parametrize(
    ("key", "day", "sources"),
    [
        ("apple", date(2017, 1, 10), ("common_practice",)),
        ("grape", WINTER, ("common_practice",)),
        ("mango", date(2015, 8, 10), ("uf_tropical_training", "uf_ifas_miami_dade")),
    ],
)
def test_advice_without_a_source_says_so(key, day, sources):
    task = propose(morning(day, young(species_facts(key)), WARM))[0]
    assert task.sources == sources


@given(
    days=st.integers(0, 1500),
    key=st.sampled_from(
        ["apple", "peach", "fig", "orange", "mango", "grape", "apricot"]
    ),
    is_bare=st.booleans(),
)
@settings(max_examples=80)
def test_keys_are_stable_and_windows_lie_ahead(days, key, is_bare):
    stock = Stock.BARE_ROOT if is_bare else Stock.CONTAINER_GROWN
    its_tree = young(species_facts(key), stock=stock)
    day = PLANTED + timedelta(days=days)
    for site in (MILD, WARM_SOUTH):
        now = propose(morning(day, its_tree, site))
        then = propose(morning(day + timedelta(days=1), its_tree, site))
        kept = {p.key for p in now if p.latest > day and p.is_firm}
        assert kept <= {p.key for p in then}
        assert all(p.latest >= day for p in now)
