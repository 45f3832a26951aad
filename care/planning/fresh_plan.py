"""What a fresh plan of a site's walks would save, and which tasks it would move."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from care.models import Task
from care.planning.assemble_rounds import REACH_DAYS, round_window, tasks_of_rounds
from care.planning.available_days import costs_ahead, shift_days
from care.scheduling.fresh_rounds import fresh_rounds
from orchard.models import Site, Tree

WINDOW_FIELDS = (
    "public_id",
    "earliest",
    "due",
    "latest",
    "effort_minutes",
    "is_firm",
    "is_urgent",
)


@dataclass(frozen=True, slots=True)
class Move:
    """One task and where it would go; its tree and block are at hand."""

    task: Task
    old: date
    new: date


@dataclass(frozen=True, slots=True)
class FreshPlan:
    """A fresh plan that is worth its moves, in the order of the days."""

    walks_saved: int
    moves: tuple[Move, ...]


def find_fresh_plan(site: Site, today: date) -> FreshPlan | None:
    """Return a fresh plan if it is worth its moves; in at most six queries.

    Only what rounds are planned by is read, until there is something to show.

    Plan the site first (:func:`care.planning.plan_site.ensure_planned`).
    """
    rows = (
        Task.objects.filter(
            site=site,
            status=Task.Status.OPEN,
            round__isnull=False,
            tree__status=Tree.Status.ALIVE,
        )
        .select_related("round")
        .only(*WINDOW_FIELDS, "round__day")
    )
    tasks = tasks_of_rounds(rows, today)
    fresh = fresh_rounds(
        [round_window(task_id, task) for task_id, task in tasks.items()],
        {task_id: task.round.day for task_id, task in tasks.items() if task.round},
        today=today,
        opening_cost=costs_ahead(site, today, REACH_DAYS),
        frozen_days=shift_days(site, today),
    )
    if fresh is None:
        return None
    moved = {
        str(task.public_id): task for task in _whole(tasks[pk] for pk in fresh.moves)
    }
    moves = [Move(moved[task_id], *days) for task_id, days in fresh.moves.items()]
    return FreshPlan(
        walks_saved=fresh.days_saved,
        moves=tuple(sorted(moves, key=lambda move: (move.old, move.new, move.task.pk))),
    )


def _whole(tasks: Iterable[Task]) -> QuerySet[Task]:
    return Task.objects.filter(pk__in=[task.pk for task in tasks]).select_related(
        "tree__block"
    )
