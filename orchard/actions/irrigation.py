"""Water that comes by itself, written down for a whole row at once."""

from collections.abc import Iterable
from datetime import date

from django.db import transaction

from orchard.actions.audit import note
from orchard.actions.places import raise_revision
from orchard.actions.trees import TreeValues
from orchard.models import Person, Site, Tree


@transaction.atomic
def run_irrigation(
    *, site: Site, trees: Iterable[Tree], values: TreeValues, person: Person | None
) -> int:
    """Write the same standing irrigation on every one of ``trees``; return how many.

    ``values`` are fields of a tree that a form has checked.
    """
    return _write(site, list(trees), values, person)


@transaction.atomic
def end_irrigation(
    *, site: Site, trees: Iterable[Tree], until: date, person: Person | None
) -> int:
    """Let what runs by itself end after ``until``; return for how many trees.

    Days up to then keep their water. What ended before, or never ran, is left alone.
    """
    running = [tree for tree in trees if runs_after(tree, until)]
    return _write(site, running, {"irrigation_until": until}, person)


def runs_after(tree: Tree, day: date) -> bool:
    """Whether a tree's standing irrigation goes on after a day."""
    is_known = bool(tree.irrigation_litres and tree.irrigation_weekdays)
    ends = tree.irrigation_until
    return is_known and (ends is None or ends > day)


def _write(
    site: Site, trees: list[Tree], values: TreeValues, person: Person | None
) -> int:
    if not trees:
        return 0
    for tree in trees:
        for name, value in values.items():
            setattr(tree, name, value)
    Tree.objects.bulk_update(trees, list(values))
    raise_revision(site)
    note(
        orchard=site.orchard,
        person=person,
        what="irrigation_changed",
        subject=str(len(trees)),
        after={**values, "trees": [tree.name for tree in trees]},
    )
    return len(trees)
