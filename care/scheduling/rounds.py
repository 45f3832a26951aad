"""Rounds: the fewest walks that keep every task inside its window.

A task may be done on any day of its window and costs a little for each day off its
due day; a day costs something once anyone has to come. :func:`plan_rounds` finds the
cheapest choice of days exactly; :func:`keep_first` keeps yesterday's choice wherever
it is still good, so that a plan people have read does not shuffle every morning.

Whole numbers only and every tie decided, so the same windows give the same plan in
whatever order they come.
"""

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from care.scheduling.cheapest_days import NEVER, Span, assign, cheapest_days

USABLE_DAY_COST = 100
OTHER_DAY_COST = 300
# Never infinite: with everybody away the plan still says when to come.
NOBODY_HOME_COST = 5000

# Moving a task that people have already seen on a day must save at least this much.
# Ours, tried on drawn seasons of 49 days: at 4 one window that moved by a day emptied
# whole rounds now and then, at 20 none of 1,560 did, for one more walk in a season.
MOVE_COST = 20

# The round falls within this many days of the due day even where a window is wider.
WIDEST_REACH_DAYS = 366

OpeningCost = Callable[[date], int]


@dataclass(frozen=True, slots=True)
class Window:
    """When a task may be done, and what it costs to miss its due day.

    Attributes
    ----------
    task_id
        Any text, one of a kind within a plan.
    earliest, due, latest
        First, best and last day. :func:`clamp` mends what has already passed.
    minutes
        Effort [min].
    is_urgent
        Done on the first possible day, whatever the calendar says.
    early_cost, late_cost
        Cost a day before and after the due day [whole number, same scale as the cost
        of opening a round].
    """

    task_id: str
    earliest: date
    due: date
    latest: date
    minutes: int = 5
    is_urgent: bool = False
    early_cost: int = 1
    late_cost: int = 2


@dataclass(frozen=True, slots=True)
class CalendarCost:
    """What opening a round costs on a day, from the days people said they can come.

    ``usable_weekdays`` counts Monday as 0. Call it with a date.
    """

    usable_weekdays: frozenset[int] = frozenset(range(7))
    away_days: frozenset[date] = frozenset()

    def __call__(self, day: date) -> int:
        """Return the cost of a round on ``day``."""
        if day in self.away_days:
            return NOBODY_HOME_COST
        if day.weekday() in self.usable_weekdays:
            return USABLE_DAY_COST
        return OTHER_DAY_COST


EVERY_DAY_USABLE = CalendarCost()


def clamp(window: Window, today: date) -> Window:
    """Return the window as it can still be planned on ``today``.

    Overdue work becomes work for today; an urgent task is pinned to the first day on
    which it may be done; days gone by are cut off; an earliest day after the latest
    gives way to it; days more than a year off the due day are not considered.
    """
    latest = max(window.latest, today)
    earliest = min(max(window.earliest, today), latest)
    if window.is_urgent:
        latest = earliest
    due = min(max(window.due, earliest), latest)
    reach = timedelta(days=WIDEST_REACH_DAYS)
    if due - date.min > reach:
        earliest = max(earliest, due - reach)
    if date.max - due > reach:
        latest = min(latest, due + reach)
    if (earliest, due, latest) == (window.earliest, window.due, window.latest):
        return window  # most are as they can be planned, and are asked for often
    return replace(window, earliest=earliest, due=due, latest=latest)


def plan_rounds(
    windows: Iterable[Window],
    *,
    today: date,
    opening_cost: OpeningCost = EVERY_DAY_USABLE,
    open_days: Collection[date] = (),
) -> dict[str, date]:
    """Choose the day of every task at the least total cost.

    Parameters
    ----------
    windows
        One a task; clamped to ``today`` first.
    today
        The site's day.
    opening_cost
        Cost of a round on a day, zero or more. Multiply it by 10,000 to have as few
        rounds as possible before anything else counts.
    open_days
        Days on which somebody comes anyhow; joining them opens nothing.

    Returns
    -------
    dict
        Task id to day, sorted by id.

    Raises
    ------
    ValueError
        A task id appears twice, or a cost is negative.
    """
    spans = spans_of(windows, today)
    free = {day.toordinal() for day in open_days}
    chosen = cheapest_days(spans.values(), _unless_open(opening_cost, free))
    return _to_dates(assign(spans, chosen))


def keep_first(
    windows: Iterable[Window],
    previous: Mapping[str, date],
    *,
    today: date,
    opening_cost: OpeningCost = EVERY_DAY_USABLE,
    frozen_days: Collection[date] = (),
) -> dict[str, date]:
    """Plan again, leaving each task on its day for as long as that is sensible.

    A task whose old day is still inside its window stays there. The others join the
    rounds that are left or get new ones at the least cost. A round is then closed,
    smallest first, only if all its tasks fit other rounds and that saves something,
    and at least ``MOVE_COST`` for each task whose old day people have seen.

    Parameters
    ----------
    windows
        One a task; clamped to ``today`` first.
    previous
        Task id to day, as last planned; tasks that are gone are ignored.
    today
        The site's day.
    opening_cost
        Cost of a round on a day, zero or more.
    frozen_days
        Days with a published shift. Like today and tomorrow they are never closed,
        and because people come on them anyhow, joining them opens nothing.

    Returns
    -------
    dict
        Task id to day, sorted by id.

    Raises
    ------
    ValueError
        A task id appears twice, or a cost is negative.
    """
    spans = spans_of(windows, today)
    plan: dict[str, int] = {}
    for task_id, span in spans.items():
        old = previous.get(task_id)
        if old is not None and span.earliest <= old.toordinal() <= span.latest:
            plan[task_id] = old.toordinal()
    seen = dict(plan)
    shifts = {day.toordinal() for day in frozen_days}
    rest = {task_id: span for task_id, span in spans.items() if task_id not in plan}
    kept = set(plan.values()) | shifts
    new = cheapest_days(rest.values(), _unless_open(opening_cost, kept))
    plan |= assign(rest, sorted(kept | set(new)))
    frozen = shifts | {today.toordinal(), today.toordinal() + 1}
    while _close_one_round(
        plan,
        spans,
        seen=seen,
        opening_cost=opening_cost,
        frozen=frozen,
        shifts=shifts,
    ):
        pass
    return _to_dates(plan)


