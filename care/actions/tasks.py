"""What a person does with a task: done, skipped, later, taken back."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction

from care.actions.tree_changes import take_off_tree, write_work
from care.models import LogEntry, Task
from orchard.actions.places import raise_revision
from orchard.actions.trees import put_pot, revive_tree
from orchard.models import Person, Site, Stay, Tree

#: Work that plans no amount but measures one -> its unit: hours a test hole drained in.
MEASURED = {("planting", "drainage"): "h"}
MOVES = {"move_in": Stay.Place.INDOORS_UNHEATED, "move_out": Stay.Place.OUTDOORS}


@dataclass(frozen=True, slots=True)
class Outcome:
    """The log entry behind a task, and whether this call wrote it."""

    entry: LogEntry
    is_new: bool


def _nitrogen_g(site: Site, kind: str, amount: float | None) -> float | None:
    if kind != "feeding" or amount is None:
        return None
    return amount * site.feed_nitrogen_percent / 100


def unit_of(task: Task) -> str:
    """Return the unit of what is given or measured when a task is done."""
    return task.unit or MEASURED.get((task.kind, task.action), "")


def close_task(task: Task, status: str) -> bool:
    """Close an open firm task; of two people at once exactly one succeeds."""
    changed = Task.objects.filter(
        pk=task.pk, status=Task.Status.OPEN, is_firm=True
    ).update(status=status)
    if changed:
        task.status = status
    return bool(changed)


def _latest_entry(task: Task) -> LogEntry:
    return LogEntry.objects.filter(task=task, voided_at=None).latest("recorded_at")


class NotOpenError(Exception):
    """The task cannot be ticked: withdrawn by the plan, or only a projection."""


@transaction.atomic
def complete_task(
    *,
    task: Task,
    person: Person | None,
    on: date,
    now: datetime,
    amount: float | None = None,
    note: str = "",
    entry_id: uuid.UUID | None = None,
) -> Outcome:
    """Tick a task; a second person's tick returns the first one's entry.

    ``amount`` is in the task's SI unit; the planned amount counts where it is None.

    Raises
    ------
    NotOpenError
        The plan has withdrawn the task, or it is only a projection.
    """
    if not close_task(task, Task.Status.DONE):
        return _already(task)
    given = task.amount if amount is None else amount
    entry = LogEntry.objects.create(
        public_id=entry_id or uuid.uuid4(),
        site_id=task.site_id,
        tree_id=task.tree_id,
        task=task,
        person=person,
        what=LogEntry.What.DONE,
        kind=task.kind,
        key=task.key,
        action=task.action,
        on=on,
        recorded_at=now,
        amount=given,
        unit=unit_of(task),
        nitrogen_g=_nitrogen_g(task.site, task.kind, given),
        note=note,
        before=write_work(task, given, on),
    )
    if task.action in MOVES and task.tree.in_container:
        put_pot(tree=task.tree, place=MOVES[task.action], since=on)
    raise_revision(task.site)
    return Outcome(entry, is_new=True)


def _already(task: Task) -> Outcome:
    task.refresh_from_db(fields=["status", "is_firm"])
    if task.status not in (Task.Status.DONE, Task.Status.SKIPPED):
        message = "The plan no longer asks for this."
        raise NotOpenError(message)
    return Outcome(_latest_entry(task), is_new=False)


@transaction.atomic
def complete_tasks(
    *, tasks: Iterable[Task], person: Person | None, on: date, now: datetime
) -> list[LogEntry]:
    """Tick many tasks at their planned amounts; those already closed are left."""
    entries = []
    for task in tasks:
        if task.status == Task.Status.OPEN and task.is_firm:
            outcome = complete_task(task=task, person=person, on=on, now=now)
            if outcome.is_new:
                entries.append(outcome.entry)
    return entries


@transaction.atomic
def skip_task(
    *,
    task: Task,
    person: Person | None,
    on: date,
    now: datetime,
    reason: str,
    note: str = "",
) -> Outcome:
    """Close a task undone, with a reason the plan can learn from.

    Raises
    ------
    NotOpenError
        The plan has withdrawn the task, or it is only a projection.
    """
    if not close_task(task, Task.Status.SKIPPED):
        return _already(task)
    entry = LogEntry.objects.create(
        site_id=task.site_id,
        tree_id=task.tree_id,
        task=task,
        person=person,
        what=LogEntry.What.SKIPPED,
        kind=task.kind,
        key=task.key,
        action=task.action,
        on=on,
        recorded_at=now,
        reason=reason,
        note=note,
    )
    raise_revision(task.site)
    return Outcome(entry, is_new=True)


@transaction.atomic
def postpone_task(*, task: Task, until: date) -> None:
    """Hold an open task back until a day; the plan keeps to it."""
    task.not_before = until
    task.save(update_fields=["not_before"])
    raise_revision(task.site)


@transaction.atomic
def take_back(*, entry: LogEntry, person: Person | None, now: datetime) -> bool:
    """Void a log entry and open its task again; whether this call did it.

    The row stays with who took it back and when. What the entry did to a tree is taken
    back with it: a pot stands where it stood, a lost tree is alive again, a planted
    one is planned, a pot is as large as it was.
    """
    voided = LogEntry.objects.filter(pk=entry.pk, voided_at=None).update(
        voided_at=now, voided_by=person
    )
    if not voided:
        return False
    entry.voided_at = now
    task = entry.task
    if task is not None and task.status in (Task.Status.DONE, Task.Status.SKIPPED):
        _reopen(task)
    if entry.action in MOVES and entry.tree is not None:
        Stay.objects.filter(
            tree=entry.tree, since=entry.on, place=MOVES[entry.action]
        ).delete()
    take_off_tree(entry)
    if entry.what == LogEntry.What.LOST and entry.tree is not None:
        revive_tree(tree=entry.tree)
    raise_revision(entry.site)
    return True


def _reopen(task: Task) -> None:
    """Open a closed task again in place of what the plan made since."""
    followers = Task.objects.filter(
        tree_id=task.tree_id,
        kind=task.kind,
        key=task.key,
        status__in=[Task.Status.OPEN, Task.Status.WITHDRAWN],
    )
    if followers.filter(log__isnull=False).exists():
        return  # a person has since acted on the follower: it stays the open one
    followers.delete()
    task.status = Task.Status.OPEN
    task.save(update_fields=["status"])


@transaction.atomic
def water_all(
    *,
    site: Site,
    trees: Iterable[Tree],
    litres: float,
    person: Person | None,
    on: date,
    now: datetime,
    note: str = "",
) -> list[LogEntry]:
    """Log that every one of ``trees`` got about ``litres`` on a day.

    An open watering task whose window had begun is ticked by it; elsewhere the water
    is logged by itself and the balance decides what is still needed.
    """
    waiting = {
        task.tree_id: task
        for task in Task.objects.filter(
            site=site,
            kind="watering",
            key="next",
            status=Task.Status.OPEN,
            is_firm=True,
            earliest__lte=on,
        ).select_related("tree", "site")
    }
    entries = []
    for tree in trees:
        task = waiting.get(tree.pk)
        if task is not None:
            outcome = complete_task(
                task=task, person=person, on=on, now=now, amount=litres, note=note
            )
            entries.append(outcome.entry)
            continue
        entries.append(
            LogEntry.objects.create(
                site=site,
                tree=tree,
                person=person,
                what=LogEntry.What.DONE,
                kind="watering",
                action="water",
                on=on,
                recorded_at=now,
                amount=litres,
                unit="L",
                note=note,
            )
        )
    raise_revision(site)
    return entries
