"""What a log entry changes of its tree, kept so that it can be taken back.

A change names a field of the tree, a day on which its pot came to stand somewhere
(``stay:2025-07-01``) or a cultivar grafted onto it (``graft:12``), each with what was
and what became. Entries that changed the same thing are a chain: one taken out of its
middle hands what was before it to the next, so that in whatever order all are taken
back, the tree comes out as it was.
"""

from collections.abc import Iterable
from datetime import date
from typing import cast

from django.db.models import Field

from care.actions.same_job import lock_trees
from care.models import LogEntry, Task
from orchard.actions.trees import put_pot
from orchard.models import Graft, Stay, Tree

Change = dict[str, list[object]]  # what was changed -> [before, after]
STAY, GRAFT = "stay:", "graft:"
LIVING = ""  # of a graft: it has no day on which it ended; ``None``: there is none
MOVES = {"move_in": Stay.Place.INDOORS_UNHEATED, "move_out": Stay.Place.OUTDOORS}
#: What some work always leaves behind it.
ALWAYS: dict[tuple[str, str], dict[str, object]] = {
    ("establishing", "unstake"): {"support": Tree.Support.NONE},
    ("weeding", "fit_guard"): {"has_trunk_guard": True},
}


def write_work(task: Task, amount: float | None, on: date) -> Change | None:
    """Write what doing a task changes of its tree's facts; return what to keep of it."""
    if task.action in MOVES and task.tree.in_container:
        return write_stay(task.tree, MOVES[task.action], on)
    values = _values_after(task, amount, on)
    return write_on_tree(task.tree, **values) if values else None


def _values_after(task: Task, amount: float | None, on: date) -> dict[str, object]:
    match task.kind, task.action:
        case "planting", "plant":
            # It stands from the day it was really planted.
            return {"planted_on": on}
        case "planting", "drainage" if amount is not None:
            return {"drainage_hours": amount}
        case "establishing", "widen" if amount:
            return {"watered_radius_m": amount}
        case "potting", _ if amount and task.tree.in_container:
            return _new_pot(task.tree, amount)
    return ALWAYS.get((task.kind, task.action), {})


def _new_pot(tree: Tree, litres: float) -> dict[str, object]:
    """Return a pot of new volume; a width that was measured grows as its shape does."""
    width_m, before = tree.container_diameter_m, tree.container_litres
    if width_m is None or not before:
        return {"container_litres": litres}
    grown_m = width_m * (litres / before) ** (1 / 3)
    return {"container_litres": litres, "container_diameter_m": round(grown_m, 3)}


def write_on_tree(tree: Tree, **values: object) -> Change | None:
    """Change a tree's facts as a part of an action; return what to keep of it.

    ``None`` where everything was so already.
    """
    changed: Change = {}
    for name, value in values.items():
        before = getattr(tree, name)
        if before != value:
            changed[name] = [_plain(before), _plain(value)]
            setattr(tree, name, value)
    if changed:
        tree.save(update_fields=list(changed))
    return changed or None


def write_stay(tree: Tree, place: str, since: date) -> Change:
    """Write where a pot stands from a day on; return what to keep of it.

    Stays after that day are forgotten, as they are wherever a pot is put.
    """
    later = tree.stays.filter(since__gt=since).values_list("since", "place")
    changed: Change = {_stay(day): [was, None] for day, was in later}
    before = _now(tree, _stay(since))
    if before != place:
        changed[_stay(since)] = [before, str(place)]
    put_pot(tree=tree, place=place, since=since)
    return changed


def together(*changes: Change | None) -> Change:
    """Return changes made one after another as one."""
    found: Change = {}
    for change in changes:
        for name, (before, after) in (change or {}).items():
            first = found[name][0] if name in found else before
            found[name] = [first, after]
    return found


def take_off_tree(entry: LogEntry) -> None:
    """Put back what an entry changed of its tree, unless it was changed since.

    Where another entry that stands changed it since, that one comes to keep it.
    """
    tree = entry.tree
    if tree is None or not entry.before:
        return
    lock_trees([tree.pk])
    tree.refresh_from_db()
    later = list(
        LogEntry.objects.filter(
            tree=tree, pk__gt=entry.pk, voided_at=None, before__isnull=False
        ).order_by("pk")
    )
    back: dict[str, object] = {}
    for name, (before, after) in _kept(entry).items():
        heir = _heir(later, name)
        is_as_left = name.startswith(GRAFT) or _now(tree, name) == after
        if heir is None and is_as_left:
            back[name] = before
        elif heir is not None and _kept(heir)[name][0] == after:
            _kept(heir)[name][0] = before
            heir.save(update_fields=["before"])
    _put_back(tree, back)


def _heir(later: Iterable[LogEntry], name: str) -> LogEntry | None:
    """Return the next entry that changed the same thing."""
    return next((entry for entry in later if name in _kept(entry)), None)


def _kept(entry: LogEntry) -> Change:
    return cast("Change", entry.before)


def _stay(since: date) -> str:
    return f"{STAY}{since.isoformat()}"


def _now(tree: Tree, name: str) -> object:
    """Return how a fact or a stay is, as changes name it."""
    if name.startswith(STAY):
        since = name.removeprefix(STAY)
        return tree.stays.filter(since=since).values_list("place", flat=True).first()
    return _plain(getattr(tree, name))


def graft_state(graft: Graft) -> str:
    """Return how a graft is, as changes name it."""
    return graft.ended_on.isoformat() if graft.ended_on else LIVING


def _put_back(tree: Tree, back: dict[str, object]) -> None:
    facts = {n: v for n, v in back.items() if not n.startswith((STAY, GRAFT))}
    for name, value in facts.items():
        setattr(tree, name, _field(name).to_python(value))
    tree.save(update_fields=list(facts))
    for name, value in back.items():
        if name.startswith(STAY):
            _put_back_stay(tree, name.removeprefix(STAY), value)
        elif name.startswith(GRAFT):
            _put_back_graft(tree, int(name.removeprefix(GRAFT)), value)


def _put_back_stay(tree: Tree, since: str, place: object) -> None:
    if place is None:
        tree.stays.filter(since=since).delete()
    else:
        Stay.objects.update_or_create(
            tree=tree, since=date.fromisoformat(since), defaults={"place": str(place)}
        )


def _put_back_graft(tree: Tree, pk: int, state: object) -> None:
    """Put a graft back; one whose cultivar was grafted anew since stays ended."""
    graft = tree.grafts.get(pk=pk)
    if state is None:
        graft.delete()
        return
    living = tree.grafts.filter(ended_on=None).exclude(pk=pk)
    same = {"species_key": graft.species_key, "cultivar": graft.cultivar}
    if state == LIVING and living.filter(**same).exists():
        return
    graft.ended_on = date.fromisoformat(str(state)) if state else None
    graft.save(update_fields=["ended_on"])


def _field(name: str) -> "Field[object, object]":
    return cast("Field[object, object]", Tree._meta.get_field(name))


def _plain(value: object) -> object:
    return value.isoformat() if isinstance(value, date) else value
