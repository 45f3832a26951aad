"""Plantings: trees that are wanted, changed, given a day, and taken back.

A wanted tree gets its row among the trees with its day. From then on the row tells
when it is planted; the wish keeps what the sheet needs.
"""

from collections.abc import Container, Iterable, Mapping
from datetime import date

from django.db import transaction

from care.actions.planting_log import carry_ticks
from care.models import LogEntry
from orchard.actions.audit import changed, note
from orchard.actions.places import find_or_make_block, raise_revision
from orchard.actions.trees import add_tree, change_tree, end_tree
from orchard.models import Block, Person, Planting, Site, Tree, WantedTree

#: What a planned tree takes over from the wish; mulch is not laid yet.
COPIED = (
    *("name", "species_key", "cultivar", "rootstock", "sex", "replaces", "block"),
    *("in_container", "container_litres", "container_medium", "stock"),
    *("stock_litres", "caliper_mm", "support", "x_m", "y_m"),
)
NEVER_PLANTED = "Never planted"


class StandsError(Exception):
    """The tree stands already: its own page is where it is changed."""


class LoggedError(Exception):
    """Something stands in the planned tree's log that would be lost with it."""


@transaction.atomic
def make_planting(
    *, site: Site, name: str, today: date, person: Person | None
) -> Planting:
    """Begin a list of trees that are wanted together.

    ``person`` is who does it, for the trail, here and below; ``None`` is the server.
    """
    planting = Planting.objects.create(site=site, name=name, begun_on=today)
    note(
        orchard=site.orchard,
        person=person,
        what="planting_made",
        subject=name,
    )
    return planting


@transaction.atomic
def rename_planting(*, planting: Planting, name: str, person: Person | None) -> None:
    """Call a planting something else."""
    before = planting.name
    if before == name:
        return
    planting.name = name
    planting.save(update_fields=["name"])
    note(
        orchard=planting.site.orchard,
        person=person,
        what="planting_renamed",
        subject=name,
        before={"name": before},
        after={"name": name},
    )


@transaction.atomic
def put_away(
    *, planting: Planting, person: Person | None, is_put_away: bool = True
) -> None:
    """Take a planting off the list, or put it back; trees with a day stay planned.

    Wanted trees of a planting that is put away leave the plan of the site.
    """
    if planting.is_put_away == is_put_away:
        return
    planting.is_put_away = is_put_away
    planting.save(update_fields=["is_put_away"])
    raise_revision(planting.site)
    note(
        orchard=planting.site.orchard,
        person=person,
        what="planting_put_away" if is_put_away else "planting_taken_out",
        subject=planting.name,
    )


@transaction.atomic
def want_trees(
    *,
    planting: Planting,
    values: Mapping[str, object],
    names: Iterable[str],
    person: Person | None,
    block_name: str = "",
) -> list[WantedTree]:
    """Want trees that are alike but for their names; ``values`` a form has checked.

    ``block_name`` is that of their block, which is made where there is none so called.
    """
    facts = {key: value for key, value in values.items() if key != "name"}
    if block_name:
        facts["block"] = _block(planting.site, block_name)
    wanted = [
        WantedTree.objects.create(planting=planting, name=name, **facts)
        for name in names
    ]
    raise_revision(planting.site)
    note(
        orchard=planting.site.orchard,
        person=person,
        what="trees_wanted",
        subject=planting.name,
        after={"trees": [one.name for one in wanted]},
    )
    return wanted


@transaction.atomic
def change_wanted(
    *,
    wanted: WantedTree,
    values: Mapping[str, object],
    today: date,
    person: Person | None,
    block_name: str | None = None,
) -> None:
    """Change what is wanted, and the planned tree with it.

    Only what changes is carried over, so that what was changed at the tree stays. An
    empty ``block_name`` takes it out of its block; ``None`` leaves it there.

    Raises
    ------
    StandsError
        It stands already.
    """
    row = _locked(wanted)
    _refuse_standing(row, today)
    facts = dict(values)
    if block_name is not None:
        facts["block"] = _block(row.planting.site, block_name)
    was, became = changed({name: getattr(row, name) for name in facts}, facts)
    if not became:
        return
    _write(row, became)
    carried = {name: became[name] for name in COPIED if name in became}
    if row.tree is not None and carried:
        change_tree(tree=row.tree, values=carried, person=person)
    raise_revision(row.planting.site)
    note(
        orchard=row.planting.site.orchard,
        person=person,
        what="wanted_changed",
        subject=row.name,
        before=was,
        after=became,
    )


