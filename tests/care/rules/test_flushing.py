"""Flushing: plain water through fed or salted pots, in growth only."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Place, Stay, WorkDone
from care.rules.flushing import propose
from tests.care.rules.cases import (
    MILD,
    WARM,
    WARM_SOUTH,
    morning,
    orange,
    outlook,
    tree,
)

JUNE = date(2014, 6, 1)
FED = WorkDone(1, "feeding", "2014/1", date(2014, 3, 20), amount=5.0)
SALTY = replace(MILD, is_water_salty=True)


def pot(**changes):
    facts = {"in_container": True, "container_litres": 20.0, **changes}
    return tree(**facts)


def washed(on, what="done"):
    return WorkDone(1, "flushing", "next", on, what)


def test_a_fed_pot_is_washed_a_month_into_growth_with_twice_its_volume():
    # Garden pages: twice the pot's volume, about monthly; no primary source
    (wash,) = propose(morning(date(2014, 3, 25), pot(), work=(FED,)))
    assert (wash.kind, wash.key, wash.action) == ("flushing", "next", "flush")
    assert (wash.amount, wash.unit) == (40.0, "L")
    assert wash.due == date(2014, 4, 3)  # a fortnight after the feeding
    assert wash.reason.code == "flush_fed"
    assert wash.reason.fact("unverified") is True
    assert "empty_saucer" in wash.cautions


def test_the_next_wash_is_a_month_after_the_last():
    (wash,) = propose(morning(JUNE, pot(), work=(FED, washed(date(2014, 5, 20)))))
    assert wash.due == date(2014, 6, 19)
    skipped = washed(date(2014, 5, 20), "skipped")
    assert propose(morning(JUNE, pot(), work=(FED, skipped)))[0].due == wash.due


def test_a_wash_waits_a_fortnight_after_feeding():
    again = WorkDone(1, "feeding", "2014/2", date(2014, 5, 28), amount=5.0)
    (wash,) = propose(morning(JUNE, pot(), work=(FED, again)))
    assert wash.due == date(2014, 6, 11)


def test_salty_water_asks_for_it_without_any_feeding():
    (wash,) = propose(morning(JUNE, pot(), SALTY))
    assert wash.reason.code == "flush_salty"
    assert "plain_water" in wash.cautions
    assert propose(morning(JUNE, pot())) == ()


@pytest.mark.parametrize(
    "water",
    [
        outlook(is_saturated=True),
        outlook(is_frozen=True),
        outlook(is_dormant=True),
    ],
    ids=["wet", "frozen", "dormant"],
)
def test_no_wash_for_a_pot_that_stands_wet_frozen_or_at_rest(water):
    assert propose(morning(JUNE, pot(), SALTY, water=water)) == ()
    assert propose(morning(JUNE, pot(), SALTY, water=outlook())) != ()


@pytest.mark.parametrize(
    "its_tree",
    [
        tree(),
        pot(container_litres=None),
        pot(stays=(Stay(Place.INDOORS_HEATED, date(2014, 5, 1)),)),
    ],
    ids=["ground", "unknown size", "indoors"],
)
def test_ground_trees_unknown_pots_and_pots_indoors_are_left_alone(its_tree):
    assert propose(morning(JUNE, its_tree, SALTY)) == ()


@pytest.mark.parametrize("day", [date(2014, 1, 10), date(2014, 12, 1)])
def test_no_wash_in_winter(day):
    assert propose(morning(day, pot(), SALTY)) == ()


def test_nothing_is_due_after_growth_has_ended():
    work = (FED, washed(date(2014, 10, 15)))
    assert propose(morning(date(2014, 10, 20), pot(), work=work)) == ()


def test_last_years_feeding_is_washed_out_by_winter():
    old = replace(FED, on=date(2013, 6, 1), key="2013/1")
    assert propose(morning(JUNE, pot(), work=(old,))) == ()


def test_a_pot_entered_in_growth_has_a_month():
    new = pot(entered_on=date(2014, 5, 25))
    assert propose(morning(JUNE, new, SALTY))[0].due == date(2014, 6, 24)


@given(day=st.dates(date(2014, 1, 1), date(2016, 12, 31)), is_citrus=st.booleans())
@settings(max_examples=80)
def test_a_wash_is_never_late_and_never_out_of_season(day, is_citrus):
    kind = {"species": orange()} if is_citrus else {}
    for site in (WARM, WARM_SOUTH, MILD):
        salty = replace(site, is_water_salty=True)
        for wash in propose(morning(day, pot(**kind), salty)):
            assert wash.latest >= day
            assert wash.due - day <= timedelta(days=60)
            month = (
                wash.due.month
                if not site.is_southern
                else (wash.due.month + 5) % 12 + 1
            )
            assert 2 <= month <= 11
