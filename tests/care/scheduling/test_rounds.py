"""Rounds: every promise of the exact plan, and what a plan costs."""

from dataclasses import replace
from datetime import date
from itertools import chain, combinations

import pytest
from hypothesis import given, strategies as st

from care.scheduling.rounds import (
    NOBODY_HOME_COST,
    OTHER_DAY_COST,
    USABLE_DAY_COST,
    CalendarCost,
    Window,
    clamp,
    keep_first,
    plan_cost,
    plan_rounds,
    round_minutes,
)
from tests.care.scheduling.round_cases import (
    TODAY,
    assert_legal,
    cost_of,
    day,
    opening_costs,
    window,
    windows,
)

WEEKEND = CalendarCost(usable_weekdays=frozenset({5, 6}))


def brute_force_cost(tasks, opening_cost, last_day):
    """The least cost over every set of days: no insight, so an independent judge."""
    clamped = [clamp(task, TODAY) for task in tasks]
    days = [day(offset) for offset in range(last_day + 1)]
    everything = chain.from_iterable(
        combinations(days, size) for size in range(len(days) + 1)
    )
    least = None
    for chosen in everything:
        total = sum(opening_cost(one) for one in chosen)
        for task in clamped:
            costs = [cost_of(task, one) for one in chosen]
            legal = [cost for cost in costs if cost is not None]
            if not legal:
                break
            total += min(legal)
        else:
            least = total if least is None else min(least, total)
    return least


def fewest_rounds(tasks):
    """The smallest number of days that meets every window: take the last day of the
    window that ends first, drop what it meets, repeat (interval stabbing).
    """
    left = sorted((clamp(task, TODAY) for task in tasks), key=lambda task: task.latest)
    count = 0
    while left:
        stab = left[0].latest
        left = [task for task in left if task.earliest > stab]
        count += 1
    return count


# Clamping


def test_overdue_work_becomes_work_for_today():
    mended = clamp(window("late", -9, -6, -2), TODAY)
    assert (mended.earliest, mended.due, mended.latest) == (TODAY, TODAY, TODAY)


def test_days_gone_by_are_cut_off():
    mended = clamp(window("begun", -9, -6, 4), TODAY)
    assert (mended.earliest, mended.due, mended.latest) == (TODAY, TODAY, day(4))


def test_an_earliest_day_after_the_latest_gives_way():
    mended = clamp(window("crossed", 8, 5, 3), TODAY)
    assert (mended.earliest, mended.due, mended.latest) == (day(3),) * 3


def test_urgent_work_is_for_the_first_day_it_may_be_done():
    tonight = clamp(window("frost", -1, 2, 4, is_urgent=True), TODAY)
    assert (tonight.earliest, tonight.due, tonight.latest) == (TODAY,) * 3
    announced = clamp(window("frost", 2, 3, 4, is_urgent=True), TODAY)
    assert (announced.earliest, announced.due, announced.latest) == (day(2),) * 3


def test_a_window_without_end_reaches_a_year_and_no_further():
    endless = Window("whenever", date.min, day(0), date.max)
    mended = clamp(endless, TODAY)
    assert mended.latest == day(366)
    assert clamp(Window("never", date.min, date.max, date.max), TODAY).due == date.max
    assert clamp(Window("long", date.min, day(900), date.max), TODAY) == replace(
        endless, task_id="long", earliest=day(534), due=day(900), latest=day(1266)
    )


@given(windows())
def test_clamping_twice_is_clamping_once(tasks):
    for task in tasks:
        mended = clamp(task, TODAY)
        assert TODAY <= mended.earliest <= mended.due <= mended.latest
        assert clamp(mended, TODAY) == mended


# The exact plan


@given(windows(last_day=8, most=7), opening_costs())
def test_no_set_of_days_is_cheaper(tasks, opening_cost):
    plan = plan_rounds(tasks, today=TODAY, opening_cost=opening_cost)
    cost = plan_cost(tasks, plan, today=TODAY, opening_cost=opening_cost)
    assert cost == brute_force_cost(tasks, opening_cost, last_day=8)


@given(windows(last_day=8, most=6), st.lists(st.integers(0, 12), min_size=7))
def test_no_set_of_days_is_cheaper_when_days_cost_little_or_nothing(tasks, costs):
    def opening_cost(on):
        return costs[(on - TODAY).days % len(costs)]

    plan = plan_rounds(tasks, today=TODAY, opening_cost=opening_cost)
    cost = plan_cost(tasks, plan, today=TODAY, opening_cost=opening_cost)
    assert cost == brute_force_cost(tasks, opening_cost, last_day=8)


@given(windows(), opening_costs())
def test_every_task_gets_one_day_inside_its_window(tasks, opening_cost):
    assert_legal(plan_rounds(tasks, today=TODAY, opening_cost=opening_cost), tasks)


@given(windows(), opening_costs(), st.randoms(use_true_random=False))
def test_the_order_of_the_windows_does_not_matter(tasks, opening_cost, random):
    plan = plan_rounds(tasks, today=TODAY, opening_cost=opening_cost)
    shuffled = random.sample(tasks, len(tasks))
    again = plan_rounds(shuffled, today=TODAY, opening_cost=opening_cost)
    assert list(again.items()) == list(plan.items())


@given(windows(), st.integers(0, 20))
def test_urgent_work_lands_on_its_day_whatever_it_costs(tasks, offset):
    frost = window("frost", offset, offset, offset + 3, is_urgent=True)
    nobody = CalendarCost(frozenset(), frozenset(map(day, range(40))))
    for plan in (
        plan_rounds([*tasks, frost], today=TODAY, opening_cost=nobody),
        keep_first([*tasks, frost], {}, today=TODAY, opening_cost=nobody),
        keep_first([*tasks, frost], {"frost": day(offset + 1)}, today=TODAY),
    ):
        assert plan["frost"] == day(offset)


