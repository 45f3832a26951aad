"""The work of shifts: which tasks, in what order, how long, what may hurt, what waits."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from math import ceil
from typing import TypeVar

from django.db.models import Q

from care.facts import Hold, HoldCause
from care.models import LogEntry, Shift, Task
from care.planning.learned_minutes import GUESSES, LearnedMinutes, learn_minutes
from care.planning.walk_order import ladder_trees, ordered_trees
from orchard.models import Corner, Tree

Row = TypeVar("Row", Task, LogEntry)

# For so long after a spray no work that touches the tree is for learners or people under
# 18: the longest of the intervals that 40 CFR 156.208(c) has a label carry for want of a
# longer one of its own (12, 24 or 48 hours by how toxic it is). From memory.
SPRAYED_LATELY = timedelta(days=2)
LADDER_CAUTIONS = frozenset({"ladder", "call_professional"})
SAW_CAUTIONS = frozenset({"saw", "call_professional"})


class Hazard(StrEnum):
    """What keeps people under 18 from a shift, and asks for a skill."""

    LADDER = "ladder"
    SAW = "saw"
    SPRAY = "spray"


@dataclass(frozen=True, slots=True)
class HeldTree:
    """A tree whose fruit may not be picked yet."""

    tree: Tree
    hold: Hold


@dataclass(frozen=True, slots=True)
class ShiftWork:
    """What there is to do on a shift.

    ``tasks`` come in walking order, each with its tree, block and round at hand.
    ``hazards`` are those of the tasks; a coordinator may have said more by hand, for
    which see :func:`is_hazardous`. ``held`` are all trees of the shift's block, or of
    its site, that are held on its day, whether there is work for them or not.
    """

    tasks: tuple[Task, ...] = ()
    minutes: int = 0
    hazards: frozenset[Hazard] = frozenset()
    held: tuple[HeldTree, ...] = ()


NO_WORK = ShiftWork()


@dataclass(frozen=True, slots=True)
class _AtSite:
    """What the work of one site's shifts is read from."""

    tasks: Sequence[Task]
    logged: Sequence[LogEntry]
    corners: Sequence[Corner]
    learned: LearnedMinutes
    today: date


def work_of(shifts: Iterable[Shift], today: date) -> dict[int, ShiftWork]:
    """Return the work of shifts by their ids, in at most five queries however many there are.

    A task belongs to a shift on the day of its round; one of today also takes what is
    overdue or urgent, as the round does. Work of past shifts is in the log and not here.
    Plan their sites first (:func:`care.planning.plan_site.ensure_planned`).
    """
    shifts = list(shifts)
    ahead = [shift for shift in shifts if shift.day >= today]
    tasks = _by_site(_open_tasks(ahead, today))
    logged = _by_site(_sprays_and_manure(ahead))
    corners, learned = _corners(tasks), learn_minutes(list(tasks), today)
    at = {
        pk: _AtSite(tasks[pk], logged[pk], corners[pk], learned.get(pk, GUESSES), today)
        for pk in {shift.site_id for shift in ahead}
    }
    return {
        shift.pk: _work(shift, at[shift.site_id]) if shift.day >= today else NO_WORK
        for shift in shifts
    }


def is_hazardous(shift: Shift, work: ShiftWork) -> bool:
    """Whether a ladder, a saw or a spray is part of a shift, found or said by hand."""
    return shift.is_hazardous or bool(work.hazards)


def day_of(task: Task, today: date) -> date:
    """Return the day on which an open task is to be done: never one gone by."""
    if task.is_urgent or task.latest < today:
        return max(today, task.not_before or today)
    chosen = task.round.day if task.round else task.due
    return max(chosen, today, task.not_before or today)


def in_walking_order(
    shift: Shift, tasks: Iterable[Task], corners: Sequence[Corner]
) -> list[Task]:
    """Return a shift's tasks in walking order; frozen once the shift began.

    ``corners`` are those of its site. Trees that joined later come last.
    """
    tasks = list(tasks)
    trees = {task.tree_id: task.tree for task in tasks}
    walk = ordered_trees(trees.values(), corners, ladder_trees(tasks))
    began = {tree_id: place for place, tree_id in enumerate(shift.order)}
    place = {
        tree.pk: (began.get(tree.pk, len(began)), number)
        for number, tree in enumerate(walk)
    }
    return sorted(tasks, key=lambda task: (place[task.tree_id], task.due, task.pk))


