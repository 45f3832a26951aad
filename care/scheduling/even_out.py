"""Walks that are no longer than people have time for, as far as windows let them.

After the days are chosen, work is moved off days that are too long: to a walk that has
room, or to one more walk. What still does not fit stays where it is and is told.
"""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from care.scheduling.cheapest_days import NEVER, Span
from care.scheduling.rounds import (
    EVERY_DAY_USABLE,
    OpeningCost,
    Window,
    plan_cost,
    spans_of,
)

# What a minute over the limit costs, on the scale on which opening a round costs 100:
# half an hour over is worth nearly one more walk. Ours.
OVER_COST = 3
# Days by which a whole day's work is tried earlier or later.
FARTHEST_SHIFT = 3


@dataclass(frozen=True, slots=True)
class EvenedOut:
    """A plan, the minutes each day is still over, and what to let wait there.

    ``waits`` names for such a day one task that would end it, or shorten it most; it
    is not moved: only a person may leave a window.
    """

    plan: dict[str, date]
    over_minutes: dict[date, int]
    waits: dict[date, str]


@dataclass(slots=True)
class _Board:
    """The plan while it changes."""

    plan: dict[str, int]
    spans: Mapping[str, Span]
    minutes: Mapping[str, int]
    most_minutes: int
    opening: Mapping[int, int]  # every day that any task may fall on
    fixed: Collection[int]

    def loads(self) -> dict[int, int]:
        """Return the minutes of each day that is used."""
        loads: dict[int, int] = defaultdict(int)
        for task_id, day in self.plan.items():
            loads[day] += self.minutes[task_id]
        return loads

    def over(self, load: int) -> int:
        return max(load - self.most_minutes, 0)


def even_out(
    windows: Iterable[Window],
    plan: Mapping[str, date],
    *,
    today: date,
    most_minutes: int,
    opening_cost: OpeningCost = EVERY_DAY_USABLE,
    frozen_days: Collection[date] = (),
) -> EvenedOut:
    """Move work off days that take longer than ``most_minutes``.

    Parameters
    ----------
    windows
        One a task, with its minutes; clamped to ``today`` first.
    plan
        Task id to day, every day inside its window.
    today
        The site's day.
    most_minutes
        As long as a day's walk may be [min].
    opening_cost
        Cost of a round on a day, zero or more.
    frozen_days
        Days with a published shift: nothing leaves them, and joining opens nothing.

    Raises
    ------
    ValueError
        ``most_minutes`` is not positive, a task id appears twice, a cost is negative,
        or a task has no day or one outside its window.

    Notes
    -----
    Every step lowers ``plan cost + 3 * minutes over``, so that the plan never gets
    worse. Of all single moves off too long days the one that saves most a minute moved
    is taken; where none saves, the further day that saves most with all that would go
    there; where none does, a whole day is put on a near one, or closed.
    """
    windows = list(windows)
    if most_minutes <= 0:
        message = f"{most_minutes} minutes a day leave no time for anything"
        raise ValueError(message)
    plan_cost(windows, plan, today=today, opening_cost=opening_cost)  # legal at all?
    shifts = {day.toordinal() for day in frozen_days}
    spans = spans_of(windows, today)
    days = {
        day for span in spans.values() for day in range(span.earliest, span.latest + 1)
    }
    board = _Board(
        plan={task_id: plan[task_id].toordinal() for task_id in spans},
        spans=spans,
        minutes={window.task_id: window.minutes for window in windows},
        most_minutes=most_minutes,
        opening={
            day: 0 if day in shifts else opening_cost(date.fromordinal(day))
            for day in sorted(days)
        },
        fixed=shifts,
    )
    while any(step(board) for step in (_move_one, _open_one, _shift_one, _close_one)):
        pass
    return _told(board, windows)


def total_cost(
    windows: Iterable[Window],
    plan: Mapping[str, date],
    *,
    today: date,
    most_minutes: int,
    opening_cost: OpeningCost = EVERY_DAY_USABLE,
) -> int:
    """Return what :func:`even_out` lowers: the plan's cost and its minutes over."""
    windows = list(windows)
    loads: dict[date, int] = defaultdict(int)
    for window in windows:
        loads[plan[window.task_id]] += window.minutes
    over = sum(max(load - most_minutes, 0) for load in loads.values())
    cost = plan_cost(windows, plan, today=today, opening_cost=opening_cost)
    return cost + OVER_COST * over


def _move_one(board: _Board, only: int | None = None) -> bool:
    """Make the single move that saves most a minute; say whether any saves.

    ``only`` is the one day to move to, where it is given.
    """
    loads, sizes = board.loads(), Counter(board.plan.values())
    best: tuple[float, str, int] | None = None
    for task_id, old in board.plan.items():
        if old in board.fixed or loads[old] <= board.most_minutes:
            continue
        for new in _days_of(board.spans[task_id], only):
            saving = _saving(board, task_id, old, new, loads=loads, sizes=sizes)
            if saving <= 0:
                continue
            # Ties go to the smaller id and the earlier day.
            found = (-saving / max(board.minutes[task_id], 1), task_id, new)
            best = found if best is None else min(best, found)
    if best is None:
        return False
    board.plan[best[1]] = best[2]
    return True


