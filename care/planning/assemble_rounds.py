"""Gather open tasks into rounds, and keep yesterday's rounds where most tasks go."""

import hashlib
import uuid
from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from care.facts import TreeFacts
from care.models import Round, Task
from care.proposals import Proposal
from care.scheduling.fresh_rounds import fresh_rounds
from care.scheduling.rounds import (
    EVERY_DAY_USABLE,
    OpeningCost,
    Window,
    keep_first,
)
from orchard.models import Site

Place = tuple[int | None, date]  # block, day


# Rounds are planned as far ahead as people plan their weeks; later tasks wait.
PLANNED_DAYS = 60
# A walk may take a task along early, or let it wait for company, but no longer than
# this; wide windows are for people, not for rounds. Common practice, no source.
LEEWAY = timedelta(days=7)
# No task of a round lies farther ahead: one that begins within the days planned, at
# its latest.
REACH_DAYS = PLANNED_DAYS + 2 * LEEWAY.days


def round_window(task_id: str, work: Task | Proposal) -> Window:
    """Return a task's window as rounds see it."""
    return Window(
        task_id=task_id,
        earliest=max(work.earliest, work.due - LEEWAY),
        due=work.due,
        latest=min(work.latest, work.due + LEEWAY),
        minutes=work.effort_minutes,
        is_urgent=work.is_urgent,
    )


@dataclass(slots=True)
class Assembled:
    """What changed among rounds; ``moved`` are tasks whose round changed.

    ``ahead`` are rounds that had begun and go to another day: they begin anew there.
    """

    created: list[Round] = field(default_factory=list)
    changed: list[Round] = field(default_factory=list)
    ahead: list[Round] = field(default_factory=list)
    moved: list[Task] = field(default_factory=list)


def days_of_tasks(
    tasks: Iterable[Task],
    today: date,
    *,
    opening_cost: OpeningCost = EVERY_DAY_USABLE,
    shift_days: Collection[date] = (),
    is_fresh: bool = False,
) -> dict[Task, date]:
    """Choose the day of every firm task, keeping yesterday's choice where legal.

    ``opening_cost`` is that of a walk by date; on ``shift_days`` people come anyhow.
    ``is_fresh`` takes a fresh plan instead, where one is worth its moves.
    """
    planned = tasks_of_rounds(tasks, today)
    windows = [round_window(task_id, task) for task_id, task in planned.items()]
    previous = {
        task_id: task.round.day for task_id, task in planned.items() if task.round
    }
    fresh = None
    if is_fresh:
        fresh = fresh_rounds(
            windows,
            previous,
            today=today,
            opening_cost=opening_cost,
            frozen_days=shift_days,
        )
    days = keep_first(
        windows,
        fresh.plan if fresh else previous,
        today=today,
        opening_cost=opening_cost,
        frozen_days=shift_days,
    )
    return {planned[task_id]: day for task_id, day in days.items()}


def tasks_of_rounds(tasks: Iterable[Task], today: date) -> dict[str, Task]:
    """Return the tasks that rounds are planned of, by the text that names them."""
    return {
        str(task.public_id): task
        for task in tasks
        if task.is_firm and task.earliest <= today + timedelta(days=PLANNED_DAYS)
    }


def assemble(
    site: Site,
    days: Mapping[Task, date],
    trees: Mapping[int, TreeFacts],
    stored: Iterable[Round],
    now: datetime,
) -> Assembled:
    """Put tasks into rounds, one a block and day.

    Parameters
    ----------
    days
        The day of every firm task.
    trees
        Every tree that has a task, by its id.
    stored
        The site's rounds that are not withdrawn; tasks refer to them.
    """
    groups: dict[Place, list[Task]] = defaultdict(list)
    for task, day in days.items():
        groups[(trees[task.tree_id].block_id, day)].append(task)
    kept = _claim(groups, stored)
    result = Assembled()
    for place in sorted(groups, key=lambda place: (place[1], place[0] or 0)):
        one = kept.get(place)
        if one is None:
            one = Round(site=site, block_id=place[0], day=place[1], uid=uuid.uuid4())
            result.created.append(one)
        if one.begun_at is not None and one.day != place[1]:
            result.ahead.append(one)
        if _refresh(one, place, _digest(groups[place], trees), now) and one.pk:
            result.changed.append(one)
        for task in groups[place]:
            if task.round_id is None or task.round_id != one.pk:
                task.round = one
                result.moved.append(task)
    _withdraw_empty(stored, kept, result, now)
    return result


def _claim(
    groups: Mapping[Place, list[Task]], stored: Iterable[Round]
) -> dict[Place, Round]:
    """Give each stored round the place where most of its tasks go now."""
    votes: dict[Round, Counter[Place]] = defaultdict(Counter)
    for place, tasks in groups.items():
        for task in tasks:
            if task.round is not None and task.round.block_id == place[0]:
                votes[task.round][place] += 1
    known = set(stored)
    claims = sorted(
        (
            (-count, one.pk, place[1], one, place)
            for one, counter in votes.items()
            if one in known
            for place, count in counter.items()
        ),
        key=lambda claim: claim[:3],
    )
    kept: dict[Place, Round] = {}
    given: set[Round] = set()
    for _count, _pk, _day, one, place in claims:
        if one not in given and place not in kept:
            kept[place] = one
            given.add(one)
    return kept


def _refresh(one: Round, place: Place, digest: str, now: datetime) -> bool:
    """Bring a round up to date; raise its sequence only when its day changes."""
    is_moved = one.day != place[1]
    is_new = one.pk is None
    if not (is_new or is_moved or one.digest != digest or one.is_withdrawn):
        return False
    if is_moved:
        one.day = place[1]
        one.sequence += 1
    one.digest = digest
    one.is_withdrawn = False
    one.changed_at = now
    return True


def _digest(tasks: Iterable[Task], trees: Mapping[int, TreeFacts]) -> str:
    """Return a mark that differs when what a calendar would say differs."""
    lines = sorted(
        " ".join(
            (
                str(task.tree_id),
                trees[task.tree_id].name,
                task.kind,
                task.key,
                task.action,
                _rounded(task.amount),
            )
        )
        for task in tasks
    )
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def _rounded(amount: float | None) -> str:
    return "" if amount is None else f"{amount:.3g}"


def _withdraw_empty(
    stored: Iterable[Round],
    kept: Mapping[Place, Round],
    result: Assembled,
    now: datetime,
) -> None:
    in_use = set(kept.values())
    for one in stored:
        if one not in in_use:
            one.is_withdrawn = True
            one.changed_at = now
            result.changed.append(one)