def plan_cost(
    windows: Iterable[Window],
    plan: Mapping[str, date],
    *,
    today: date,
    opening_cost: OpeningCost = EVERY_DAY_USABLE,
) -> int:
    """Return what a plan costs: its rounds and the days off the due days.

    Raises
    ------
    ValueError
        A task has no day or one outside its window.
    """
    total = sum(_opening(opening_cost, day) for day in set(plan.values()))
    for task_id, span in spans_of(windows, today).items():
        day = plan.get(task_id)
        if day is None or span.cost(day.toordinal()) == NEVER:
            message = f"{task_id}: {day} is outside its window"
            raise ValueError(message)
        total += span.cost(day.toordinal())
    return total


def round_minutes(
    windows: Iterable[Window], plan: Mapping[str, date]
) -> dict[date, int]:
    """Return the working time of each round [min], sorted by day.

    Single tasks are typical (median) times, and the sum of medians of skewed times
    is too short by 8 % on average (log-normal with a spread of 0.4:
    ``exp(0.4**2 / 2) = 1.083``).
    """
    sums: dict[date, int] = defaultdict(int)
    for window in windows:
        sums[plan[window.task_id]] += window.minutes
    return {day: -(-sums[day] * 108 // 100) for day in sorted(sums)}


def spans_of(windows: Iterable[Window], today: date) -> dict[str, Span]:
    """Clamp the windows to ``today`` and sort them by task id.

    Raises
    ------
    ValueError
        A task id appears twice, or a cost is negative.
    """
    spans: dict[str, Span] = {}
    for window in sorted(windows, key=lambda window: window.task_id):
        if window.task_id in spans:
            message = f"two windows for task {window.task_id}"
            raise ValueError(message)
        if min(window.early_cost, window.late_cost) < 0:
            message = f"{window.task_id}: a cost below zero"
            raise ValueError(message)
        cut = clamp(window, today)
        spans[window.task_id] = Span(
            cut.earliest.toordinal(),
            cut.due.toordinal(),
            cut.latest.toordinal(),
            cut.early_cost,
            cut.late_cost,
        )
    return spans


def _opening(opening_cost: OpeningCost, day: date) -> int:
    cost = opening_cost(day)
    if cost < 0:
        message = f"{day}: opening a round costs {cost}, below zero"
        raise ValueError(message)
    return cost


def _unless_open(
    opening_cost: OpeningCost, open_days: Collection[int]
) -> Callable[[int], int]:
    """Return the cost of a round by day number; joining an open one is free."""

    def cost(day: int) -> int:
        return 0 if day in open_days else _opening(opening_cost, date.fromordinal(day))

    return cost


def _to_dates(plan: Mapping[str, int]) -> dict[str, date]:
    return {task_id: date.fromordinal(plan[task_id]) for task_id in sorted(plan)}


def _close_one_round(
    plan: dict[str, int],
    spans: Mapping[str, Span],
    *,
    seen: Mapping[str, int],
    opening_cost: OpeningCost,
    frozen: Collection[int],
    shifts: Collection[int],
) -> bool:
    """Close the smallest round that is not worth a walk; say whether there was one.

    Changes ``plan`` in place.
    """
    members: dict[int, list[str]] = defaultdict(list)
    for task_id, day in plan.items():
        members[day].append(task_id)
    for day in sorted(members, key=lambda day: (len(members[day]), day)):
        if day in frozen:
            continue
        others = sorted((set(members) | set(shifts)) - {day})
        moves = _moves_that_pay(
            day,
            members[day],
            others,
            spans=spans,
            seen=seen,
            opening_cost=opening_cost,
        )
        if moves:
            plan |= moves
            return True
    return False


def _moves_that_pay(
    day: int,
    task_ids: Sequence[str],
    others: Sequence[int],
    *,
    spans: Mapping[str, Span],
    seen: Mapping[str, int],
    opening_cost: OpeningCost,
) -> dict[str, int]:
    """Return where a round's tasks would go if closing it pays, else nothing."""
    if not others:
        return {}
    moves = assign({task_id: spans[task_id] for task_id in task_ids}, others)
    extra = sum(
        spans[task_id].cost(new) - spans[task_id].cost(day)
        for task_id, new in moves.items()
    )
    saving = _opening(opening_cost, date.fromordinal(day)) - extra
    unsettled = sum(seen.get(task_id) == day for task_id in task_ids)
    return moves if saving > 0 and saving >= MOVE_COST * unsettled else {}
