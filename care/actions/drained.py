"""A pot watered, and whether water ran out below: one tick, two things known."""

from datetime import date, datetime

from django.db import transaction

from care.actions.logbook import observe
from care.actions.same_job import Reply
from care.actions.tasks import Outcome, complete_task
from care.actions.watered import water_each
from care.models import LogEntry, Task
from orchard.models import Person, Tree


@transaction.atomic
def complete_watering(
    *,
    task: Task,
    person: Person | None,
    on: date,
    now: datetime,
    amount: float | None = None,
    note: str = "",
    reply: Reply | None = None,
    has_drained: bool | None = None,
    drained_after_l: float | None = None,
    minutes: float | None = None,
) -> Outcome:
    """Tick a watering as :func:`complete_task` does, and write what ran out below.

    ``has_drained`` is None where nobody looked; it ran after ``drained_after_l``, or
    after all that the pot got. The answer is taken back with the tick.
    """
    outcome = complete_task(
        task=task,
        person=person,
        on=on,
        now=now,
        amount=amount,
        note=note,
        reply=reply,
        minutes=minutes,
    )
    if outcome.is_new:
        write_drained(
            outcome.entry, has_drained=has_drained, drained_after_l=drained_after_l
        )
    return outcome


@transaction.atomic
def water_tree(
    *,
    tree: Tree,
    litres: float,
    person: Person | None,
    on: date,
    now: datetime,
    has_drained: bool | None = None,
    drained_after_l: float | None = None,
) -> LogEntry:
    """Write what one tree got on a day, and whether water ran out below its pot."""
    (entry,) = water_each(
        site=tree.site, litres=[(tree, litres)], person=person, on=on, now=now
    )
    if entry.recorded_at == now:  # not somebody else's tick that this one joins
        write_drained(entry, has_drained=has_drained, drained_after_l=drained_after_l)
    return entry


def write_drained(
    entry: LogEntry, *, has_drained: bool | None, drained_after_l: float | None = None
) -> LogEntry | None:
    """Write what ran out below when a pot got what ``entry`` says; a part of actions."""
    tree, given = entry.tree, entry.amount
    if has_drained is None or tree is None or given is None:
        return None
    value = given if drained_after_l is None or not has_drained else drained_after_l
    return observe(
        tree=tree,
        what="drained_after_l" if has_drained else "not_drained_l",
        person=entry.person,
        on=entry.on,
        now=entry.recorded_at,
        value=value,
    )
