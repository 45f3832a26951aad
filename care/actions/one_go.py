"""What was written of many trees in one go, such as a watered row, and taken back so."""

from collections import defaultdict
from collections.abc import Hashable, Iterable
from datetime import datetime

from django.db import transaction
from django.db.models import QuerySet

from care.actions.tasks import Undone, undo_entry
from care.models import LogEntry
from orchard.models import Person

KINDS = ("spray", "manure", "watering")
#: What is equal in all entries of one go, written at one moment by one person.
ALIKE = ("person_id", "recorded_at", "kind", "product")


def _go(entry: LogEntry) -> tuple[Hashable, ...]:
    return tuple(getattr(entry, name) for name in ALIKE)


def trees_of_goes(entries: Iterable[LogEntry]) -> dict[int, int]:
    """Return of how many trees the goes stand that entries of one site belong to.

    By the entry's key, of those that were written of more than one tree.
    """
    mine = [entry for entry in entries if entry.kind in KINDS and not entry.voided_at]
    if not mine:
        return {}
    standing = LogEntry.objects.filter(
        site_id=mine[0].site_id,
        kind__in=KINDS,
        recorded_at__in={entry.recorded_at for entry in mine},
        voided_at=None,
    ).only("id", "tree_id", *ALIKE)
    trees: dict[tuple[Hashable, ...], set[int | None]] = defaultdict(set)
    for entry in standing:
        trees[_go(entry)].add(entry.tree_id)
    numbers = {entry.pk: len(trees[_go(entry)]) for entry in mine}
    return {pk: number for pk, number in numbers.items() if number > 1}


@transaction.atomic
def undo_go(*, entry: LogEntry, person: Person | None, now: datetime) -> int:
    """Undo an entry with all others of its go; return of how many trees."""
    alike = {name: getattr(entry, name) for name in ALIKE}
    standing = LogEntry.objects.filter(site_id=entry.site_id, voided_at=None, **alike)
    if entry.kind not in KINDS:
        standing = standing.filter(pk=entry.pk)
    trees = {
        one.tree_id
        for one in standing.select_related("task", "tree", "site")
        if undo_entry(entry=one, person=person, now=now) is Undone.ENTRY
    }
    return len(trees)


def entries_at_once(entry: LogEntry) -> QuerySet[LogEntry]:
    """Return what stands of all that one person ticked in the same tap as an entry."""
    same = {name: getattr(entry, name) for name in ("person_id", "recorded_at")}
    return LogEntry.objects.filter(site_id=entry.site_id, voided_at=None, **same)


@transaction.atomic
def undo_at_once(*, entry: LogEntry, person: Person | None, now: datetime) -> int:
    """Undo an entry with all that was ticked in the same tap; return how many."""
    standing = list(entries_at_once(entry).select_related("task", "tree", "site"))
    undone = [undo_entry(entry=one, person=person, now=now) for one in standing]
    return sum(one is Undone.ENTRY for one in undone)