def hazards_of(task: Task) -> frozenset[Hazard]:
    """Return which hazards a task brings, from its cautions and what it is.

    Power saws, ladders above 20 ft and the more toxic sprays are closed to farm workers
    under 16 (29 CFR 570.71(a)(3)(iv), (6) and, from memory, (9)); here every ladder, saw
    and spray is, and to everybody under 18. Tall trees are work for a professional.
    """
    cautions = frozenset(task.cautions)
    found = {
        Hazard.LADDER: bool(cautions & LADDER_CAUTIONS),
        Hazard.SAW: bool(cautions & SAW_CAUTIONS),
        Hazard.SPRAY: "spray" in (task.kind, task.action),
    }
    return frozenset(hazard for hazard, applies in found.items() if applies)


def minutes_of(
    tasks: Sequence[Task], day: date, learned: LearnedMinutes = GUESSES
) -> int:
    """Return how long a walk's tasks take one person together [min].

    ``day`` is the walk's; without logged times the guesses of the rules count.
    """
    del day  # times do not yet differ by season
    return ceil(round(learned.walk(tasks).minutes, 6))


def belongs(shift: Shift, task: Task) -> bool:
    """Whether a shift's block and kinds of work include a task."""
    return (shift.block_id is None or task.tree.block_id == shift.block_id) and (
        not shift.kinds or task.kind in shift.kinds
    )


def _open_tasks(shifts: Sequence[Shift], today: date) -> list[Task]:
    last = max((shift.day for shift in shifts), default=today)
    rows = Task.objects.filter(
        Q(round__day__lte=last)
        | Q(round=None, due__lte=last)
        | Q(latest__lt=today)
        | Q(is_urgent=True),
        site__in={shift.site_id for shift in shifts},
        status=Task.Status.OPEN,
        is_firm=True,
        tree__status=Tree.Status.ALIVE,
    )
    return list(rows.select_related("tree__block", "round"))


def _sprays_and_manure(shifts: Sequence[Shift]) -> list[LogEntry]:
    """Return what was sprayed lately, and all that still holds fruit."""
    first = min((shift.day for shift in shifts), default=date.max)
    lately = first - SPRAYED_LATELY
    rows = LogEntry.objects.filter(
        Q(held_until__gte=first) | Q(kind=HoldCause.SPRAY, on__gte=lately),
        site__in={shift.site_id for shift in shifts},
        tree__status=Tree.Status.ALIVE,
        voided_at=None,
    )
    return list(rows.select_related("tree__block").order_by("tree__name", "on", "id"))


def _by_site(rows: Iterable[Row]) -> dict[int, list[Row]]:
    sites: dict[int, list[Row]] = defaultdict(list)
    for row in rows:
        sites[row.site_id].append(row)
    return sites


def _corners(tasks: Mapping[int, Iterable[Task]]) -> dict[int, list[Corner]]:
    """Return the corners of each site, if a tree of any of them is placed."""
    corners: dict[int, list[Corner]] = defaultdict(list)
    placed = {
        site
        for site, rows in tasks.items()
        if any(task.tree.x_m is not None for task in rows)
    }
    if placed:
        for corner in Corner.objects.filter(site__in=placed).order_by("pk"):
            corners[corner.site_id].append(corner)
    return corners


def _work(shift: Shift, at: _AtSite) -> ShiftWork:
    mine = [
        task
        for task in at.tasks
        if day_of(task, at.today) == shift.day and belongs(shift, task)
    ]
    ordered = in_walking_order(shift, mine, at.corners)
    hazards = frozenset().union(*(hazards_of(task) for task in ordered))
    if _is_sprayed(shift, ordered, at.logged):
        hazards |= {Hazard.SPRAY}
    return ShiftWork(
        tasks=tuple(ordered),
        minutes=minutes_of(ordered, shift.day, at.learned),
        hazards=hazards,
        held=_held(shift, at.logged),
    )


def _is_sprayed(
    shift: Shift, tasks: Iterable[Task], logged: Iterable[LogEntry]
) -> bool:
    """Whether a tree that the shift works at was sprayed lately."""
    lately = {
        entry.tree_id
        for entry in logged
        if entry.kind == HoldCause.SPRAY
        and shift.day - SPRAYED_LATELY <= entry.on <= shift.day
    }
    return any(task.tree_id in lately for task in tasks)


def _held(shift: Shift, logged: Iterable[LogEntry]) -> tuple[HeldTree, ...]:
    """Return the trees held on a shift's day, once each, the longest wait of each."""
    longest: dict[int, HeldTree] = {}
    for entry in logged:
        tree, until = entry.tree, entry.held_until
        if tree is None or until is None or until < shift.day:
            continue
        if shift.block_id is not None and tree.block_id != shift.block_id:
            continue
        known = longest.get(tree.pk)
        if known is None or known.hold.until < until:
            hold = Hold(tree.pk, HoldCause(entry.kind), entry.on, until, entry.product)
            longest[tree.pk] = HeldTree(tree, hold)
    return tuple(longest.values())
