"""Which trees of a place must not be picked on a day, and until when."""

from datetime import date

from care.facts import Hold, HoldCause
from care.models import LogEntry
from care.planning.shift_work import HeldTree
from orchard.models import Block, Site, Tree


def held_trees(
    site: Site, day: date, block: Block | None = None
) -> tuple[HeldTree, ...]:
    """Return the trees held on a day, the longest wait of each, by name.

    Of one block, or of the whole site; in one query.
    """
    where = {} if block is None else {"tree__block": block}
    rows = LogEntry.objects.filter(
        site=site,
        held_until__gte=day,
        tree__status=Tree.Status.ALIVE,
        voided_at=None,
        **where,
    ).select_related("tree__block")
    longest: dict[int, HeldTree] = {}
    for entry in rows.order_by("tree__name", "tree_id", "held_until", "id"):
        tree, until = entry.tree, entry.held_until
        if tree is not None and until is not None:
            cause = HoldCause(entry.kind)
            hold = Hold(tree.pk, cause, entry.on, until, entry.product)
            longest[tree.pk] = HeldTree(tree, hold)
    return tuple(longest.values())
