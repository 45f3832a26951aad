"""What a person does with a task: done, skipped, later, taken back."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from enum import Enum

from django.db import transaction

from care.actions.done_entry import log_done
from care.actions.photo_changes import take_back_photos_of
from care.actions.same_job import (
    Answer,
    Reply,
    SameJobError,
    decide,
    feedings_near,
    is_shared,
    join_entry,
    leave_entry,
    lock_trees,
)
from care.actions.tree_changes import MOVES, take_off_tree
from care.actions.walks import begin_with
from care.models import Helper, LogEntry, Task
from orchard.actions.places import lock_site, raise_revision
from orchard.actions.trees import revive_tree
from orchard.models import Person, Stay

#: What may be written in one go with a planting, and is taken back with it.
WITH_PLANTING = ("mulching", "watering", "feeding", "weeding")
DONE = LogEntry.What.DONE


@dataclass(frozen=True, slots=True)
class Outcome:
    """The log entry behind a task, and whether this call wrote it.

    ``is_joined`` tells that whoever called is now named beside who wrote it.
    """

    entry: LogEntry
    is_new: bool
    is_joined: bool = False


class Undone(Enum):
    """What undoing came to."""

    NOTHING = "nothing"
    SHARED = "shared"
    NAME = "name"
    ENTRY = "entry"


def close_task(task: Task, status: str, *, instead_of: str = Task.Status.OPEN) -> bool:
    """Close an open firm task; of two people at once exactly one succeeds."""
    lock_site(task.site_id)
    changed = Task.objects.filter(pk=task.pk, status=instead_of, is_firm=True).update(
        status=status
    )
    if changed:
        task.status = status
    return bool(changed)


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
    helper: Helper | None = None,
    reply: Reply | None = None,
    minutes: float | None = None,
) -> Outcome:
    """Tick a task; a second person's tick names them in the first one's entry.

    ``amount`` is in the task's SI unit; the planned amount counts where it is None.
    ``minutes`` is how long it took. The first tick of a round begins its walk.
    Doing beats skipping: a skip that stands is voided by what was done after all.
    ``reply`` is the answer where a feeding may be one that is written down already.

    Raises
    ------
    NotOpenError
        The plan has withdrawn the task, or it is only a projection.
    SameJobError
        The tree was fed lately and nobody said yet whether this is that feeding.
    """
    same = _same_feeding(task, on, reply)
    if same is not None:
        joined = join_entry(same, person, helper)
        return Outcome(same, is_new=False, is_joined=joined)
    # Nobody skips, or undoes a skip, between the two lines below.
    _lock(task.pk, task.site_id)
    is_skipped = False
    if not close_task(task, Task.Status.DONE):
        is_skipped = close_task(task, Task.Status.DONE, instead_of=Task.Status.SKIPPED)
        if not is_skipped:
            return _already(task, person, helper)
    entry = log_done(
        task=task,
        person=person,
        on=on,
        now=now,
        amount=amount,
        note=note,
        minutes=minutes,
        helper=helper,
        entry_id=entry_id,
    )
    if is_skipped:
        _overrule_skip(entry)
    begin_with(task, on=on, now=now)
    raise_revision(task.site)
    return Outcome(entry, is_new=True)


def _same_feeding(task: Task, on: date, reply: Reply | None) -> LogEntry | None:
    """Return the feeding that ticking ``task`` repeats, by the word of who ticks."""
    if (task.kind, task.action) != ("feeding", "feed"):
        return None
    lock_trees([task.tree_id])
    if Task.objects.filter(pk=task.pk, status=Task.Status.DONE).exists():
        return None  # ticked already: that is the entry to speak of
    near = feedings_near(task.tree_id, task.key, on)
    return near[0] if near and decide(near, reply) is Answer.SAME else None


def _overrule_skip(done: LogEntry) -> None:
    """Void the skip of a task that was done after all; it keeps its row."""
    LogEntry.objects.filter(
        task=done.task, what=LogEntry.What.SKIPPED, voided_at=None
    ).update(
        voided_at=done.recorded_at,
        voided_by=done.person,
        voided_by_helper=done.helper,
        replaced_by=done,
    )


def _lock(task_id: int, site_id: int) -> Task | None:
    """Let nobody else change a task until this transaction ends; ``None``: it is gone."""
    lock_site(site_id)
    return Task.objects.select_for_update().filter(pk=task_id).first()


def _already(
    task: Task, person: Person | None = None, helper: Helper | None = None
) -> Outcome:
    """Return the entry that closed a task; name who ticks it too, not who skips."""
    stored = _lock(task.pk, task.site_id)
    if stored is None or stored.status not in (Task.Status.DONE, Task.Status.SKIPPED):
        message = "The plan no longer asks for this."
        raise NotOpenError(message)
    task.status, task.is_firm = stored.status, stored.is_firm
    entry = LogEntry.objects.filter(task=task, voided_at=None).latest("recorded_at")
    joined = join_entry(entry, person, helper)
    return Outcome(entry, is_new=False, is_joined=joined)


@transaction.atomic
def complete_tasks(
    *, tasks: Iterable[Task], person: Person | None, on: date, now: datetime
) -> list[LogEntry]:
    """Tick many tasks at their planned amounts; those already closed are left.

    So is a feeding that may be one in the log already: that is asked one by one.
    """
    entries = []
    for task in tasks:
        if task.status == Task.Status.OPEN and task.is_firm:
            try:
                outcome = complete_task(task=task, person=person, on=on, now=now)
            except SameJobError:
                continue
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
    lock_site(task.site_id)
    task.not_before = until
    task.save(update_fields=["not_before"])
    raise_revision(task.site)


@transaction.atomic
def undo_entry(
    *,
    entry: LogEntry,
    person: Person | None,
    now: datetime,
    helper: Helper | None = None,
) -> Undone:
    """Undo what somebody did about an entry, and no more than that.

    Who is only named beside another's work takes their own name off it; the work
    stands. An entry that was taken back since it was seen stays as it is, and so does
    what was written in its place. A helper cannot take back what others did too.
    """
    if LogEntry.objects.filter(pk=entry.pk, voided_at=None).exists():
        if leave_entry(entry, person, helper):
            return Undone.NAME
        if helper is not None and is_shared(entry):
            return Undone.SHARED
    is_done = take_back(entry=entry, person=person, now=now, helper=helper)
    return Undone.ENTRY if is_done else Undone.NOTHING


@transaction.atomic
def take_back(
    *,
    entry: LogEntry,
    person: Person | None,
    now: datetime,
    helper: Helper | None = None,
) -> bool:
    """Void a log entry and open its task again; whether this call did it.

    The row stays with who took it back and when. What the entry did to a tree is taken
    back with it: a pot stands where it stood, a lost tree is alive again, a planted
    one is planned, a pot is as large as it was, and a skip it had overruled stands.
    """
    # The task first, as in ticking: two who lock in another order wait for ever.
    task = _lock(entry.task_id, entry.site_id) if entry.task_id else None
    voided = LogEntry.objects.filter(pk=entry.pk, voided_at=None).update(
        voided_at=now, voided_by=person, voided_by_helper=helper
    )
    if not voided:
        return False
    entry.voided_at = now
    if task is not None and task.status in (Task.Status.DONE, Task.Status.SKIPPED):
        _restore(task, entry)
    if entry.action in MOVES and entry.tree is not None and entry.before is None:
        # Written when entries did not yet keep where the pot stood before.
        Stay.objects.filter(
            tree=entry.tree, since=entry.on, place=MOVES[entry.action]
        ).delete()
    take_off_tree(entry)
    _void_answers(entry, person, helper)
    take_back_photos_of(entry)
    for companion in _written_with(entry):
        take_back(entry=companion, person=person, now=now, helper=helper)
    if entry.what == LogEntry.What.LOST and entry.tree is not None:
        revive_tree(tree=entry.tree)
    raise_revision(entry.site)
    return True


def _written_with(entry: LogEntry) -> Iterable[LogEntry]:
    """Return the mulch, guard, water and feed written with a planting in one go."""
    if (entry.what, entry.kind, entry.action) != (DONE, "planting", "plant"):
        return ()
    return LogEntry.objects.filter(
        tree=entry.tree_id,
        recorded_at=entry.recorded_at,
        what=DONE,
        kind__in=WITH_PLANTING,
        voided_at=None,
    ).select_related("task", "tree", "site")


def _void_answers(
    entry: LogEntry, person: Person | None, helper: Helper | None
) -> None:
    """Void what was said of water below a pot in the same moment as its watering."""
    if (entry.what, entry.kind) != (LogEntry.What.DONE, "watering"):
        return
    LogEntry.objects.filter(
        tree=entry.tree_id,
        person=entry.person_id,
        recorded_at=entry.recorded_at,
        kind__in=["drained_after_l", "not_drained_l"],
        voided_at=None,
    ).update(voided_at=entry.voided_at, voided_by=person, voided_by_helper=helper)


def _restore(task: Task, entry: LogEntry) -> None:
    """Put a task back to what it was before an entry closed it."""
    skips = LogEntry.objects.filter(task=task, replaced_by=entry).update(
        voided_at=None, voided_by=None, voided_by_helper=None, replaced_by=None
    )
    if not skips:
        _reopen(task)
        return
    task.status = Task.Status.SKIPPED
    task.save(update_fields=["status"])


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
