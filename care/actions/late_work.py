"""Work that was done before anybody there could know that the plan asks no more."""

from datetime import date, datetime

from django.db import transaction

from care.actions.same_job import lock_trees
from care.actions.tasks import complete_task, nitrogen_g, unit_of
from care.actions.tree_changes import write_work
from care.models import LogEntry, Task
from orchard.actions.places import lock_site, raise_revision
from orchard.models import Person

#: What the plan may have made of a task meanwhile: withdrawn it, or put it off.
NOT_ASKED = (Task.Status.WITHDRAWN, Task.Status.OPEN)


@transaction.atomic
def log_late_work(
    *,
    task: Task,
    person: Person | None,
    on: date,
    now: datetime,
    amount: float | None = None,
    note: str = "",
    minutes: float | None = None,
) -> LogEntry:
    """Write that a task was done which the plan had withdrawn or put off meanwhile.

    The work happened, so it stands in the log like any other and the plan reckons with
    it. The task is closed by it; taken back, it is open again until the plan has looked.
    """
    lock_trees([task.tree_id])
    lock_site(task.site_id)
    waiting = Task.objects.filter(pk=task.pk, status__in=NOT_ASKED)
    if not waiting.update(status=Task.Status.DONE):
        # Another phone brought the same a moment ago: one entry, which names both.
        return complete_task(task=task, person=person, on=on, now=now).entry
    task.status = Task.Status.DONE
    given = task.amount if amount is None else amount
    entry = LogEntry.objects.create(
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
        nitrogen_g=nitrogen_g(task.site, task.kind, given),
        minutes_spent=minutes,
        note=note,
        before=write_work(task, given, on),
    )
    raise_revision(task.site)
    return entry
