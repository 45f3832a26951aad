"""Work that was done before anybody there could know that the plan asks no more."""

from datetime import date, datetime

from django.db import transaction

from care.actions.done_entry import log_done
from care.actions.same_job import lock_trees
from care.actions.tasks import complete_task
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
    entry = log_done(
        task=task,
        person=person,
        on=on,
        now=now,
        amount=amount,
        note=note,
        minutes=minutes,
    )
    raise_revision(task.site)
    return entry
