"""Cultivars grafted onto a tree: one tree, several kinds of fruit."""

from datetime import date, datetime

from django.db import transaction

from care.actions.same_job import lock_trees
from care.actions.tree_changes import GRAFT, LIVING, Change, graft_state
from care.models import LogEntry
from orchard.actions.places import raise_revision
from orchard.models import Graft, Person, Tree

KIND = "grafting"


class GraftedError(Exception):
    """Such a graft lives on the tree already, or none is there to end."""


@transaction.atomic
def add_graft(
    *,
    tree: Tree,
    species_key: str,
    cultivar: str,
    person: Person | None,
    on: date,
    now: datetime,
    note: str = "",
) -> LogEntry:
    """Write that a cultivar was grafted onto a tree.

    Raises
    ------
    GraftedError
        A graft of that cultivar lives on it.
    """
    lock_trees([tree.pk])
    living = tree.grafts.filter(ended_on=None, species_key=species_key)
    if living.filter(cultivar=cultivar).exists():
        raise GraftedError(cultivar)
    graft = Graft.objects.create(
        tree=tree, species_key=species_key, cultivar=cultivar, grafted_on=on
    )
    change: Change = {f"{GRAFT}{graft.pk}": [None, LIVING]}
    return _log(graft, change, "graft", person=person, on=on, now=now, note=note)


@transaction.atomic
def end_graft(
    *,
    graft: Graft,
    person: Person | None,
    on: date,
    now: datetime,
    note: str = "",
) -> LogEntry:
    """Write that a graft died or was cut off; it may have died no sooner than made.

    Raises
    ------
    GraftedError
        It has ended already, or ``on`` lies before the day it was made.
    """
    lock_trees([graft.tree_id])
    graft.refresh_from_db()
    if graft.ended_on is not None or on < graft.grafted_on:
        raise GraftedError(graft.cultivar)
    graft.ended_on = on
    graft.save(update_fields=["ended_on"])
    change: Change = {f"{GRAFT}{graft.pk}": [LIVING, graft_state(graft)]}
    return _log(graft, change, "end_graft", person=person, on=on, now=now, note=note)


def _log(
    graft: Graft,
    change: Change,
    action: str,
    *,
    person: Person | None,
    on: date,
    now: datetime,
    note: str,
) -> LogEntry:
    tree = graft.tree
    entry = LogEntry.objects.create(
        site_id=tree.site_id,
        tree=tree,
        person=person,
        what=LogEntry.What.DONE,
        kind=KIND,
        action=action,
        product=graft.cultivar,
        on=on,
        recorded_at=now,
        note=note,
        before=change,
    )
    raise_revision(tree.site)
    return entry
