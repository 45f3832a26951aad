"""How long a walk takes, in words, rounded as people plan."""

from collections.abc import Iterable
from datetime import datetime
from zoneinfo import ZoneInfo

from django.utils.translation import gettext, ngettext

from care.models import Task
from care.planning.fresh_plan import FreshPlan
from care.planning.learned_minutes import WalkTime
from care.views.days import DASH
from orchard.languages import clock
from orchard.models import Site

STEP = 5  # minutes; nobody plans a walk to the minute
HOURS_FROM = 120


def minutes_words(minutes: float) -> str:
    """Return ``1 minute``, ``35 minutes``, or ``2 h 20 min`` from two hours on."""
    whole = round(minutes)
    if whole >= HOURS_FROM:
        hours, left = divmod(whole, 60)
        return (
            gettext("{hours} h {left} min").format(hours=hours, left=left)
            if left
            else f"{hours} h"
        )
    return ngettext("{number} minute", "{number} minutes", whole).format(number=whole)


def about(minutes: float) -> str:
    """Return ``about 35 minutes``, to five minutes; never none."""
    return gettext("about {minutes}").format(minutes=minutes_words(_to_step(minutes)))


def work_words(time: WalkTime) -> str:
    """Return how much work a walk is; nothing where there is none.

    ``About 35 minutes of work; 20 to 45 usually`` once times were logged and the two ends
    are apart.
    """
    if not time.minutes:
        return ""
    said = gettext("{about} of work").format(about=about(time.minutes))
    said = said[:1].upper() + said[1:]
    if time.usual is None:
        return f"{said}."
    low, high = map(_to_step, time.usual)
    if low == high:
        return f"{said}."
    if high >= HOURS_FROM:
        return gettext("{said}; {low} to {high} usually.").format(
            said=said, low=minutes_words(low), high=minutes_words(high)
        )
    return gettext("{said}; {span} usually.").format(
        said=said, span=f"{low}{DASH}{high}"
    )


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
    return gettext("It began at {time}.").format(time=clock(local))


def _to_step(minutes: float) -> int:
    return max(STEP * round(minutes / STEP), STEP)


def count_tasks(number: int) -> str:
    """Return ``1 task`` or ``9 tasks``."""
    return ngettext("{number} task", "{number} tasks", number).format(number=number)


def fresh_words(found: FreshPlan | None) -> str:
    """Return what a fresh plan would do; nothing where none is worth it."""
    if found is None:
        return ""
    saved = found.walks_saved
    tasks = count_tasks(len(found.moves))
    if saved <= 0:
        return gettext(
            "A fresh plan puts walks on better days and moves {tasks}."
        ).format(tasks=tasks)
    return ngettext(
        "A fresh plan saves {saved} walk and moves {tasks}.",
        "A fresh plan saves {saved} walks and moves {tasks}.",
        saved,
    ).format(saved=saved, tasks=tasks)
