"""Waiting days of a spray or of raw manure hold the fruit back, and say so."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Hold, HoldCause, Observation, Span, SpeciesFacts
from care.rules.harvest import propose
from tests.care.rules.cases import morning, species, tree

FULL_BLOOM = date(2014, 4, 20)
AUGUST = date(2014, 8, 10)
SEEN = (Observation(1, "bloom_stage", FULL_BLOOM, word="full_bloom"),)


def apple(**changes: Any) -> SpeciesFacts:
    facts: dict[str, Any] = {"harvest": Span(7, 11), "days_bloom_to_harvest": 140}
    return species(**{**facts, **changes})


def picked(on):
    return Observation(1, "harvest", on, 4.0)


def held(until, on=date(2014, 8, 1), cause=HoldCause.SPRAY, product="a spray"):
    return (Hold(1, cause, on, until, product),)


def test_while_a_waiting_time_runs_nobody_picks():
    holds = held(date(2014, 8, 20))
    notice, pick = propose(
        morning(AUGUST, tree(apple()), observations=SEEN, holds=holds)
    )
    assert (notice.key, notice.action) == ("2014/hold0820", "hold")
    assert notice.reason.code == "harvest_hold"
    assert notice.reason.fact("pick_from") == date(2014, 8, 21)
    assert notice.reason.fact("cause") == "spray"
    assert (notice.earliest, notice.latest) == (date(2014, 8, 1), date(2014, 8, 20))
    assert notice.sources == ("product_label",)
    assert "tell_helpers" in notice.cautions
    assert pick.key == "2014/pick1"
    assert pick.earliest == date(2014, 8, 21)


def test_a_hold_past_the_window_leaves_a_week_behind_it():
    late = date(2014, 10, 30)
    holds = held(late, date(2014, 9, 30), HoldCause.MANURE, "")
    for day in (date(2014, 10, 10), late):
        notice, pick = propose(
            morning(day, tree(apple()), observations=SEEN, holds=holds)
        )
        assert notice.sources == ("nop_manure",)
        assert (pick.earliest, pick.latest) == (
            date(2014, 10, 31),
            date(2014, 11, 7),
        )


def test_a_look_waits_for_the_hold_too_and_a_hold_in_winter_says_nothing():
    notice, look = propose(
        morning(AUGUST, tree(apple()), holds=held(date(2014, 8, 30)))
    )
    assert (notice.action, look.earliest) == ("hold", date(2014, 8, 31))
    day = date(2014, 3, 1)
    (far,) = propose(
        morning(day, tree(apple()), holds=held(date(2014, 3, 10), date(2014, 2, 20)))
    )
    assert far.action == "look"


@pytest.mark.parametrize(
    "kind",
    [
        apple(harvest=None),
        apple(days_bloom_to_harvest=None),
        apple(bloom=Span(1, 12)),
        apple(harvest=Span(1, 12)),
    ],
    ids=["no months", "no days", "blooms all year", "bears all year"],
)
def test_what_may_bear_on_any_day_is_held_back_on_any_day(kind):
    holds = held(date(2014, 8, 20))
    (notice,) = propose(morning(AUGUST, tree(kind), holds=holds))
    assert (notice.key, notice.action) == ("2014/hold0820", "hold")
    young = tree(kind, planted_on=date(2013, 3, 1))
    assert propose(morning(AUGUST, young, holds=holds)) == ()
    assert propose(morning(date(2014, 8, 21), tree(kind), holds=holds)) == ()


def test_what_was_picked_in_part_is_held_back_too():
    some = (*SEEN, picked(date(2014, 8, 6)))
    holds = held(date(2014, 8, 20), date(2014, 8, 8))
    found = propose(morning(AUGUST, tree(apple()), observations=some, holds=holds))
    assert [(p.key, p.is_firm) for p in found] == [
        ("2014/hold0820", True),
        ("2015/look1", False),
    ]


def test_a_young_apple_under_a_spray_bears_nothing_to_hold():
    young = tree(apple(), planted_on=date(2013, 3, 1))
    assert propose(morning(AUGUST, young, holds=held(date(2014, 8, 20)))) == ()


@given(
    on=st.dates(date(2014, 6, 1), date(2014, 12, 1)),
    waiting=st.integers(0, 120),
    later=st.integers(0, 30),
    is_seen=st.booleans(),
)
@settings(max_examples=80)
def test_no_day_of_a_hold_is_ever_a_day_to_pick(on, waiting, later, is_seen):
    until, day = on + timedelta(days=waiting), on + timedelta(days=later)
    found = propose(
        morning(
            day,
            tree(apple()),
            holds=held(until, on),
            observations=SEEN if is_seen else (),
        )
    )
    for task in found:
        if task.action != "hold" and until >= day:
            assert task.earliest > until
        assert task.latest >= min(day, until)
