"""Rounds from day to day: what is good stays, what must move moves."""

from collections import defaultdict
from dataclasses import replace
from datetime import timedelta

from hypothesis import given, strategies as st

from care.scheduling.rounds import MOVE_COST, clamp, keep_first, plan_rounds
from tests.care.scheduling.round_cases import (
    TODAY,
    assert_legal,
    cost_of,
    day,
    old_plans,
    opening_costs,
    window,
    windows,
)


def tasks_on(plan):
    members = defaultdict(set)
    for task_id, on in plan.items():
        members[on].add(task_id)
    return members


@given(windows(), old_plans(), opening_costs())
def test_a_kept_plan_is_legal_and_keeping_it_again_changes_nothing(
    tasks, previous, opening_cost
):
    once = keep_first(tasks, previous, today=TODAY, opening_cost=opening_cost)
    assert_legal(once, tasks)
    twice = keep_first(tasks, once, today=TODAY, opening_cost=opening_cost)
    assert twice == once


@given(windows(), opening_costs())
def test_an_exact_plan_is_kept_as_it_is(tasks, opening_cost):
    plan = plan_rounds(tasks, today=TODAY, opening_cost=opening_cost)
    kept = keep_first(tasks, plan, today=TODAY, opening_cost=opening_cost)
    assert kept == plan


@given(windows(), old_plans(), opening_costs(), st.randoms(use_true_random=False))
def test_order_does_not_matter_to_a_kept_plan(tasks, previous, opening_cost, random):
    plan = keep_first(tasks, previous, today=TODAY, opening_cost=opening_cost)
    shuffled = random.sample(tasks, len(tasks))
    backwards = dict(reversed(list(previous.items())))
    again = keep_first(shuffled, backwards, today=TODAY, opening_cost=opening_cost)
    assert list(again.items()) == list(plan.items())


@given(windows(), old_plans(), opening_costs())
def test_a_task_moves_only_off_an_illegal_day_or_a_closed_round(
    tasks, previous, opening_cost
):
    plan = keep_first(tasks, previous, today=TODAY, opening_cost=opening_cost)
    used = set(plan.values())
    for task in tasks:
        old = previous.get(task.task_id)
        possible = clamp(task, TODAY)
        is_legal = old and possible.earliest <= old <= possible.latest
        if is_legal and plan[task.task_id] != old:
            assert old not in used


@given(windows(), old_plans(), opening_costs(), st.data())
def test_finished_tasks_never_add_a_round(tasks, previous, opening_cost, data):
    plan = keep_first(tasks, previous, today=TODAY, opening_cost=opening_cost)
    left = [task for task in tasks if data.draw(st.booleans())]
    after = keep_first(left, plan, today=TODAY, opening_cost=opening_cost)
    assert set(after.values()) <= set(plan.values())


@given(windows(most=8), opening_costs(), st.data())
def test_a_window_that_shifts_by_a_day_leaves_a_legal_plan(tasks, opening_cost, data):
    plan = plan_rounds(tasks, today=TODAY, opening_cost=opening_cost)
    shifted = []
    for task in tasks:
        by = timedelta(days=data.draw(st.sampled_from([-1, 0, 0, 1])))
        shifted.append(
            replace(
                task,
                earliest=task.earliest + by,
                due=task.due + by,
                latest=task.latest + by,
            )
        )
    after = keep_first(shifted, plan, today=TODAY, opening_cost=opening_cost)
    assert_legal(after, shifted)


@given(
    windows(),
    old_plans(),
    opening_costs(),
    st.frozensets(st.integers(-3, 32).map(day), max_size=5),
)
def test_frozen_rounds_keep_their_day_and_their_possible_tasks(
    tasks, previous, opening_cost, published
):
    plan = keep_first(
        tasks, previous, today=TODAY, opening_cost=opening_cost, frozen_days=published
    )
    for task in tasks:
        old = previous.get(task.task_id)
        possible = clamp(task, TODAY)
        is_frozen = old in {*published, day(0), day(1)}
        if is_frozen and possible.earliest <= old <= possible.latest:
            assert plan[task.task_id] == old
    again = keep_first(
        tasks, plan, today=TODAY, opening_cost=opening_cost, frozen_days=published
    )
    assert again == plan