@given(windows(), opening_costs())
def test_fewest_rounds_first_gives_the_provable_minimum(tasks, opening_cost):
    assert len(
        set(plan_rounds(tasks, today=TODAY, opening_cost=opening_cost).values())
    ) >= fewest_rounds(tasks)
    strict = plan_rounds(tasks, today=TODAY, opening_cost=lambda _: 10_000)
    assert len(set(strict.values())) == fewest_rounds(tasks)


@given(windows(), opening_costs())
def test_the_exact_plan_is_never_dearer_than_one_kept(tasks, opening_cost):
    exact = plan_rounds(tasks, today=TODAY, opening_cost=opening_cost)
    kept = keep_first(tasks, {}, today=TODAY, opening_cost=opening_cost)
    assert plan_cost(tasks, exact, today=TODAY, opening_cost=opening_cost) <= plan_cost(
        tasks, kept, today=TODAY, opening_cost=opening_cost
    )


def test_two_windows_that_meet_share_a_round():
    tasks = [window("water", 0, 3, 5), window("mulch", 4, 8, 12)]
    # Day 4: one day late at 2 and four early at 1; day 5 would cost 4 + 3.
    assert plan_rounds(tasks, today=TODAY) == {"mulch": day(4), "water": day(4)}


def test_a_round_avoids_days_on_which_people_cannot_come():
    tasks = [window("water", 0, 1, 6)]
    assert plan_rounds(tasks, today=TODAY)["water"] == day(1)
    weekend = plan_rounds(tasks, today=TODAY, opening_cost=WEEKEND)["water"]
    assert weekend == date(2026, 4, 4)  # Saturday


def test_an_open_day_is_joined_where_the_window_allows():
    tasks = [window("water", 0, 3, 9), window("feed", 0, 1, 2)]
    plan = plan_rounds(tasks, today=TODAY, open_days=[day(7)])
    assert plan == {"feed": day(1), "water": day(1)}
    assert plan_rounds(tasks[:1], today=TODAY, open_days=[day(7)]) == {"water": day(7)}


def test_the_earlier_of_two_equal_days_is_taken():
    task = window("water", 0, 4, 8, early_cost=1, late_cost=1)
    plan = plan_rounds([task], today=TODAY, open_days=[day(2), day(6)])
    assert plan == {"water": day(2)}


def test_what_can_wait_at_no_cost_waits():
    task = window("water", 0, 4, 8, early_cost=0, late_cost=0)
    assert plan_rounds([task], today=TODAY) == {"water": day(8)}


def test_work_put_off_for_decades_is_planned_in_its_year():
    later = Window("later", date(2099, 1, 1), date(2099, 1, 5), date(2099, 1, 9))
    plan = plan_rounds([later, window("now", 0, 1, 2)], today=TODAY)
    assert plan == {"later": date(2099, 1, 5), "now": day(1)}


def test_no_windows_make_no_rounds():
    assert plan_rounds([], today=TODAY) == {}
    assert keep_first([], {"gone": TODAY}, today=TODAY) == {}


def test_two_windows_of_one_task_are_refused():
    twice = [window("water", 0, 1, 2), window("water", 3, 4, 5)]
    with pytest.raises(ValueError, match="two windows for task water"):
        plan_rounds(twice, today=TODAY)
    with pytest.raises(ValueError, match="two windows for task water"):
        keep_first(twice, {}, today=TODAY)


def test_negative_costs_are_refused():
    with pytest.raises(ValueError, match="below zero"):
        plan_rounds([window("water", 0, 1, 2)], today=TODAY, opening_cost=lambda _: -1)
    with pytest.raises(ValueError, match="below zero"):
        plan_rounds([window("water", 0, 1, 2, late_cost=-1)], today=TODAY)


def test_the_calendar_says_what_a_day_costs():
    calendar = CalendarCost(frozenset({2}), frozenset({day(7)}))
    costs = [calendar(day(offset)) for offset in (0, 1, 7)]
    assert costs == [USABLE_DAY_COST, OTHER_DAY_COST, NOBODY_HOME_COST]


# Cost and minutes of a plan


def test_a_plan_costs_its_rounds_and_the_days_off_the_due_day():
    tasks = [
        window("feed", 0, 4, 8),
        window("water", 0, 1, 8),
        window("mulch", 9, 9, 9),
    ]
    plan = {"feed": day(3), "water": day(3), "mulch": day(9)}
    assert plan_cost(tasks, plan, today=TODAY) == 2 * USABLE_DAY_COST + 1 + 2 * 2


@pytest.mark.parametrize("offsets", [{}, {"water": 9}, {"water": -1}])
def test_a_plan_that_breaks_a_window_has_no_cost(offsets):
    plan = {task_id: day(offset) for task_id, offset in offsets.items()}
    with pytest.raises(ValueError, match="outside its window"):
        plan_cost([window("water", 0, 1, 8)], plan, today=TODAY)


def test_minutes_of_a_round_are_a_little_more_than_the_sum_of_its_tasks():
    tasks = [
        window("feed", 0, 4, 8, minutes=45),
        window("water", 0, 1, 8, minutes=55),
        window("mulch", 9, 9, 9),
    ]
    plan = {"feed": day(3), "water": day(3), "mulch": day(2)}
    minutes = round_minutes(tasks, plan)
    assert list(minutes.items()) == [(day(2), 6), (day(3), 108)]
