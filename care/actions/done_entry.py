"""The log entry of a task that was done: one way to write it."""

import uuid
from datetime import date, datetime

from care.actions.tree_changes import write_work
from care.models import Helper, LogEntry, Task
from orchard.models import Person, Site

#: Work that plans no amount but measures one -> its unit: hours a test hole drained in.
MEASURED = {("planting", "drainage"): "h"}


def _nitrogen_g(site: Site, kind: str, amount: float | None) -> float | None:
    """Return the nitrogen [g] in what was fed [g of product]; ``None`` for other work."""
    if kind != "feeding" or amount is None:
        return None
    return amount * site.feed_nitrogen_percent / 100


def unit_of(task: Task) -> str:
    """Return the unit of what is given or measured when a task is done."""
    return task.unit or MEASURED.get((task.kind, task.action), "")


def log_done(
    *,
    task: Task,
    person: Person | None,
    on: date,
    now: datetime,
    amount: float | None,
    note: str,
    minutes: float | None,
    helper: Helper | None = None,
    entry_id: uuid.UUID | None = None,
) -> LogEntry:
    """Write the entry of a task whose closing this transaction has won."""
    given = task.amount if amount is None else amount
    return LogEntry.objects.create(
        public_id=entry_id or uuid.uuid4(),
        site_id=task.site_id,
        tree_id=task.tree_id,
        task=task,
        person=person,
        helper=helper,
        what=LogEntry.What.DONE,
        kind=task.kind,
        key=task.key,
        action=task.action,
        on=on,
        recorded_at=now,
        amount=given,
        unit=unit_of(task),
        nitrogen_g=_nitrogen_g(task.site, task.kind, given),
        minutes_spent=minutes,
        note=note,
        before=write_work(task, given, on),
    )
