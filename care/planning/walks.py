"""The walks a site's tasks would be gathered into, without writing anything."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import ceil, floor

from care.models import Task
from care.planning.assemble_rounds import PLANNED_DAYS, REACH_DAYS, round_window
from care.planning.available_days import costs_ahead, shift_days
from care.planning.gather import gather
from care.planning.learned_minutes import LearnedMinutes, Work, learn_minutes
from care.planning.propose import propose
from care.planning.reconcile import Identity, wanted
from care.planning.walk_order import LADDER_CAUTIONS, ordered_trees
from care.scheduling.even_out import EvenedOut, even_out
from care.scheduling.rounds import keep_first
from orchard.models import Site, Tree

Works = Mapping[str, Work]


@dataclass(frozen=True, slots=True)
class Walk:
    """One block on one day, its tasks in walking order; ``minutes`` of one person."""

    day: date
    block_id: int | None
    tasks: tuple[Work, ...]
    minutes: int
    is_urgent: bool


@dataclass(frozen=True, slots=True)
class TooLong:
    """A day on which the walks take longer than people have; what could wait."""

    day: date
    over_minutes: int
    could_wait: Work | None


@dataclass(frozen=True, slots=True)
class Walks:
    """The walks of some days, and which of these days stay too long."""

    walks: tuple[Walk, ...]
    too_long: tuple[TooLong, ...] = ()


def walks(site: Site, on: date, days: int, *, most_minutes: int | None = None) -> Walks:
    """Return the walks of ``days`` days from ``on``, strictly as of ``on``.

    On the day that the site is planned for they are the walks its pages show. Only what
    people offer and which shifts are published is known as it is now.

    Parameters
    ----------
    most_minutes
        As long as all walks of a day may take one person; work is moved off longer
        days as far as its windows let it.
    """
    works, previous = _works(site, on)
    learned = learn_minutes([site.pk], on)[site.pk]
    windows = [
        replace(round_window(name, work), minutes=ceil(learned.minutes_of(work)))
        for name, work in works.items()
    ]
    cost, shifts = costs_ahead(site, on, REACH_DAYS), shift_days(site, on)
    chosen = keep_first(
        windows, previous, today=on, opening_cost=cost, frozen_days=shifts
    )
    evened = EvenedOut(chosen, {}, {})
    if most_minutes is not None:
        evened = even_out(
            windows,
            chosen,
            today=on,
            # What is evened out are usual minutes, whose sum is told a little higher.
            most_minutes=max(floor(most_minutes / learned.over_usual), 1),
            opening_cost=cost,
            frozen_days=shifts,
        )
    last = on + timedelta(days=days)
    return Walks(
        tuple(_walks(site, works, evened.plan, learned, last)),
        tuple(
            TooLong(
                day,
                ceil(minutes * learned.over_usual),
                works[evened.waits[day]] if day in evened.waits else None,
            )
            for day, minutes in evened.over_minutes.items()
            if day < last
        ),
    )


def _name(identity: Identity) -> str:
    return "/".join(str(part) for part in identity)


def _works(site: Site, on: date) -> tuple[Works, dict[str, date]]:
    """Return the work to walk for by name, and on which days it is planned already."""
    horizon = on + timedelta(days=PLANNED_DAYS)
    if site.planned_on == on and site.planned_revision == site.revision:
        return _stored(site, horizon)
    records = gather(site, on)
    closed = Task.objects.filter(
        site=site,
        status__in=["done", "skipped"],
        log__on__lte=on,
        log__voided_at=None,
    )
    finished = [
        identity
        for identity in closed.values_list("tree_id", "kind", "key").distinct()
        if not identity[2].startswith("next")
    ]
    kept = wanted(propose(records), records.work, finished, on)
    firm = {
        _name(key): value
        for key, value in kept.items()
        if value.is_firm and value.earliest <= horizon
    }
    previous = _stored(site, horizon)[1] if site.planned_on == on else {}
    return firm, previous


def _stored(site: Site, horizon: date) -> tuple[dict[str, Work], dict[str, date]]:
    rows = Task.objects.filter(
        site=site, status="open", is_firm=True, earliest__lte=horizon
    ).select_related("round")
    tasks = {_name((row.tree_id, row.kind, row.key)): row for row in rows}
    days = {name: row.round.day for name, row in tasks.items() if row.round}
    return dict(tasks), days


def _walks(
    site: Site,
    works: Works,
    plan: Mapping[str, date],
    learned: LearnedMinutes,
    last: date,
) -> Iterable[Walk]:
    trees = site.trees.select_related("block").in_bulk(
        {work.tree_id for work in works.values()}
    )
    key = _walking_key(site, trees.values(), works.values())
    groups: dict[tuple[date, int | None], list[Work]] = defaultdict(list)
    for name, day in plan.items():
        if day < last:
            work = works[name]
            groups[day, trees[work.tree_id].block_id].append(work)
    ordered = {place: sorted(members, key=key) for place, members in groups.items()}
    for place in sorted(ordered, key=lambda place: (place[0], key(ordered[place][0]))):
        members = ordered[place]
        yield Walk(
            day=place[0],
            block_id=place[1],
            tasks=tuple(members),
            minutes=ceil(round(learned.walk(members).minutes, 6)),
            is_urgent=any(work.is_urgent for work in members),
        )


def _walking_key(
    site: Site, trees: Iterable[Tree], works: Iterable[Work]
) -> Callable[[Work], tuple[object, ...]]:
    """Return by what work is sorted: its tree's place on a walk past all trees."""
    trees = list(trees)
    has_places = any(tree.x_m is not None for tree in trees)
    corners = list(site.corners.all()) if has_places else []
    ladder = {
        work.tree_id for work in works if LADDER_CAUTIONS.intersection(work.cautions)
    }
    ordered = ordered_trees(trees, corners, ladder)
    place = {tree.pk: number for number, tree in enumerate(ordered)}
    return lambda work: (place[work.tree_id], work.due, work.kind, work.key)
