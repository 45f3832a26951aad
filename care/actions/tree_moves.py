"""A tree changes where it grows: another pot, the ground, a pot again; or is replaced.

Each move is one log entry that keeps what it changed, so that it can be taken back.
"""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db import transaction

from care.actions.plantings import make_planting, put_away, want_trees
from care.actions.same_job import lock_trees
from care.actions.tasks import close_task
from care.actions.tree_changes import Change, together, write_on_tree, write_stay
from care.models import LogEntry, Task
from orchard.actions.places import raise_revision
from orchard.models import Person, Planting, Site, Stay, Tree, WantedTree

POTTING, PLANTING = "potting", "planting"


class MoveError(Exception):
    """A move that cannot be: of a tree that is gone, or grows otherwise than told."""


@dataclass(frozen=True, slots=True)
class Pot:
    """A pot: true volume [L], width at its top [m] where measured, what fills it."""

    litres: float
    diameter_m: float | None = None
    medium: str = "mix"

    @property
    def facts(self) -> dict[str, object]:
        """Its facts as fields of a tree."""
        return {
            "container_litres": self.litres,
            "container_diameter_m": self.diameter_m,
            "container_medium": self.medium,
        }


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a tree goes: its block, and whether its place on the plan is still true."""

    block_id: int | None = None
    keeps_place: bool = False


@transaction.atomic
def repot(
    *,
    tree: Tree,
    pot: Pot,
    person: Person | None,
    on: date,
    now: datetime,
    note: str = "",
) -> LogEntry:
    """Move a potted tree into another pot; a potting that was asked for is ticked.

    Raises
    ------
    MoveError
        It is gone or grows in the ground.
    """
    _hold(tree, in_container=True)
    is_larger = pot.litres > (tree.container_litres or 0.0)
    asked = (
        Task.objects.filter(
            tree=tree, kind=POTTING, status=Task.Status.OPEN, is_firm=True
        )
        .order_by("due", "pk")
        .first()
    )
    is_ticked = asked is not None and close_task(asked, Task.Status.DONE)
    return _log(
        tree,
        write_on_tree(tree, **pot.facts),
        task=asked if is_ticked else None,
        kind=POTTING,
        key=asked.key if asked is not None and is_ticked else "",
        action="pot_up" if is_larger else "repot",
        amount=pot.litres,
        person=person,
        on=on,
        now=now,
        note=note,
    )


@transaction.atomic
def plant_out(
    *,
    tree: Tree,
    ball_litres: float,
    spot: Spot,
    person: Person | None,
    on: date,
    now: datetime,
    drainage_hours: float | None = None,
    note: str = "",
) -> LogEntry:
    """Plant a potted tree in the ground: its pot's ball is what it lives on at first.

    It counts as planted that day, so that its establishment begins then, and stands
    outdoors from then on.

    Raises
    ------
    MoveError
        It is gone or stands in the ground already.
    """
    _hold(tree, in_container=True)
    facts: dict[str, object] = {
        "container_litres": None,
        "container_diameter_m": None,
        "in_container": False,
        "planted_on": on,
        "stock": Tree.Stock.CONTAINER_GROWN.value,
        "stock_litres": ball_litres,
    }
    if drainage_hours is not None:
        facts["drainage_hours"] = drainage_hours
    change = together(
        write_stay(tree, Stay.Place.OUTDOORS, on),
        write_on_tree(tree, **facts, **_spot_facts(tree, spot)),
    )
    return _log(
        tree,
        change,
        kind=PLANTING,
        key=_planted_key(on),
        action="to_ground",
        amount=ball_litres,
        person=person,
        on=on,
        now=now,
        note=note,
    )


@transaction.atomic
def dig_up(
    *,
    tree: Tree,
    pot: Pot,
    spot: Spot,
    person: Person | None,
    on: date,
    now: datetime,
    note: str = "",
) -> LogEntry:
    """Dig a tree up and pot it; it stands outdoors until its pot is moved.

    Raises
    ------
    MoveError
        It is gone or grows in a pot already.
    """
    _hold(tree, in_container=False)
    facts = {**pot.facts, "in_container": True, "planted_on": on}
    change = together(
        write_on_tree(tree, **facts, **_spot_facts(tree, spot)),
        write_stay(tree, Stay.Place.OUTDOORS, on),
    )
    return _log(
        tree,
        change,
        kind=PLANTING,
        key=_planted_key(on),
        action="to_pot",
        amount=pot.litres,
        person=person,
        on=on,
        now=now,
        note=note,
    )


def _planted_key(on: date) -> str:
    """Return the key by which the plan sees that the tree is planted."""
    return f"{on.year}/plant"


def _hold(tree: Tree, *, in_container: bool) -> None:
    """Let nobody else move the tree until this is over; refuse what cannot be."""
    lock_trees([tree.pk])
    tree.refresh_from_db()
    if tree.status != Tree.Status.ALIVE or tree.in_container != in_container:
        raise MoveError(tree.name)


def _spot_facts(tree: Tree, spot: Spot) -> dict[str, object]:
    facts: dict[str, object] = {}
    if spot.block_id != tree.block_id:
        facts["block_id"] = spot.block_id
        block = tree.site.trees.filter(block=spot.block_id)
        facts["position"] = block.count()
    if not spot.keeps_place:
        facts |= {"x_m": None, "y_m": None, "measured": {}}
    return facts


def _log(tree: Tree, change: Change | None, **values: Any) -> LogEntry:
    now = values.pop("now")
    entry = LogEntry.objects.create(
        site_id=tree.site_id,
        tree=tree,
        what=LogEntry.What.DONE,
        unit="L",
        recorded_at=now,
        before=change or None,
        **values,
    )
    raise_revision(tree.site)
    return entry


@transaction.atomic
def want_instead(
    *,
    tree: Tree,
    planting_name: str,
    name: str,
    values: dict[str, object],
    at_its_place: bool,
    today: date,
    person: Person | None,
) -> WantedTree:
    """Want a new tree in the place of one that is gone; the old one's log stays.

    ``values`` are the wanted tree's kind, cultivar and rootstock. A planting of that
    name is taken, or made; its block, its pot and its place on the plan are the old
    tree's, ``at_its_place`` or without the place. Sent twice, it is wanted once.

    Raises
    ------
    MoveError
        The old tree still stands.
    """
    lock_trees([tree.pk])
    tree.refresh_from_db()
    if tree.status == Tree.Status.ALIVE:
        raise MoveError(tree.name)
    facts = {
        "block": tree.block,
        "in_container": tree.in_container,
        "container_litres": tree.container_litres,
        "container_medium": tree.container_medium,
        **values,
        "replaces": tree,
    }
    place = (tree.x_m, tree.y_m) if at_its_place else (None, None)
    facts |= {"x_m": place[0], "y_m": place[1]}
    planting = _planting_named(tree.site, planting_name, today, person)
    same = planting.wanted.filter(tree=None, name=name, **facts).first()
    if same is not None:
        return same
    return want_trees(planting=planting, values=facts, names=[name], person=person)[0]


def _planting_named(
    site: Site, name: str, today: date, person: Person | None
) -> Planting:
    found = Planting.objects.filter(site=site, name=name).first()
    if found is None:
        return make_planting(site=site, name=name, today=today, person=person)
    put_away(planting=found, person=person, is_put_away=False)
    return found
