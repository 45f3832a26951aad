"""Trees: enter, change, move, lose."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from django.db import transaction
from django.utils.translation import gettext

from orchard.actions.audit import changed, note
from orchard.actions.places import find_or_make_block, raise_revision
from orchard.models import Clump, Person, Site, Stay, Tree

TreeValues = Mapping[str, object]
_EMPTY: tuple[object, ...] = (None, "", False)


@dataclass(frozen=True, slots=True)
class Company:
    """What a tree is entered with besides its own facts; empty is left as it is.

    ``stay`` is where its pot stands and since when, ``hedge`` whether its clump is a
    hedge and at which height it is kept [m]; ``None`` leaves that as it is.
    """

    block_name: str = ""
    clump_name: str = ""
    stay: tuple[str, date] | None = None
    hedge: tuple[bool, float | None] | None = None


@transaction.atomic
def add_tree(
    *,
    site: Site,
    values: TreeValues,
    today: date,
    company: Company | None = None,
    person: Person | None = None,
) -> Tree:
    """Create a tree; ``values`` are model fields that a form has checked.

    ``person`` is who does it, for the trail, here and below; ``None`` is the server.
    """
    facts = _with_company(site, values, company, person)
    tree = _new_tree(site, facts, today)
    if company:
        _write_stay(tree, company.stay)
    raise_revision(site)
    note(
        orchard=site.orchard,
        person=person,
        what="tree_added",
        subject=tree.name,
        after=_told(facts | {"name": ""} | _stay_words(tree, company)),
    )
    return tree


def _told(values: TreeValues) -> dict[str, object]:
    """Return the facts that say something; a form hands on its empty boxes too."""
    return {name: value for name, value in values.items() if value not in _EMPTY}


def _stay_words(tree: Tree, company: Company | None) -> dict[str, object]:
    if company is None or company.stay is None or not tree.in_container:
        return {}
    place, since = company.stay
    return {"stands": place, "stands_since": since}


@transaction.atomic
def add_trees(
    *,
    site: Site,
    rows: Iterable[TreeValues],
    block_name: str,
    today: date,
    person: Person | None = None,
) -> list[Tree]:
    """Create many trees at once, all or none, in one block."""
    block = find_or_make_block(site, block_name)[0] if block_name else None
    first = site.trees.filter(block=block).count()
    trees = [
        _new_tree(site, {"position": first + number, **row, "block": block}, today)
        for number, row in enumerate(rows)
    ]
    raise_revision(site)
    note(
        orchard=site.orchard,
        person=person,
        what="trees_added",
        subject=str(len(trees)),
        after={"trees": [tree.name for tree in trees], "block": block_name},
    )
    return trees


def _new_tree(site: Site, values: TreeValues, today: date) -> Tree:
    tree = Tree(site=site, entered_on=today, **values)
    if "position" not in values:
        tree.position = site.trees.filter(block=tree.block).count()
    tree.save()
    return tree


def _with_company(
    site: Site, values: TreeValues, company: Company | None, person: Person | None
) -> dict[str, object]:
    """Return ``values`` with the block and clump rows that the names stand for."""
    found = dict(values)
    if company is None:
        return found
    if company.block_name:
        found["block"] = find_or_make_block(site, company.block_name)[0]
    if company.clump_name:
        clump = Clump.objects.get_or_create(site=site, name=company.clump_name)[0]
        if company.hedge is not None:
            _declare(clump, company.hedge, person)
        found["clump"] = clump
    return found


def _declare(
    clump: Clump, hedge: tuple[bool, float | None], person: Person | None
) -> None:
    """Write whether a clump is a hedge and at which height it is kept."""
    facts = {"is_hedge": hedge[0], "height_limit_m": hedge[1]}
    was, became = changed({name: getattr(clump, name) for name in facts}, facts)
    if not became:
        return
    clump.is_hedge, clump.height_limit_m = hedge
    clump.save(update_fields=list(facts))
    note(
        orchard=clump.site.orchard,
        person=person,
        what="clump_changed",
        subject=clump.name,
        before=was,
        after=became,
    )


@transaction.atomic
def change_tree(
    *,
    tree: Tree,
    values: TreeValues,
    company: Company | None = None,
    person: Person | None = None,
) -> None:
    """Change a tree's facts."""
    subject = tree.name
    facts = _with_company(tree.site, values, company, person)
    before = {field: getattr(tree, field) for field in facts}
    for field, value in facts.items():
        setattr(tree, field, value)
    tree.save(update_fields=list(facts))
    if company:
        _write_stay(tree, company.stay)
    raise_revision(tree.site)
    was, became = changed(before, facts | _stay_words(tree, company))
    if became:
        note(
            orchard=tree.site.orchard,
            person=person,
            what="tree_changed",
            subject=subject,
            before=was,
            after=became,
        )


@transaction.atomic
def put_pot(*, tree: Tree, place: str, since: date) -> Stay:
    """Write where a pot stands from ``since`` on.

    Raises
    ------
    ValueError
        The tree grows in the ground.
    """
    if not tree.in_container:
        message = gettext("Only a tree in a pot can be moved.")
        raise ValueError(message)
    stay = _put(tree, place, since)
    raise_revision(tree.site)
    return stay


def _write_stay(tree: Tree, stay: tuple[str, date] | None) -> None:
    if stay and tree.in_container:
        _put(tree, *stay)


def _put(tree: Tree, place: str, since: date) -> Stay:
    tree.stays.filter(since__gt=since).delete()
    stay, _ = Stay.objects.update_or_create(
        tree=tree, since=since, defaults={"place": place}
    )
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
