"""What a log entry changes of its tree, kept so that it can be taken back."""

from datetime import date
from typing import cast

from django.db.models import Field

from care.models import LogEntry, Task
from orchard.models import Tree

Change = dict[str, list[object]]  # field -> [before, after]
#: What some work always leaves behind it.
ALWAYS: dict[tuple[str, str], dict[str, object]] = {
    ("establishing", "unstake"): {"support": Tree.Support.NONE},
    ("weeding", "fit_guard"): {"has_trunk_guard": True},
}


def write_work(task: Task, amount: float | None, on: date) -> Change | None:
    """Write what doing a task changes of its tree's facts; return what to keep of it."""
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
        case "potting", _ if amount:
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


def take_off_tree(entry: LogEntry) -> None:
    """Put back what an entry changed of its tree, unless it was changed since."""
    tree = entry.tree
    if tree is None or not entry.before:
        return
    back = {
        name: _field(name).to_python(before)
        for name, (before, after) in entry.before.items()
        if _plain(getattr(tree, name)) == after
    }
    for name, value in back.items():
        setattr(tree, name, value)
    tree.save(update_fields=list(back))


def _field(name: str) -> "Field[object, object]":
    return cast("Field[object, object]", Tree._meta.get_field(name))


def _plain(value: object) -> object:
    return value.isoformat() if isinstance(value, date) else value