@given(windows(most=8), old_plans(), opening_costs())
def test_no_round_is_left_that_would_pay_to_close(tasks, previous, opening_cost):
    plan = keep_first(tasks, previous, today=TODAY, opening_cost=opening_cost)
    by_id = {task.task_id: clamp(task, TODAY) for task in tasks}
    for on, members in tasks_on(plan).items():
        others = set(plan.values()) - {on}
        if on in {day(0), day(1)}:
            continue
        extra = 0
        for task_id in members:
            task = by_id[task_id]
            elsewhere = [c for o in others if (c := cost_of(task, o)) is not None]
            if not elsewhere:
                break
            extra += min(elsewhere) - cost_of(task, on)
        else:
            settled = sum(previous.get(task_id) == on for task_id in members)
            saving = opening_cost(on) - extra
            assert saving <= 0 or saving < MOVE_COST * settled


def test_a_new_task_joins_a_round_that_is_there():
    old = window("water", 2, 5, 9)
    new = window("feed", 4, 10, 14)
    plan = keep_first([old, new], {"water": day(6)}, today=TODAY)
    assert plan == {"feed": day(6), "water": day(6)}


def test_a_round_is_closed_when_its_task_fits_another():
    tasks = [window("feed", 3, 6, 9), window("water", 3, 6, 9)]
    previous = {"feed": day(5), "water": day(6)}
    assert keep_first(tasks, previous, today=TODAY) == {"feed": day(6), "water": day(6)}


def test_the_smallest_round_is_closed_first():
    tasks = [window(name, 3, 6, 9) for name in ("feed", "mulch", "water")]
    previous = {"feed": day(6), "mulch": day(5), "water": day(5)}
    assert set(keep_first(tasks, previous, today=TODAY).values()) == {day(5)}


def test_a_round_that_costs_as_much_as_it_saves_stays():
    # Twenty days early at 5 a day are worth the 100 of a round.
    tasks = [window("prune", 0, 0, 0), window("water", 0, 20, 30, early_cost=5)]
    plan = keep_first(tasks, {}, today=TODAY)
    assert plan == {"prune": day(0), "water": day(20)}


def test_a_new_task_joins_a_published_shift_that_has_none_yet():
    tasks = [window("feed", 5, 6, 6), window("water", 6, 9, 12)]
    plan = keep_first(tasks, {}, today=TODAY, frozen_days=[day(5)])
    # Both on day 6 would cost a round and three days early; this a round and one.
    assert plan == {"feed": day(5), "water": day(9)}


def test_a_small_round_joins_a_published_shift():
    tasks = [window("water", 3, 6, 9)]
    plan = keep_first(tasks, {"water": day(6)}, today=TODAY, frozen_days=[day(5)])
    assert plan == {"water": day(5)}


def test_a_round_with_a_published_shift_is_not_closed():
    tasks = [window("feed", 3, 6, 9), window("water", 3, 6, 9)]
    previous = {"feed": day(5), "water": day(6)}
    plan = keep_first(tasks, previous, today=TODAY, frozen_days=[day(5)])
    assert plan["feed"] == day(5)


def test_rounds_of_today_and_tomorrow_are_not_closed():
    tasks = [
        window("feed", 0, 3, 5),
        window("water", 0, 3, 5),
        window("prune", 0, 3, 5),
    ]
    previous = {"feed": day(0), "water": day(1), "prune": day(3)}
    plan = keep_first(tasks, previous, today=TODAY)
    assert (plan["feed"], plan["water"]) == (day(0), day(1))


def test_a_round_stays_when_moving_its_people_saves_too_little():
    # A saving of 100 is worth five moves at 20 each, and not six.
    many = [window(f"m{n:02}", 3, 6, 9, late_cost=0) for n in range(6)]
    more = [window(f"n{n:02}", 3, 7, 9, late_cost=0) for n in range(7)]
    previous = {t.task_id: day(6) for t in many} | {t.task_id: day(7) for t in more}
    assert keep_first([*many, *more], previous, today=TODAY) == previous
    fewer = many[:5] + more
    moved = keep_first(fewer, previous, today=TODAY)
    assert set(moved.values()) == {day(7)}


def test_yesterdays_leftovers_are_planned_again():
    tasks = [window("water", -3, -1, 4)]
    plan = keep_first(tasks, {"water": day(-1)}, today=TODAY)
    assert plan == {"water": TODAY}
