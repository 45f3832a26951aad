"""A fresh plan beside the one that people know: what it would save, what it would move.

Keeping first is a little dearer than planning afresh, more so as the weeks go by. A
fresh plan is worth showing when it saves far more than its moves upset, and is never
taken but by a person.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from care.scheduling.cheapest_days import NEVER
from care.scheduling.rounds import (
    EVERY_DAY_USABLE,
    OpeningCost,
    Window,
    clamp,
    keep_first,
    plan_cost,
    plan_rounds,
    spans_of,
)

# What a move must save, on the scale on which opening a round costs 100; ours.
WORTH_A_MOVE = 20
# A day that is used already opens at four fifths, so that equal plans stay.
USED_DAY_SHARE = (4, 5)


@dataclass(frozen=True, slots=True)
class FreshRounds:
    """A plan, what it moves (old and new day by task) and saves (cost, days out)."""

    plan: dict[str, date]
    moves: dict[str, tuple[date, date]]
    saving: int
    days_saved: int


def fresh_rounds(
    windows: Iterable[Window],
    current: Mapping[str, date],
    *,
    today: date,
    opening_cost: OpeningCost = EVERY_DAY_USABLE,
    frozen_days: Collection[date] = (),
) -> FreshRounds | None:
    """Return a fresh plan if it is worth its moves, else ``None``.

    Parameters
    ----------
    windows
        One a task; clamped to ``today`` first.
    current
        Task id to day, as planned now.
    today
        The site's day. What is planned for today and tomorrow stays.
    opening_cost
        Cost of a round on a day, zero or more.
    frozen_days
        Days with a published shift: what is planned for them stays, and joining them
        opens nothing.

    Notes
    -----
    The fresh plan is compared with what :func:`keep_first` makes of the current one,
    and counts as worth it if ``saving > 20 * moves``.

    Raises
    ------
    ValueError
        A task id appears twice, or a cost is negative.
    """
    windows = [clamp(window, today) for window in windows]
    shifts = frozenset(frozen_days)

    def cost(day: date) -> int:
        return 0 if day in shifts else opening_cost(day)

    kept = keep_first(
        windows,
        current,
        today=today,
        opening_cost=opening_cost,
        frozen_days=frozen_days,
    )
    settled = shifts | {today, today + timedelta(days=1)}
    plan = {task_id: day for task_id, day in kept.items() if day in settled}
    used = set(kept.values())
    more, parts = USED_DAY_SHARE

    def cheaper_if_used(day: date) -> int:
        return cost(day) * more // parts if day in used else cost(day)

    plan |= plan_rounds(
        [window for window in windows if window.task_id not in plan],
        today=today,
        opening_cost=cheaper_if_used,
        open_days=shifts | set(plan.values()),
    )
    _settle(plan, kept, windows, today)
    # So that the days that follow keep it as it is shown.
    plan = keep_first(
        windows,
        plan,
        today=today,
        opening_cost=opening_cost,
        frozen_days=frozen_days,
    )
    moves = {
        task_id: (old, plan[task_id])
        for task_id, old in sorted(kept.items())
        if plan[task_id] != old
    }
    saving = plan_cost(windows, kept, today=today, opening_cost=cost) - plan_cost(
        windows, plan, today=today, opening_cost=cost
    )
    if saving <= WORTH_A_MOVE * len(moves):
        return None
    days_saved = len(used) - len(set(plan.values()))
    return FreshRounds(plan, moves, saving, days_saved)


def _settle(
    plan: dict[str, date],
    kept: Mapping[str, date],
    windows: Iterable[Window],
    today: date,
) -> None:
    """Leave each task on its old day where that is open and moving saves too little."""
    used = set(plan.values())
    for task_id, span in spans_of(windows, today).items():
        old, new = kept[task_id].toordinal(), plan[task_id].toordinal()
        here = span.cost(old)
        is_open = kept[task_id] in used and here < NEVER
        if is_open and here - span.cost(new) <= WORTH_A_MOVE:
            plan[task_id] = kept[task_id]
