"""What a new tree is looked at for, and when each look is over."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Observation, Support, WorkDone
from care.rules.establishing import propose
from care.science.season import growth_start
from tests.care.rules.cases import (
    MILD,
    SHORT,
    WARM,
    WARM_SOUTH,
    morning,
    orange,
    outlook,
    species,
    tree,
)

PLANTED = date(2014, 3, 1)


def new(kind=None, **changes: Any):
    facts: dict[str, Any] = {
        "planted_on": PLANTED,
        "entered_on": PLANTED,
        "caliper_mm": 25.4,
    }
    return tree(kind, **{**facts, **changes})


def asked(today=PLANTED, its_tree=None, site=MILD, **more):
    found = propose(morning(today, its_tree or new(), site, **more))
    return {proposal.action: proposal for proposal in found}


def checks(proposal):
    return str(proposal.reason.fact("checks")).split()


def test_a_new_tree_is_looked_at_three_times():
    steps = asked()
    assert list(steps) == ["settled", "growth", "review"]
    assert all(steps[step].key == f"2014/{step}" for step in steps)


def test_every_look_says_what_would_change_it():
    found = asked(its_tree=new(support=Support.STAKE))
    assert set(found) == {"settled", "growth", "review", "unstake"}
    assert all(step.reason.would_change for step in found.values())


@pytest.mark.parametrize(
    "its_tree",
    [
        new(in_container=True, container_litres=40.0),
        new(planted_on=None),
        new(planted_on=date(2014, 6, 1)),
        new(species("banana", habit="herb")),
        new(planted_on=date(2003, 3, 1), entered_on=date(2003, 3, 1)),
    ],
    ids=["in a pot", "long ago", "planned", "a giant herb", "grown"],
)
def test_others_are_not(its_tree):
    assert asked(its_tree=its_tree) == {}


def test_the_flare_and_ties_are_seen_to_once_the_ball_has_settled():
    settled = asked(its_tree=new(support=Support.STAKE))["settled"]
    assert settled.due == PLANTED + timedelta(days=28)
    assert {"flare_after_settling", "ties_loose", "trunk_guard"} <= set(checks(settled))
    # UF/IFAS: 2-3 gal for an inch; daily two weeks, every other day two months.
    assert settled.reason.fact("watering_l") == pytest.approx(7.6)
    assert settled.reason.fact("watering_most_l") == pytest.approx(11.4)
    assert settled.reason.fact("daily_until_days") == 14
    assert settled.reason.fact("every_other_until_days") == 75


def test_a_guarded_own_rooted_fig_without_ties_is_looked_at_for_less():
    fig = new(species("fig"), has_trunk_guard=True)
    found = set(checks(asked(its_tree=fig)["settled"]))
    assert "guard_loose" in found
    assert not found & {
        "flare_after_settling",
        "graft_above",
        "ties_loose",
        "trunk_guard",
    }


def test_a_stake_comes_off_after_one_season_and_before_the_next():
    # University of Arizona: stakes off after one growing season.
    unstake = asked(its_tree=new(support=Support.STAKE))["unstake"]
    assert unstake.earliest == date(2014, 10, 31)
    assert unstake.latest == growth_start(2015, species(), MILD)


@pytest.mark.parametrize("support", [Support.NONE, Support.PERMANENT])
def test_no_stake_or_a_post_for_life_stays(support):
    assert "unstake" not in asked(its_tree=new(support=support))


def test_a_stake_that_nobody_took_off_is_still_asked_for():
    late = date(2015, 7, 1)
    assert list(asked(late, new(support=Support.STAKE))) == ["unstake"]


def test_a_look_whose_days_are_over_is_not_asked_for_again():
    steps = asked(PLANTED + timedelta(days=43))
    assert "settled" not in steps
    assert "growth" in steps


def test_a_tree_entered_later_skips_what_was_over_by_then():
    its_tree = new(entered_on=date(2014, 5, 1))
    assert "settled" not in asked(date(2014, 5, 1), its_tree)


def test_a_step_that_was_closed_is_not_asked_for():
    done = WorkDone(1, "establishing", "2014/settled", date(2014, 3, 25))
    assert "settled" not in asked(date(2014, 3, 26), work=(done,))


def test_a_stall_of_two_months_of_growth_is_no_worry_yet():
    # Common practice, no source.
    growth = asked()["growth"]
    assert growth.due == date(2014, 5, 1)
    assert growth.reason.fact("stall_days") == 61


def test_a_slow_evergreen_is_left_alone_for_most_of_a_year():
    # Common practice, no source.
    growth = asked(its_tree=new(orange()), site=WARM)["growth"]
    assert (growth.due - PLANTED).days >= 300
    assert growth.reason.fact("is_slow") is True


@pytest.mark.parametrize(
    ("on", "grown_mm", "is_asked"),
    [
        (date(2014, 4, 25), 160.0, False),
        (date(2014, 4, 25), 150.0, False),  # 6 in: Texas A&M's sign of growth
        (date(2014, 4, 25), 80.0, True),
        (date(2014, 4, 25), None, True),
        (date(2014, 2, 20), 160.0, True),  # at the nursery
    ],
)
def test_shoots_that_grew_answer_the_question(on, grown_mm, is_asked):
    reading = Observation(1, "shoot_growth_mm", on, value=grown_mm)
    steps = asked(date(2014, 4, 28), observations=(reading,))
    assert ("growth" in steps) is is_asked


def test_the_end_is_reviewed_by_the_published_months():
    # An inch in zone 10: three months (Florida urban forestry council).
    review = asked(site=WARM)["review"]
    assert review.due == PLANTED + timedelta(days=91)
    assert review.reason.fact("zone") == 10
    assert review.reason.fact("balance_settled") is None
    assert review.reason.fact("other_on") == PLANTED + timedelta(days=548)


@pytest.mark.parametrize("is_settled", [True, False])
def test_the_balance_may_hold_the_review_back(is_settled):
    water = outlook(is_established=is_settled)
    review = asked(site=WARM, water=water)["review"]
    assert review.reason.fact("balance_settled") is is_settled
    assert (review.due == review.reason.fact("latest_on")) is is_settled


def test_companions_are_named_with_the_review():
    # Common practice, no source: second to third year.
    review = asked()["review"]
    assert review.reason.fact("companions_from") == date(2015, 3, 1)
    assert review.reason.fact("companions_surely") == date(2016, 2, 29)


def ring(radius_m=0.55, watered_m=0.3, **more):
    water = outlook(root_radius_m=radius_m, is_established=False)
    its_tree = new(watered_radius_m=watered_m)
    return asked(date(2014, 7, 1), its_tree, water=water, **more).get("widen")


def test_the_ring_follows_the_roots():
    widen = ring()
    assert widen is not None
    assert widen.amount == pytest.approx(0.55)
    assert widen.unit == "m"
    assert widen.key == "next/ring"


def test_the_ring_ends_at_sixty_centimetres():
    widen = ring(radius_m=0.9)
    assert widen is not None
    assert widen.amount == pytest.approx(0.6)


@pytest.mark.parametrize(
    ("radius_m", "watered_m"),
    [(0.44, 0.3), (0.9, 0.6), (None, 0.3), (0.9, None)],
    ids=["hardly", "widest", "established", "follows by itself"],
)
def test_the_ring_is_left_alone(radius_m, watered_m):
    assert ring(radius_m, watered_m) is None


def test_the_ring_needs_the_balance():
    its_tree = new(watered_radius_m=0.3)
    assert "widen" not in asked(date(2014, 7, 1), its_tree)


@pytest.mark.parametrize(
    ("on", "is_asked"), [(date(2014, 6, 20), False), (date(2014, 6, 3), True)]
)
def test_a_ring_just_widened_or_refused_rests_four_weeks(on, is_asked):
    done = WorkDone(1, "establishing", "next/ring", on, "skipped")
    assert (ring(work=(done,)) is not None) is is_asked


@given(
    planted=st.dates(date(2010, 1, 1), date(2016, 12, 31)),
    days=st.integers(0, 900),
    support=st.sampled_from(list(Support)),
    is_citrus=st.booleans(),
)
@settings(max_examples=80)
def test_windows_are_in_order_and_keys_hold(planted, days, support, is_citrus):
    its_tree = new(
        orange() if is_citrus else None,
        planted_on=planted,
        entered_on=planted,
        support=support,
    )
    for site in (MILD, SHORT, WARM, WARM_SOUTH):
        first = asked(planted, its_tree, site)
        then = asked(planted + timedelta(days=days), its_tree, site)
        assert set(then) <= set(first)
        for step, proposal in then.items():
            assert proposal.key == first[step].key
            assert proposal.due == first[step].due
            assert proposal.due > planted


def test_the_south_takes_stakes_off_half_a_year_later():
    north = asked(its_tree=new(support=Support.STAKE), site=WARM)["unstake"]
    moved = new(
        support=Support.STAKE, planted_on=date(2014, 9, 1), entered_on=date(2014, 9, 1)
    )
    south = asked(date(2014, 9, 1), moved, WARM_SOUTH)["unstake"]
    assert timedelta(days=178) <= south.earliest - north.earliest <= timedelta(days=186)
