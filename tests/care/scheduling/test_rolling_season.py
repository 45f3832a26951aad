"""Forty-nine days of a household's walks: keeping first against planning afresh.

The season is drawn here: thirty trees, watering that rain puts off by two days and heat
brings forward by one, and slower work whose windows drift by a day now and then.
"""

import random
from dataclasses import dataclass, replace
from datetime import timedelta

import pytest

from care.scheduling.rounds import (
    CalendarCost,
    Window,
    clamp,
    keep_first,
    plan_rounds,
)
from tests.care.scheduling.round_cases import TODAY, day, window

DAYS = 49
TREES = 30
#: How often a kind comes back, and how wide its window is, in days.
KINDS = {"water": (6, 4), "weed": (21, 10), "feed": (30, 14), "look": (14, 7)}
WEEKENDS_AND_WEDNESDAYS = CalendarCost(usable_weekdays=frozenset({2, 5, 6}))
RAIN, HEAT, DRIFT = 0.2, 0.1, 0.05


@dataclass
class Tally:
    moves: int = 0
    rounds: int = 0


def new_task(draw, tree, kind, on):
    every, width = KINDS[kind]
    due = on + timedelta(days=every + draw.randint(-1, 1))
    half = timedelta(days=width // 2)
    return Window(f"{tree:02}/{kind}/{due}", due - half, due, due + half)


def shifted(task, by):
    step = timedelta(days=by)
    return replace(
        task,
        earliest=task.earliest + step,
        due=task.due + step,
        latest=task.latest + step,
    )


def weather_on(draw, tasks):
    """Return the tasks with their windows as a new morning has them."""
    sky = draw.random()
    moved = []
    for task in tasks:
        by = 0
        if "/water/" in task.task_id:
            by = 2 if sky < RAIN else -1 if sky > 1 - HEAT else 0
        elif draw.random() < DRIFT:
            by = draw.choice([-1, 1])
        moved.append(shifted(task, by) if by else task)
    return moved


def season(seed, plan_day):
    """Walk a season; count the tasks that left a day on which they were still legal."""
    draw = random.Random(seed)
    tasks = [
        new_task(
            draw, tree, kind, TODAY - timedelta(days=draw.randrange(KINDS[kind][0]))
        )
        for tree in range(TREES)
        for kind in KINDS
    ]
    plan, tally = {}, Tally()
    for number in range(DAYS):
        today = day(number)
        tasks = weather_on(draw, tasks)
        old, plan = plan, plan_day(tasks, plan, today)
        for task in tasks:
            before, mended = old.get(task.task_id), clamp(task, today)
            is_legal = before and mended.earliest <= before <= mended.latest
            tally.moves += bool(is_legal and plan[task.task_id] != before)
        done = [task for task in tasks if plan[task.task_id] == today]
        tally.rounds += bool(done)
        left = [task for task in tasks if plan[task.task_id] != today]
        for task in sorted(done, key=lambda task: task.task_id):
            tree, kind, _ = task.task_id.split("/")
            left.append(new_task(draw, int(tree), kind, today))
        tasks = left
    return tally


def keeping(tasks, plan, today):
    return keep_first(tasks, plan, today=today, opening_cost=WEEKENDS_AND_WEDNESDAYS)


def afresh(tasks, plan, today):
    del plan
    return plan_rounds(tasks, today=today, opening_cost=WEEKENDS_AND_WEDNESDAYS)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_season_kept_first_moves_little_that_need_not(seed):
    kept, fresh = season(seed, keeping), season(seed, afresh)
    assert kept.moves / DAYS < 3
    assert fresh.moves >= 10 * max(kept.moves, 1)
    # What that costs in seven weeks: 13, 15 and 15 days out, afresh 12, 9 and 10; whoever
    # plans afresh each day also puts work off past the end.
    assert kept.rounds <= fresh.rounds + 6


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_one_window_moved_by_a_day_moves_no_other_task(seed):
    draw = random.Random(seed)
    tasks = [
        window(f"t{n:03}", first, first + draw.randrange(5), first + 6)
        for n in range(120)
        for first in [draw.randrange(60)]
    ]
    plan = keeping(tasks, {}, TODAY)
    assert keeping(tasks, plan, TODAY) == plan
    for picked in draw.sample(range(len(tasks)), 60):
        for by in (-1, 1):
            changed = list(tasks)
            changed[picked] = shifted(tasks[picked], by)
            after = keeping(changed, plan, TODAY)
            moved = {task_id for task_id in plan if after[task_id] != plan[task_id]}
            assert moved <= {tasks[picked].task_id}
