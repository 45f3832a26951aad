"""The walks a site's tasks would be gathered into, without writing anything."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from care.models import Task
from care.planning.assemble_rounds import REACH_DAYS, round_window
from care.planning.available_days import costs_ahead, shift_days
from care.planning.gather import gather
from care.planning.propose import propose
from care.planning.reconcile import Identity, wanted
from care.proposals import Proposal
from care.scheduling.rounds import keep_first, round_minutes
from orchard.models import Site


@dataclass(frozen=True, slots=True)
class Walk:
    """One block on one day; ``minutes`` sums the effort of its tasks."""

    day: date
    block_id: int | None
    tasks: tuple[Proposal, ...]
    minutes: int
    is_urgent: bool


def _name(identity: Identity) -> str:
    return "/".join(str(part) for part in identity)


def walks(site: Site, on: date, days: int) -> list[Walk]:
    """Return the walks of ``days`` days from ``on``, strictly as of ``on``.

    On the site's own planned day yesterday's rounds are kept where they still fit, as
    the plan itself does.
    """
    records = gather(site, on)
    closed = Task.objects.filter(site=site, status__in=["done", "skipped"])
    identities = list(closed.values_list("tree_id", "kind", "key"))
    finished = [identity for identity in identities if identity[2][:4] != "next"]
    kept = wanted(propose(records), records.work, finished, on)
    firm = {_name(key): value for key, value in kept.items() if value.is_firm}
    windows = [round_window(name, proposal) for name, proposal in firm.items()]
    chosen = keep_first(
        windows,
        _previous(site, on),
        today=on,
        opening_cost=costs_ahead(site, on, REACH_DAYS),
        frozen_days=shift_days(site, on),
    )
    blocks = {tree.id: tree.block_id for tree in records.trees}
    last = on + timedelta(days=days)
    groups: dict[tuple[date, int | None], list[str]] = defaultdict(list)
    for name, day in chosen.items():
        if day < last:
            groups[(day, blocks[firm[name].tree_id])].append(name)
    ordered = sorted(groups, key=lambda place: (place[0], place[1] or 0))
    return [_walk(place, groups[place], firm) for place in ordered]


def _previous(site: Site, on: date) -> dict[str, date]:
    if site.planned_on != on:
        return {}
    stored = Task.objects.filter(site=site, status="open", round__isnull=False)
    return {
        _name((tree_id, kind, key)): day
        for tree_id, kind, key, day in stored.values_list(
            "tree_id", "kind", "key", "round__day"
        )
    }


def _walk(
    place: tuple[date, int | None],
    names: Sequence[str],
    firm: dict[str, Proposal],
) -> Walk:
    day, block_id = place
    tasks = tuple(firm[name] for name in sorted(names))
    windows = [round_window(name, firm[name]) for name in names]
    return Walk(
        day=day,
        block_id=block_id,
        tasks=tasks,
        minutes=round_minutes(windows, dict.fromkeys(names, day))[day],
        is_urgent=any(task.is_urgent for task in tasks),
    )
