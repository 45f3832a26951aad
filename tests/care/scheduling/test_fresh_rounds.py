"""A fresh plan: legal, worth its moves, and the days that are settled stay."""

from hypothesis import given, strategies as st

from care.scheduling.fresh_rounds import WORTH_A_MOVE, fresh_rounds
from care.scheduling.rounds import clamp, keep_first, plan_cost
from tests.care.scheduling.round_cases import (
    TODAY,
    assert_legal,
    day,
    old_plans,
    opening_costs,
    window,
    windows,
)

published = st.frozensets(st.integers(-3, 32).map(day), max_size=3)


@given(windows(), old_plans(), opening_costs(), published)
def test_a_fresh_plan_is_legal_worth_its_moves_and_leaves_what_is_settled(
    tasks, previous, opening_cost, shifts
):
    given_ = {"today": TODAY, "opening_cost": opening_cost, "frozen_days": shifts}
    fresh = fresh_rounds(tasks, previous, **given_)
    if fresh is None:
        return
    assert_legal(fresh.plan, tasks)
    kept = keep_first(tasks, previous, **given_)
    moved = {task_id for task_id in kept if kept[task_id] != fresh.plan[task_id]}
    assert moved == set(fresh.moves)
    for task_id, (old, new) in fresh.moves.items():
        assert (old, new) == (kept[task_id], fresh.plan[task_id])
        assert old not in {*shifts, day(0), day(1)}

    def cost(plan):
        return plan_cost(
            tasks,
            plan,
            today=TODAY,
            opening_cost=lambda on: 0 if on in shifts else opening_cost(on),
        )

    assert cost(kept) - cost(fresh.plan) == fresh.saving > WORTH_A_MOVE * len(moved)
    assert fresh.days_saved == len(set(kept.values())) - len(set(fresh.plan.values()))
    # Once taken it stays, and nothing is left to offer at once that it would undo.
    assert keep_first(tasks, fresh.plan, **given_) == fresh.plan


def test_two_walks_that_keeping_first_cannot_close_become_one():
    """Neither suits the other's day; both suit day 8, where nobody walks yet."""
    tasks = [
        window("a", 3, 5, 9, late_cost=0),
        window("b", 3, 5, 9, late_cost=0),
        window("c", 8, 12, 14, early_cost=0),
        window("d", 5, 9, 12, early_cost=0, late_cost=0),
    ]
    previous = {"a": day(5), "b": day(5), "c": day(12), "d": day(12)}
    fresh = fresh_rounds(tasks, previous, today=TODAY)
    assert fresh is not None
    assert set(fresh.plan.values()) <= {day(8), day(9)}
    assert fresh.days_saved == 1
    assert fresh.saving == 100


def test_a_saving_too_small_for_its_moves_is_not_offered():
    tasks = [
        window(name, 3, 5, 9, late_cost=0) for name in ("a", "b", "e", "f", "g")
    ] + [window("c", 8, 12, 14, early_cost=0)]
    previous = {task.task_id: day(5) for task in tasks} | {"c": day(12)}
    # One walk of 100 for six moves.
    assert fresh_rounds(tasks, previous, today=TODAY) is None


def test_what_a_published_shift_takes_is_not_moved():
    tasks = [
        window("a", 3, 5, 9, late_cost=0),
        window("c", 8, 12, 14, early_cost=0),
    ]
    previous = {"a": day(5), "c": day(12)}
    assert fresh_rounds(tasks, previous, today=TODAY) is not None
    both = [day(5), day(12)]
    assert fresh_rounds(tasks, previous, today=TODAY, frozen_days=both) is None


@given(windows(), opening_costs())
def test_of_a_plan_just_made_nothing_is_to_be_saved(tasks, opening_cost):
    plan = keep_first(tasks, {}, today=TODAY, opening_cost=opening_cost)
    clamped = [clamp(task, TODAY) for task in tasks]
    fresh = fresh_rounds(clamped, plan, today=TODAY, opening_cost=opening_cost)
    assert fresh is None
