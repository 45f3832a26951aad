"""What a log entry changes of its tree, kept so that it can be taken back."""

from datetime import date
from typing import cast

from django.db.models import Field

from care.models import LogEntry
from orchard.models import Tree

Change = dict[str, list[object]]  # field -> [before, after]


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
