"""Trees: enter, change, move, lose."""

from collections.abc import Iterable, Mapping
from datetime import date

from django.db import transaction

from orchard.actions.places import block_named, raise_revision
from orchard.models import Clump, Site, Stay, Tree

TreeValues = Mapping[str, object]


@transaction.atomic
def add_tree(*, site: Site, values: TreeValues, today: date) -> Tree:
    """Create a tree; ``values`` are model fields that a form has checked."""
    tree = Tree(site=site, entered_on=today, **values)
    tree.position = site.trees.filter(block=tree.block).count()
    tree.save()
    raise_revision(site)
    return tree


@transaction.atomic
def add_trees(
    *, site: Site, rows: Iterable[TreeValues], block_name: str, today: date
) -> list[Tree]:
    """Create many trees at once, all or none, in one block."""
    block = block_named(site=site, name=block_name) if block_name else None
    return [
        add_tree(site=site, values={**row, "block": block}, today=today) for row in rows
    ]


@transaction.atomic
def change_tree(*, tree: Tree, values: TreeValues) -> None:
    """Change a tree's facts."""
    for field, value in values.items():
        setattr(tree, field, value)
    tree.save(update_fields=list(values))
    raise_revision(tree.site)


@transaction.atomic
def put_pot(*, tree: Tree, place: str, since: date) -> Stay:
    """Write where a pot stands from ``since`` on.

    Raises
    ------
    ValueError
        The tree grows in the ground.
    """
    if not tree.in_container:
        message = "Only a tree in a pot can be moved."
        raise ValueError(message)
    tree.stays.filter(since__gt=since).delete()
    stay, _ = Stay.objects.update_or_create(
        tree=tree, since=since, defaults={"place": place}
    )
    raise_revision(tree.site)
    return stay


@transaction.atomic
def end_tree(*, tree: Tree, status: str, on: date, reason: str) -> None:
    """Write that a tree was lost or removed; its log stays."""
    tree.status = status
    tree.ended_on = on
    tree.ended_reason = reason
    tree.save(update_fields=["status", "ended_on", "ended_reason"])
    raise_revision(tree.site)


@transaction.atomic
def revive_tree(*, tree: Tree) -> None:
    """Take back that a tree was lost or removed."""
    tree.status = Tree.Status.ALIVE
    tree.ended_on = None
    tree.ended_reason = ""
    tree.save(update_fields=["status", "ended_on", "ended_reason"])
    raise_revision(tree.site)


@transaction.atomic
def join_clump(*, site: Site, name: str, trees: Iterable[Tree]) -> Clump:
    """Declare that trees share one root zone and one canopy."""
    clump, _ = Clump.objects.get_or_create(site=site, name=name)
    Tree.objects.filter(site=site, pk__in=[tree.pk for tree in trees]).update(
        clump=clump
    )
    raise_revision(site)
    return clump
