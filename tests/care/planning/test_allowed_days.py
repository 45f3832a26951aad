"""Watering on the days a local rule allows, and what is said where none comes in time."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, strategies as st

from care.facts import MonthDay, WateringRule
from care.planning.agree import agree
from care.planning.allowed_days import (
    BY_HAND,
    BY_LEAVE,
    FORBIDDEN,
    allowed_proposal,
    keep_to_rules,
    limits_of,
)
from care.planning.reconcile import push
from care.proposals import Proposal, Reason
from care.rules import watering
from tests.care.rules.cases import MILD, WARM_SOUTH, morning, outlook, tree

MONDAY, THURSDAY = date(2025, 7, 7), date(2025, 7, 10)
DAY = timedelta(days=1)
SUMMER: dict[str, Any] = {"start": MonthDay(5, 1), "end": MonthDay(9, 30)}
WEDNESDAYS = WateringRule(**SUMMER, weekdays=frozenset({2}), source="County order 7")
POT = tree(in_container=True, container_litres=40.0)
DRIPPED = tree(drip_flow_l_per_min=0.2)


def ruled(*rules, site=MILD):
    return replace(site, watering_rules=rules)


def watered(*rules, today=MONDAY, its_tree=None, site=MILD, **water):
    """Return the next watering of a tree under rules, and its morning."""
    situation = morning(
        today, its_tree, site=ruled(*rules, site=site), water=outlook(**water)
    )
    asked = watering.propose(situation)[0]
    return keep_to_rules(asked, situation), asked


def test_without_rules_nothing_changes():
    kept, asked = watered()
    assert kept is asked


def test_outside_its_span_a_rule_changes_nothing():
    kept, asked = watered(WEDNESDAYS, today=date(2025, 10, 6))
    assert kept is asked


def test_a_watering_moves_back_to_the_last_allowed_day_in_its_window():
    kept, asked = watered(WEDNESDAYS, earliest_in_days=1, due_in_days=4)
    assert asked.due == MONDAY + 4 * DAY
    assert kept.earliest == kept.due == kept.latest == MONDAY + 2 * DAY
    assert kept.reason.fact("rule_moved_from") == asked.due
    assert kept.reason.fact("rule_weekdays") == "Wed"
    assert kept.reason.fact("rule_source") == "County order 7"
    assert kept.action == "water"


def test_it_waits_where_only_a_later_day_is_still_in_time():
    kept, asked = watered(WEDNESDAYS, earliest_in_days=0, due_in_days=1)
    assert kept.due == MONDAY + 2 * DAY <= asked.latest


def test_it_is_moved_before_half_is_used_only_if_nothing_else_is_left():
    monday_only = replace(WEDNESDAYS, weekdays=frozenset({0}))
    water = {"earliest_in_days": 1, "due_in_days": 3, "latest_in_days": 5}
    kept, _asked = watered(monday_only, spare_l=6.0, **water)  # 40 % is used
    assert kept.due == MONDAY
    full, asked = watered(monday_only, spare_l=9.0, **water)  # pouring would be in vain
    assert full.action == BY_LEAVE
    assert full.due == asked.due


def test_a_moved_watering_pours_what_is_short_on_its_new_day():
    kept, asked = watered(
        WEDNESDAYS,
        earliest_in_days=1,
        due_in_days=4,
        missing_l=3.0,
        water_net_l=9.0,
        water_gross_l=10.0,
    )
    # 3 L are missing, 9 L in four days: 6 L in two, and 10 are poured for 9.
    assert kept.reason.fact("net_l") == pytest.approx(6.0)
    assert kept.reason.fact("gross_l") == pytest.approx(6.667, abs=0.001)
    assert kept.amount == 7.0
    assert asked.amount == 10.0


def test_what_waits_pours_more_but_never_more_than_the_soil_holds():
    kept, asked = watered(
        WEDNESDAYS, earliest_in_days=0, due_in_days=0, latest_in_days=3, use_l=40.0
    )
    assert kept.reason.fact("net_l") == 20.0  # the store
    assert kept.amount > asked.amount


def test_what_waits_only_because_somebody_may_have_watered_says_so():
    late = {"earliest_in_days": 0, "due_in_days": 0, "latest_in_days": 4}
    for silent, told in ((9, True), (2, None)):
        kept, _asked = watered(WEDNESDAYS, unknown_water_days=silent, **late)
        assert kept.due == MONDAY + 2 * DAY
        assert kept.reason.fact("rule_late_if_dry") is told
    early, _asked = watered(WEDNESDAYS, unknown_water_days=9, due_in_days=4)
    assert early.reason.fact("rule_late_if_dry") is None


def test_where_no_day_comes_in_time_the_plan_says_that_the_rule_hurts():
    water = {"earliest_in_days": 1, "due_in_days": 2, "latest_in_days": 4}
    kept, asked = watered(WEDNESDAYS, today=THURSDAY, **water)
    assert kept.due == asked.due
    assert kept.action == BY_LEAVE
    assert FORBIDDEN in kept.cautions
    assert kept.reason.fact("rule_forbids") is True
    assert kept.reason.fact("rule_next_allowed") == MONDAY + 9 * DAY
    assert kept.reason.fact("rule_short_from") == asked.latest + DAY


def test_empty_weekdays_allow_nothing_until_the_span_ends():
    none = WateringRule(**SUMMER, weekdays=frozenset())
    kept, _asked = watered(none)
    assert kept.reason.fact("rule_weekdays") == "none"
    assert kept.reason.fact("rule_next_allowed") == date(2025, 10, 1)
    ever = replace(none, start=MonthDay(1, 1), end=MonthDay(12, 31))
    assert watered(ever)[0].reason.fact("rule_next_allowed") is None


@pytest.mark.parametrize(
    ("its_tree", "spared"), [(tree(), True), (POT, True), (DRIPPED, False)]
)
def test_hand_watering_is_free_where_the_rule_spares_it(its_tree, spared):
    rule = replace(WEDNESDAYS, spares_hand_watering=True)
    kept, asked = watered(rule, its_tree=its_tree, earliest_in_days=3, due_in_days=4)
    assert (kept is asked) == spared


def test_a_dripped_tree_may_be_watered_by_hand_where_no_day_comes_in_time():
    rule = replace(WEDNESDAYS, spares_hand_watering=True)
    kept, asked = watered(rule, its_tree=DRIPPED, today=THURSDAY)
    assert (kept.due, kept.action) == (asked.due, "water")
    assert BY_HAND in kept.cautions
    assert kept.reason.fact("rule_forbids") is False


def test_containers_are_free_where_the_rule_spares_them():
    rule = replace(WEDNESDAYS, spares_containers=True)
    assert limits_of(ruled(rule), POT).rules == ()
    assert limits_of(ruled(rule), tree()).rules == (rule,)


def test_a_span_may_run_over_new_year_in_the_southern_summer():
    rule = WateringRule(MonthDay(11, 15), MonthDay(2, 29), frozenset({6}))
    for day, governed in (
        (date(2025, 11, 14), False),
        (date(2025, 11, 15), True),
        (date(2026, 1, 1), True),
        (date(2026, 2, 28), True),
        (date(2028, 2, 29), True),
        (date(2026, 3, 1), False),
    ):
        assert rule.governs(day) is governed
    eve = date(2025, 12, 31)  # a Wednesday
    kept, _asked = watered(
        rule, today=eve, site=WARM_SOUTH, earliest_in_days=1, due_in_days=6
    )
    assert kept.due == date(2026, 1, 4)  # the Sunday


def test_several_rules_leave_what_all_of_them_leave():
    two = (WEDNESDAYS, replace(WEDNESDAYS, weekdays=frozenset({2, 5})))
    assert limits_of(ruled(*two), tree()).allow(MONDAY + 2 * DAY)
    assert not limits_of(ruled(*two), tree()).allow(MONDAY + 5 * DAY)
    kept, _asked = watered(*two, earliest_in_days=1, due_in_days=5)
    assert kept.reason.fact("rule_weekdays") == "Wed"


def proposal(kind="watering", action="water", key="next", *, early=0, due=0, late=0):
    on = MONDAY + due * DAY
    return Proposal(
        tree_id=1,
        kind=kind,
        key=key,
        action=action,
        earliest=on - early * DAY,
        due=on,
        latest=on + late * DAY,
        reason=Reason("code", (("spare_l", 1.0),), ("rain",)),
    )


def test_washing_a_pot_waits_for_an_allowed_day_however_late():
    wash = proposal("flushing", "flush", due=3, late=2)
    situation = morning(MONDAY, POT, site=ruled(WEDNESDAYS))
    kept = keep_to_rules(wash, situation)
    assert kept.due == MONDAY + 9 * DAY
    assert kept.action == "flush"


@pytest.mark.parametrize(
    ("kind", "action"), [("watering", "check"), ("feeding", "feed"), ("cold", "cover")]
)
def test_what_pours_no_water_is_left_alone(kind, action):
    asked = proposal(kind, action)
    situation = morning(MONDAY, site=ruled(WEDNESDAYS))
    assert keep_to_rules(asked, situation) is asked


def test_water_before_a_frost_or_a_hot_day_stays_and_warns():
    situation = morning(MONDAY, site=ruled(WEDNESDAYS))
    for kind, action in (("freeze", "ready_soil"), ("heat", "water_early")):
        asked = proposal(kind, action)
        assert keep_to_rules(asked, situation).cautions == (FORBIDDEN,)
        allowed = proposal(kind, action, due=2)
        assert keep_to_rules(allowed, situation) is allowed


def test_what_a_person_put_off_moves_on_to_an_allowed_day():
    limits = limits_of(ruled(WEDNESDAYS), tree())
    kept = allowed_proposal(proposal(due=4, early=3, late=7), limits, MONDAY)
    assert kept.due == MONDAY + 2 * DAY
    assert allowed_proposal(push(kept, THURSDAY), limits, MONDAY).due == (
        MONDAY + 9 * DAY
    )


def test_leave_is_no_longer_asked_for_once_a_day_is_allowed():
    limits = limits_of(ruled(WEDNESDAYS), tree())
    asked = proposal(due=3, late=1)
    by_leave = allowed_proposal(asked, limits, MONDAY)
    assert by_leave.action == BY_LEAVE
    kept = allowed_proposal(push(by_leave, MONDAY + 9 * DAY), limits, MONDAY)
    assert (kept.action, kept.cautions) == ("water", ())
    assert kept.reason.fact("rule_forbids") is None


def test_a_pot_moved_to_the_day_it_is_carried_is_carried_first():
    carried = proposal("cold", "move_in", due=2)
    situation = morning(MONDAY, POT, site=ruled(WEDNESDAYS))

    def keep(one, is_free):
        return keep_to_rules(one, situation, is_free)

    settled = agree([carried, proposal(early=3, due=4)], MONDAY, keep=keep)
    assert settled[1].due == MONDAY + 2 * DAY
    assert "move_before_watering" in settled[1].cautions
    assert agree(settled, MONDAY, keep=keep) == settled


rules = st.builds(
    WateringRule,
    start=st.builds(MonthDay, st.integers(1, 12), st.integers(1, 28)),
    end=st.builds(MonthDay, st.integers(1, 12), st.integers(1, 28)),
    weekdays=st.frozensets(st.integers(0, 6)),
    spares_hand_watering=st.booleans(),
    spares_containers=st.booleans(),
)
windows = st.builds(
    proposal,
    early=st.integers(0, 10),
    due=st.integers(-3, 20),
    late=st.integers(0, 10),
    key=st.sampled_from(["next", "later/1"]),
)
plants = st.sampled_from([tree(), POT, DRIPPED])


@given(st.lists(rules, max_size=3), windows, plants)
def test_no_forbidden_day_is_proposed_without_saying_so(its_rules, asked, plant):
    limits = limits_of(ruled(*its_rules), plant)
    kept = allowed_proposal(asked, limits, MONDAY)
    if kept.reason.fact("rule_forbids") is None:
        day = max(kept.earliest, MONDAY)
        while day <= max(kept.latest, MONDAY):
            assert limits.allow(day)
            day += DAY
    else:
        assert not limits.allow(kept.due)
        assert set(kept.cautions) & {FORBIDDEN, BY_HAND}


@given(st.lists(rules, max_size=3), windows, plants)
def test_it_is_never_later_than_needed_and_twice_is_once(its_rules, asked, plant):
    limits = limits_of(ruled(*its_rules), plant)
    kept = allowed_proposal(asked, limits, MONDAY)
    if asked.key == "next":
        assert kept.due <= max(asked.latest, MONDAY)
    assert allowed_proposal(kept, limits, MONDAY) == kept
    if not its_rules:
        assert kept is asked
