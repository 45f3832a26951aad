"""What work waits for rain that is coming, and until when."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.translation import ngettext

from care.models import Task
from care.views.days import when_day
from care.views.task_lines import chosen_day
from care.views.wording import reason_of
from orchard.models import Site, Tree

LEAST_RAIN_MM = 3.0  # less than this puts nothing off; ours
WAITED_DAYS = 1  # work of today and tomorrow is what people look for


@dataclass(frozen=True, slots=True)
class Waits:
    """How many trees' watering and feeding wait, each until its first day."""

    waterings: int = 0
    watered_on: date | None = None
    feedings: int = 0
    fed_on: date | None = None


def waiting_tasks(site: Site) -> list[Task]:
    """Return the waterings and feedings of a site that may wait for rain."""
    return list(
        Task.objects.filter(
            site=site,
            status=Task.Status.OPEN,
            tree__status=Tree.Status.ALIVE,
            action__in=("water", "feed"),
        ).select_related("round")
    )


def rain_waits(tasks: Iterable[Task], today: date, rain: Mapping[date, float]) -> Waits:
    """Return what rain puts off.

    Parameters
    ----------
    tasks : iterable of Task
        Open waterings and feedings.
    rain : mapping of date to float
        Forecast rain from today on [mm].
    """
    water, feed = [], []
    for task in tasks:
        if task.action == "feed" and reason_of(task).text("postponed_by") == "rain":
            feed.append(chosen_day(task))
        elif task.action == "water" and _waits_for_rain(task, today, rain):
            water.append(chosen_day(task))
    return Waits(
        len(water), min(water, default=None), len(feed), min(feed, default=None)
    )


def _waits_for_rain(task: Task, today: date, rain: Mapping[date, float]) -> bool:
    """Whether a watering would be due by now but for the rain forecast.

    From what the plan noted: how much is missing, from where on it is due, and a
    day's use. A watering put off by other work waits for that.
    """
    reason = reason_of(task)
    if reason.day("rain_wait_on") is not None:
        return True
    missing, limit = reason.number("missing_l"), reason.number("threshold_l")
    use = reason.number("litres_per_day")
    is_told = missing is not None and limit is not None and use is not None
    if not is_told or not use or reason.text("postponed_by"):
        return False
    dry_days = max(math.ceil((limit - missing) / use - 1e-6), 0)  # type: ignore[operator]  # told
    due_days = (task.due - today).days
    days = (today + timedelta(days=ahead) for ahead in range(dry_days + 1))
    fallen_mm = sum(rain.get(day, 0.0) for day in days)
    is_near = dry_days <= WAITED_DAYS and dry_days < due_days
    return is_near and fallen_mm >= LEAST_RAIN_MM


def waits_words(waits: Waits, today: date) -> str:
    """Return such as ``watering of 6 trees waits till Friday``; nothing if none does."""
    parts = []
    if waits.watered_on is not None:
        parts.append(_waters(waits.waterings, waits.watered_on, today))
    if waits.fed_on is not None:
        parts.append(_feeds(waits.feedings, waits.fed_on, today))
    return ", ".join(parts)


def _waters(number: int, day: date, today: date) -> str:
    words = ngettext(
        "watering of {number} tree waits till {day}",
        "watering of {number} trees waits till {day}",
        number,
    )
    return words.format(number=number, day=when_day(day, today))


def _feeds(number: int, day: date, today: date) -> str:
    words = ngettext(
        "feeding of {number} tree waits till {day}",
        "feeding of {number} trees waits till {day}",
        number,
    )
    return words.format(number=number, day=when_day(day, today))
