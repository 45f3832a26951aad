"""Trees beyond the fence that may pollinate ours: written down and struck off."""

from collections.abc import Mapping

from django.db import transaction

from orchard.actions.audit import note
from orchard.actions.places import raise_revision
from orchard.models import NeighbourTree, Person, Site


@transaction.atomic
def add_neighbour(
    *, site: Site, values: Mapping[str, object], person: Person | None
) -> NeighbourTree:
    """Write down a neighbour's tree; ``values`` a form has checked."""
    tree = NeighbourTree.objects.create(site=site, **values)
    raise_revision(site)
    note(
        orchard=site.orchard,
        person=person,
        what="neighbour_tree_added",
        subject=str(tree),
        after=_facts(tree),
    )
    return tree


@transaction.atomic
def remove_neighbour(*, tree: NeighbourTree, person: Person | None) -> None:
    """Strike a neighbour's tree off; the trail keeps what was known of it."""
    before = _facts(tree)
    tree.delete()
    raise_revision(tree.site)
    note(
        orchard=tree.site.orchard,
        person=person,
        what="neighbour_tree_removed",
        subject=str(tree),
        before=before,
    )


def _facts(tree: NeighbourTree) -> dict[str, object]:
    names = ("species_key", "cultivar", "x_m", "y_m", "distance_m")
    known = {name: getattr(tree, name) for name in names}
    return {name: value for name, value in known.items() if value not in (None, "")}
