"""Rounds: every promise of the exact plan and of keeping yesterday's first."""

from collections import defaultdict
from dataclasses import replace
from datetime import date, timedelta
from itertools import chain, combinations

import pytest
from hypothesis import given, strategies as st

from care.scheduling.rounds import (
    MOVE_COST,
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

TODAY = date(2026, 4, 1)  # a Wednesday
WEEKEND = CalendarCost(usable_weekdays=frozenset({5, 6}))


def day(offset):
    return TODAY + timedelta(days=offset)


def window(task_id, earliest, due, latest, **more):
    return Window(task_id, day(earliest), day(due), day(latest), **more)


@st.composite
def windows(draw, last_day=30, most=12):
    """Windows as rules make them: some overdue, some with a day that has gone by."""
    made = []
    for number in range(draw(st.integers(0, most))):
        earliest, due, latest = sorted(
            draw(st.tuples(*[st.integers(-4, last_day)] * 3))
        )
        made.append(
            window(
                f"t{number:02}",
                earliest,
                due,
                latest,
                is_urgent=draw(st.integers(0, 7)) == 0,
                early_cost=draw(st.integers(0, 4)),
                late_cost=draw(st.integers(0, 4)),
            )
        )
    return made


@st.composite
def opening_costs(draw):
    return CalendarCost(
        usable_weekdays=draw(st.frozensets(st.integers(0, 6))),
        away_days=draw(st.frozensets(st.integers(0, 30).map(day), max_size=6)),
    )


@st.composite
def old_plans(draw):
    """A day for some tasks, not all of them possible any more, some tasks gone."""
    ids = [f"t{number:02}" for number in range(14)]
    days = st.integers(-3, 32).map(day)
    return draw(st.dictionaries(st.sampled_from(ids), days))


def cost_of(task, on):
    if not task.earliest <= on <= task.latest:
        return None
    off = (on - task.due).days
    return task.late_cost * off if off > 0 else -task.early_cost * off


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


def tasks_on(plan):
    members = defaultdict(set)
    for task_id, on in plan.items():
        members[on].add(task_id)
    return members


def assert_legal(plan, tasks):
    assert sorted(plan) == sorted(task.task_id for task in tasks)
    for task in tasks:
        possible = clamp(task, TODAY)
        assert possible.earliest <= plan[task.task_id] <= possible.latest


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


# Keeping yesterday's plan


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
    count = 30  # 30 tasks seen, 4 each: a saving of 100 does not reach 120
    many = [window(f"m{n:02}", 3, 6, 9, late_cost=0) for n in range(count)]
    more = [window(f"n{n:02}", 3, 7, 9, late_cost=0) for n in range(count + 1)]
    previous = {t.task_id: day(6) for t in many} | {t.task_id: day(7) for t in more}
    assert keep_first([*many, *more], previous, today=TODAY) == previous
    fewer = many[:24] + more  # 24 * 4 = 96
    moved = keep_first(fewer, previous, today=TODAY)
    assert set(moved.values()) == {day(7)}


def test_yesterdays_leftovers_are_planned_again():
    tasks = [window("water", -3, -1, 4)]
    plan = keep_first(tasks, {"water": day(-1)}, today=TODAY)
    assert plan == {"water": TODAY}


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
