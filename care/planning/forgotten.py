"""What people had the plan forget: readings that stay in the log but teach no more."""

from collections.abc import Iterable
from datetime import date, datetime

from django.db.models import Q

from care.models import LogEntry
from orchard.models import Tree

FORGET_DEMAND, FORGET_BLOOM = "demand_reset", "bloom_reset"
FORGET_GROWTH, FORGET_POCKET = "growth_reset", "pocket_reset"
#: What each forgetting of a tree is about. One soil has one thirst, so that is
#: forgotten by the clump.
READINGS = {
    FORGET_DEMAND: frozenset({"soil_feel", "drained_after_l", "not_drained_l"}),
    FORGET_BLOOM: frozenset({"bloom_stage"}),
    FORGET_GROWTH: frozenset({"shoot_growth_mm"}),
}
#: The cold spot is the place's, so its forgetting is of no tree.
OF_PLACE = Q(tree__isnull=True, kind=FORGET_POCKET)

Forgotten = dict[tuple[int | None, str], datetime]


def forgotten_until(entries: Iterable[LogEntry], trees: Iterable[Tree]) -> Forgotten:
    """Return until when readings of each tree and kind teach nothing any more."""
    clumps = {tree.pk: tree.clump_id for tree in trees if tree.clump_id}
    found: Forgotten = {}
    for entry in sorted(entries, key=lambda entry: entry.written_at):
        if entry.kind not in READINGS:
            continue
        concerned = [entry.tree_id]
        if entry.kind == FORGET_DEMAND:
            clump = clumps.get(entry.tree_id or 0)
            concerned += [pk for pk, its in clumps.items() if its == clump]
        for tree_id in concerned:
            for what in READINGS[entry.kind]:
                found[tree_id, what] = entry.written_at
    return found


def is_forgotten(entry: LogEntry, forgotten: Forgotten) -> bool:
    """Whether a reading was written before somebody had it forgotten."""
    moment = forgotten.get((entry.tree_id, entry.kind))
    return moment is not None and entry.written_at <= moment


def pocket_forgotten_on(entries: Iterable[LogEntry]) -> date | None:
    """Return the last day up to whose night nothing is known of the cold spot."""
    days = [entry.on for entry in entries if entry.kind == FORGET_POCKET]
    return max(days, default=None)
