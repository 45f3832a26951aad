"""How long a walk takes, in words, rounded as people plan."""

from collections.abc import Iterable
from datetime import datetime
from zoneinfo import ZoneInfo

from care.models import Task
from care.planning.fresh_plan import FreshPlan
from care.planning.learned_minutes import WalkTime
from orchard.models import Site

STEP = 5  # minutes; nobody plans a walk to the minute
HOURS_FROM = 120


def minutes_words(minutes: float) -> str:
    """Return ``1 minute``, ``35 minutes``, or ``2 h 20 min`` from two hours on."""
    whole = round(minutes)
    if whole >= HOURS_FROM:
        hours, left = divmod(whole, 60)
        return f"{hours} h {left} min" if left else f"{hours} h"
    return "1 minute" if whole == 1 else f"{whole} minutes"


def about(minutes: float) -> str:
    """Return ``about 35 minutes``, to five minutes; never none."""
    return f"about {minutes_words(_to_step(minutes))}"


def work_words(time: WalkTime) -> str:
    """Return how much work a walk is; nothing where there is none.

    ``About 35 minutes of work; 20 to 45 usually`` once times were logged and the two ends
    are apart.
    """
    if not time.minutes:
        return ""
    said = f"{about(time.minutes)} of work".capitalize()
    if time.usual is None:
        return f"{said}."
    low, high = map(_to_step, time.usual)
    if low == high:
        return f"{said}."
    if high >= HOURS_FROM:
        return f"{said}; {minutes_words(low)} to {minutes_words(high)} usually."
    return f"{said}; {low}\N{EN DASH}{high} usually."


def began_words(tasks: Iterable[Task], site: Site) -> str:
    """Return when the walk of tasks began, by the clock of the place; nothing before."""
    begun = [
        task.round.begun_at
        for task in tasks
        if task.round is not None and task.round.begun_at is not None
    ]
    if not begun:
        return ""
    local: datetime = min(begun).astimezone(ZoneInfo(site.time_zone))
    return f"It began at {local.hour}:{local:%M}."


def _to_step(minutes: float) -> int:
    return max(STEP * round(minutes / STEP), STEP)


def count_tasks(number: int) -> str:
    """Return ``1 task`` or ``9 tasks``."""
    return "1 task" if number == 1 else f"{number} tasks"


def fresh_words(found: FreshPlan | None) -> str:
    """Return what a fresh plan would do; nothing where none is worth it."""
    if found is None:
        return ""
    saved = found.walks_saved
    does = "puts walks on better days"
    if saved > 0:
        does = "saves 1 walk" if saved == 1 else f"saves {saved} walks"
    return f"A fresh plan {does} and moves {count_tasks(len(found.moves))}."