@transaction.atomic
def plan_tree(
    *, wanted: WantedTree, on: date, today: date, person: Person | None
) -> Tree:
    """Give a wanted tree its day: its row among the trees is made, or moved.

    Two people at once, or one twice, make one tree. ``on`` may be today, or a day that
    is over, where it was planted then.

    Raises
    ------
    StandsError
        It stands already.
    """
    row = _locked(wanted)
    _refuse_standing(row, today)
    before = row.plant_on
    if row.tree is None:
        facts = {name: getattr(row, name) for name in COPIED}
        row.tree = add_tree(
            site=row.planting.site,
            values=facts | {"planted_on": on},
            today=today,
            person=person,
        )
        carry_ticks(wanted=row, tree=row.tree)
    elif row.tree.planted_on != on:
        change_tree(tree=row.tree, values={"planted_on": on}, person=person)
    _write(row, {"tree": row.tree, "plant_on": on})
    if before != on:
        note(
            orchard=row.planting.site.orchard,
            person=person,
            what="planting_day_set",
            subject=row.name,
            before={"plant_on": before},
            after={"plant_on": on},
        )
    _take_over(wanted, row)
    return row.tree


@transaction.atomic
def plan_trees(
    *,
    wanted: Iterable[WantedTree],
    on: date,
    today: date,
    person: Person | None,
) -> list[Tree]:
    """Give several wanted trees one day, all or none; as :func:`plan_tree`."""
    ordered = sorted(wanted, key=lambda one: one.pk)  # one order for every lock
    return [plan_tree(wanted=one, on=on, today=today, person=person) for one in ordered]


@transaction.atomic
def clear_day(*, wanted: WantedTree, today: date, person: Person | None) -> None:
    """Take back the day of a wanted tree; it has no row among the trees any more.

    A row whose log was taken back entry by entry is kept, as never planted.

    Raises
    ------
    StandsError
        It stands already.
    LoggedError
        Something stands in its log: a test hole, or marks that were asked for.
    """
    row = _locked(wanted)
    _refuse_standing(row, today)
    before, tree = row.plant_on, row.tree
    _write(row, {"tree": None, "plant_on": None})
    if tree is not None:
        _drop(tree, today)
    raise_revision(row.planting.site)
    if before is not None:
        note(
            orchard=row.planting.site.orchard,
            person=person,
            what="planting_day_cleared",
            subject=row.name,
            before={"plant_on": before},
        )
    _take_over(wanted, row)


@transaction.atomic
def remove_wanted(*, wanted: WantedTree, today: date, person: Person | None) -> None:
    """Want a tree no more; as :func:`clear_day`, and its wish goes too.

    Raises
    ------
    StandsError, LoggedError
        As :func:`clear_day`.
    """
    clear_day(wanted=wanted, today=today, person=person)
    site = wanted.planting.site
    name = wanted.name
    wanted.delete()
    raise_revision(site)
    note(orchard=site.orchard, person=person, what="wanted_removed", subject=name)


def planted_trees(tree_ids: Iterable[int | None]) -> frozenset[int]:
    """Return which of some trees somebody said to have planted, in one query."""
    found = LogEntry.objects.filter(
        tree_id__in=[pk for pk in tree_ids if pk is not None],
        what=LogEntry.What.DONE,
        kind="planting",
        action="plant",
        voided_at=None,
    )
    return frozenset(pk for pk in found.values_list("tree_id", flat=True) if pk)


def stands(
    wanted: WantedTree, today: date, planted: Container[int] | None = None
) -> bool:
    """Return whether a wanted tree was planted, whatever became of it since.

    One whose day went by and that nobody ticked does not stand: its day can be moved.
    ``planted`` are the numbers of :func:`planted_trees`, where many are asked for.
    """
    tree = wanted.tree
    if tree is None:
        return False
    if tree.status != Tree.Status.ALIVE or tree.planted_on is None:
        return True
    if tree.pk in (planted_trees([tree.pk]) if planted is None else planted):
        return True
    return tree.planted_on <= min(tree.entered_on, today)


def _refuse_standing(row: WantedTree, today: date) -> None:
    if stands(row, today):
        raise StandsError(row.name)


def _locked(wanted: WantedTree) -> WantedTree:
    """Return the row as it is now, held until the action is over.

    Its tree is read after the lock, never joined: a join would tell what was before.
    """
    return WantedTree.objects.select_for_update().get(pk=wanted.pk)


def _block(site: Site, name: str) -> Block | None:
    return find_or_make_block(site, name)[0] if name else None


def _write(row: WantedTree, values: Mapping[str, object]) -> None:
    for name, value in values.items():
        setattr(row, name, value)
    row.save(update_fields=list(values))


def _take_over(wanted: WantedTree, row: WantedTree) -> None:
    """Let the caller's copy know what was written."""
    wanted.tree, wanted.plant_on = row.tree, row.plant_on


def _drop(tree: Tree, today: date) -> None:
    entries = LogEntry.objects.filter(tree=tree)
    if entries.filter(voided_at=None).exists():
        raise LoggedError(tree.name)
    if entries.exists():
        end_tree(tree=tree, status=Tree.Status.REMOVED, on=today, reason=NEVER_PLANTED)
    else:
        tree.delete()
