"""What a person writes into the log without a task."""

from datetime import date, datetime
from typing import Any

from django.db import transaction

from care.actions.same_job import (
    Answer,
    Reply,
    decide,
    harvests_near,
    join_entry,
    lock_trees,
)
from care.actions.tasks import close_task
from care.actions.tree_changes import write_on_tree, write_stay
from care.models import Helper, LogEntry, Task
from care.planning.forgotten import FORGET_POCKET
from orchard.actions.places import raise_revision
from orchard.actions.trees import end_tree
from orchard.models import Person, Site, Tree

DRAINAGE = "drainage_hours"


def _write(
    tree: Tree, person: Person | None, on: date, now: datetime, **values: Any
) -> LogEntry:
    return LogEntry.objects.create(
        site_id=tree.site_id,
        tree=tree,
        person=person,
        on=on,
        recorded_at=now,
        **values,
    )


@transaction.atomic
def observe(
    *,
    tree: Tree,
    what: str,
    person: Person | None,
    on: date,
    now: datetime,
    value: float | None = None,
    word: str = "",
    note: str = "",
) -> LogEntry:
    """Write a reading of one tree: a number in SI units, or a word.

    ``what`` is ``soil_feel``, ``mulch_depth_mm``, ``trunk_gap_mm``,
    ``shoot_growth_mm``, ``bloom_stage``, ``drained_after_l``, ``not_drained_l``,
    ``drainage_hours``, which is a fact of the tree's ground and is written there too,
    or ``demand_reset``, ``bloom_reset``, ``growth_reset``, from which on its thirst,
    its bloom or its growth is learned anew.
    """
    before = write_on_tree(tree, drainage_hours=value) if what == DRAINAGE else None
    entry = _write(
        tree,
        person,
        on,
        now,
        what=LogEntry.What.OBSERVED,
        kind=what,
        amount=value,
        word=word,
        note=note,
        before=before,
    )
    raise_revision(tree.site)
    return entry


@transaction.atomic
def forget_cold_pocket(
    *, site: Site, person: Person | None, on: date, now: datetime
) -> LogEntry:
    """Write that the cold spot of a place is learned anew from after ``on``."""
    entry = LogEntry.objects.create(
        site=site,
        person=person,
        on=on,
        recorded_at=now,
        what=LogEntry.What.OBSERVED,
        kind=FORGET_POCKET,
    )
    raise_revision(site)
    return entry


@transaction.atomic
def log_harvest(
    *,
    tree: Tree,
    mass_kg: float,
    person: Person | None,
    on: date,
    now: datetime,
    note: str = "",
    reply: Reply | None = None,
    cultivar: str = "",
) -> LogEntry:
    """Write how much was picked; it ticks the picking that was asked for, if any.

    ``cultivar`` is which one, of a tree that bears several; another one's picking is
    never the same.

    ``reply`` is the answer where about as much stands in the log for the same day;
    where it is the same picking, that entry is returned, with both people named.

    Raises
    ------
    SameJobError
        About as much was picked that day and nobody said yet whether it is the same.
    """
    lock_trees([tree.pk])
    near = [one for one in harvests_near(tree, mass_kg, on) if one.product == cultivar]
    if near and decide(near, reply) is Answer.SAME:
        join_entry(near[0], person)
        return near[0]
    asked = (
        Task.objects.filter(
            tree=tree,
            kind="harvest",
            status=Task.Status.OPEN,
            is_firm=True,
            earliest__lte=on,
        )
        .exclude(action="hold")  # a notice not to pick is not answered by picking
        .order_by("due", "pk")
        .first()
    )
    is_ticked = asked is not None and close_task(asked, Task.Status.DONE)
    entry = _write(
        tree,
        person,
        on,
        now,
        what=LogEntry.What.HARVESTED,
        kind="harvest",
        task=asked if is_ticked else None,
        amount=mass_kg,
        unit="kg",
        product=cultivar,
        note=note,
    )
    raise_revision(tree.site)
    return entry


@transaction.atomic
def log_move(
    *, tree: Tree, place: str, person: Person | None, on: date, now: datetime
) -> LogEntry:
    """Move a pot and write it down."""
    lock_trees([tree.pk])
    before = write_stay(tree, place, on)
    return _write(
        tree,
        person,
        on,
        now,
        what=LogEntry.What.MOVED,
        kind="move",
        word=place,
        before=before,
    )


@transaction.atomic
def log_loss(
    *,
    tree: Tree,
    status: str,
    person: Person | None,
    on: date,
    now: datetime,
    reason: str,
) -> LogEntry:
    """Write that a tree was lost or removed, and why."""
    end_tree(tree=tree, status=status, on=on, reason=reason)
    return _write(
        tree,
        person,
        on,
        now,
        what=LogEntry.What.LOST,
        kind=status,
        note=reason,
    )


@transaction.atomic
def write_note(
    *,
    site: Site,
    tree: Tree | None,
    note: str,
    person: Person | None,
    on: date,
    now: datetime,
    helper: Helper | None = None,
) -> LogEntry:
    """Write a note on a tree or on the whole site."""
    return LogEntry.objects.create(
        site=site,
        tree=tree,
        person=person,
        helper=helper,
        what=LogEntry.What.NOTE,
        kind="note",
        on=on,
        recorded_at=now,
        note=note,
    )
