"""What forbids picking for a while: a spray, as its label says, or raw manure."""

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from typing import Any

from django.db import transaction
from django.utils.translation import gettext

from care.actions.same_job import (
    Answer,
    Reply,
    decide,
    join_entry,
    lock_trees,
    sprays_near,
)
from care.models import LogEntry
from orchard.actions.places import raise_revision
from orchard.models import Person, Site, Tree

# Days between raw manure and harvest: USDA National Organic Program,
# 7 CFR 205.203(c)(1)(ii) and (iii).
MANURE_DAYS_TOUCHING = 120  # fruit that touches the soil, windfalls among it
MANURE_DAYS_HANGING = 90


def last_held_day(on: date, waiting_days: int) -> date | None:
    """Return the last day without picking: after 7 days' wait from the 1st, the 7th.

    ``None`` where nothing has to be waited for.
    """
    return on + timedelta(days=waiting_days - 1) if waiting_days else None


def manure_days(*, touches_soil: bool) -> int:
    """Return how long fruit waits after raw manure."""
    return MANURE_DAYS_TOUCHING if touches_soil else MANURE_DAYS_HANGING


@transaction.atomic
def log_spray(
    *,
    site: Site,
    trees: Iterable[Tree],
    product: str,
    waiting_days: int,
    person: Person | None,
    on: date,
    now: datetime,
    note: str = "",
    reply: Reply | None = None,
) -> list[LogEntry]:
    """Write what was sprayed on ``trees``, and how long its label has fruit wait.

    Both are the person's words; nothing here advises a spray. ``reply`` is the answer
    where some of the trees were sprayed lately; where it is the same spray, the person
    is named there too, the longer wait counts, and only the other trees get an entry,
    which are returned.

    Raises
    ------
    SameJobError
        Some were sprayed lately and nobody said yet whether this is that spray.
    """
    trees = list(trees)
    lock_trees(tree.pk for tree in trees)
    near = sprays_near(trees, on)
    if near and decide(near, reply) is Answer.SAME:
        held = last_held_day(on, waiting_days)
        for entry in near:
            join_entry(entry, person)
            _hold_longer(entry, held, person)
        known = {entry.tree_id for entry in near}
        trees = [tree for tree in trees if tree.pk not in known]
    entries = _write_held(
        site,
        trees,
        waiting_days,
        on,
        kind="spray",
        product=product,
        person=person,
        recorded_at=now,
        note=note,
    )
    raise_revision(site)
    return entries


def _write_held(
    site: Site,
    trees: Iterable[Tree],
    waiting_days: int,
    on: date,
    *,
    kind: str,
    **values: Any,
) -> list[LogEntry]:
    """Write one entry a tree of work after which its fruit has to wait."""
    return LogEntry.objects.bulk_create(
        LogEntry(
            site=site,
            tree=tree,
            what=LogEntry.What.DONE,
            kind=kind,
            action=kind,
            on=on,
            amount=waiting_days,
            unit="d",
            held_until=last_held_day(on, waiting_days),
            **values,
        )
        for tree in trees
    )


def _hold_longer(entry: LogEntry, held: date | None, person: Person | None) -> None:
    """Of two people who tell one spray differently the longer wait counts."""
    if held is None or (entry.held_until is not None and entry.held_until >= held):
        return
    days = (held - entry.on).days + 1
    change = gettext("{who} has {days} days to wait, where {before} stood.").format(
        who=person.shown_name if person else gettext("somebody"),
        days=days,
        before=f"{entry.amount:.0f}",
    )
    entry.amount, entry.held_until = days, held
    entry.note = f"{entry.note}\n{change}".strip()
    entry.save(update_fields=["amount", "held_until", "note"])


@transaction.atomic
def log_manure(
    *,
    site: Site,
    trees: Iterable[Tree],
    touches_soil: bool,
    person: Person | None,
    on: date,
    now: datetime,
    note: str = "",
) -> list[LogEntry]:
    """Write that raw manure was spread under ``trees``.

    ``touches_soil`` tells whether their fruit may lie on the ground.
    """
    waiting_days = manure_days(touches_soil=touches_soil)
    entries = _write_held(
        site,
        trees,
        waiting_days,
        on,
        kind="manure",
        word="touches_soil" if touches_soil else "hangs",
        person=person,
        recorded_at=now,
        note=note,
    )
    raise_revision(site)
    return entries