def _saving(
    board: _Board,
    task_id: str,
    old: int,
    new: int,
    *,
    loads: Mapping[int, int],
    sizes: Mapping[int, int],
) -> int:
    if new == old:
        return 0
    minutes, span = board.minutes[task_id], board.spans[task_id]
    load_new = loads.get(new, 0)
    over = (
        board.over(loads[old])
        - board.over(loads[old] - minutes)
        + board.over(load_new)
        - board.over(load_new + minutes)
    )
    opened = 0 if sizes.get(new) else board.opening[new]
    closed = board.opening[old] if sizes[old] == 1 else 0
    return OVER_COST * over + span.cost(old) - span.cost(new) - opened + closed


def _cost(board: _Board, plan: Mapping[str, int]) -> int:
    """Return what is lowered, of a plan inside its windows."""
    loads: dict[int, int] = defaultdict(int)
    for task_id, day in plan.items():
        loads[day] += board.minutes[task_id]
    return (
        sum(board.opening[day] for day in loads)
        + OVER_COST * sum(map(board.over, loads.values()))
        + sum(board.spans[task_id].cost(day) for task_id, day in plan.items())
    )


def _take_best(board: _Board, plans: Iterable[dict[str, int]]) -> bool:
    """Take the cheapest of some plans, the first of equals, if it is cheaper."""
    now = _cost(board, board.plan)
    best = min(plans, key=lambda plan: _cost(board, plan), default=None)
    if best is None or _cost(board, best) >= now:
        return False
    board.plan = best
    return True


def _open_one(board: _Board) -> bool:
    """Open a further day and move there all that saves, if it is worth the walk."""
    loads = board.loads()
    used = set(board.plan.values())
    near = {
        day
        for task_id, old in board.plan.items()
        if board.over(loads[old])
        for day in _days_of(board.spans[task_id])
    }
    return _take_best(board, [_with_day(board, day) for day in sorted(near - used)])


def _with_day(board: _Board, day: int) -> dict[str, int]:
    """Return the plan with a day more, filled one task after another."""
    free = {**board.opening, day: 0}  # paid once, whatever comes
    trial = replace(board, plan=dict(board.plan), opening=free)
    while _move_one(trial, only=day):
        pass
    return trial.plan


def _shift_one(board: _Board) -> bool:
    """Put a whole day's work on a near day, where that makes room for other work."""
    used = set(board.plan.values())
    steps = [step for step in range(-FARTHEST_SHIFT, FARTHEST_SHIFT + 1) if step]
    return any(map(board.over, board.loads().values())) and _take_best(
        board,
        [
            plan
            for day in sorted(used - set(board.fixed))
            for step in steps
            if day + step not in used and (plan := _shifted(board, day, day + step))
        ],
    )


def _shifted(board: _Board, day: int, to: int) -> dict[str, int]:
    """Return the plan with a day's work on another, others' joining it; or nothing."""
    members = [task_id for task_id, on in board.plan.items() if on == day]
    if any(board.spans[task_id].cost(to) == NEVER for task_id in members):
        return {}
    trial = replace(board, plan={**board.plan, **dict.fromkeys(members, to)})
    while _move_one(trial, only=to):
        pass
    return trial.plan


def _close_one(board: _Board) -> bool:
    """Close a day whose work all fits others, if that saves."""
    used = set(board.plan.values()) - set(board.fixed)
    return _take_best(
        board,
        [plan for day in sorted(used) if (plan := _without_day(board, day))],
    )


def _without_day(board: _Board, day: int) -> dict[str, int]:
    """Return the plan without a day, longest work first; nothing if some fits nowhere."""
    plan = dict(board.plan)
    members = [task_id for task_id, on in plan.items() if on == day]
    for task_id in sorted(members, key=lambda one: (-board.minutes[one], one)):
        del plan[task_id]
        days = _days_of(board.spans[task_id])
        others = {on for on in board.plan.values() if on != day and on in days}
        if not others:
            return {}
        costs = {on: _cost(board, {**plan, task_id: on}) for on in others}
        plan[task_id] = min((cost, on) for on, cost in costs.items())[1]
    return plan


def _days_of(span: Span, only: int | None = None) -> range:
    """Return the days of a window, or the one of them that is asked about."""
    if only is None:
        return range(span.earliest, span.latest + 1)
    return range(max(only, span.earliest), min(only, span.latest) + 1)


def _told(board: _Board, windows: Iterable[Window]) -> EvenedOut:
    by_day: dict[int, list[Window]] = defaultdict(list)
    for window in windows:
        by_day[board.plan[window.task_id]].append(window)
    loads = board.loads()
    over = {day: board.over(loads[day]) for day in sorted(by_day)}
    return EvenedOut(
        plan={
            task_id: date.fromordinal(board.plan[task_id])
            for task_id in sorted(board.plan)
        },
        over_minutes={
            date.fromordinal(day): minutes for day, minutes in over.items() if minutes
        },
        waits={
            date.fromordinal(day): waiting
            for day, minutes in over.items()
            if minutes and (waiting := _who_waits(by_day[day], minutes))
        },
    )


def _who_waits(windows: Iterable[Window], over_minutes: int) -> str | None:
    """Return the least work that makes up for the minutes, or else the most there is."""
    patient = [window for window in windows if not window.is_urgent]
    if not patient:
        return None
    enough = [window for window in patient if window.minutes >= over_minutes]
    if enough:
        return min(enough, key=lambda one: (one.minutes, one.task_id)).task_id
    return min(patient, key=lambda one: (-one.minutes, one.task_id)).task_id
