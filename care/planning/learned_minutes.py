"""How long the work of a place takes: the guesses of the rules, corrected by its logs.

A time counts against the guess of the task that it was logged for; a whole walk's time
is shared among its kinds of work as :func:`care.scheduling.minutes.lessons_of_round`
has it.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from django.db.models import Q

from care.models import LogEntry, Task
from care.proposals import Proposal
from care.scheduling.minutes import (
    ENOUGH_FOR_ONE_TREE,
    MEAN_OVER_MEDIAN,
    TimedWork,
    factor_of_tree,
    learned_factor,
    lessons_of_round,
    mean_over_median,
    middle_half,
)

#: The kind of the entry that tells how long a whole walk took [min].
WALK_MINUTES = "walk_minutes"
#: More than all kinds together learn from.
MOST_ENTRIES = 600
MOST_WALKS = 60

Work = Task | Proposal
Walker = tuple[int | None, int | None, date]  # person, helper, day


@dataclass(frozen=True, slots=True)
class WalkTime:
    """How long a walk takes one person [min]; a range once times were logged."""

    minutes: float
    usual: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class LearnedMinutes:
    """What the logged times of one site teach; without any the guesses stand.

    ``kinds`` and ``trees`` are factors by kind, and by kind and tree; ``strays`` what
    times like those came to once they are applied.
    """

    kinds: Mapping[str, float] = field(default_factory=dict)
    trees: Mapping[tuple[str, int], float] = field(default_factory=dict)
    strays: Sequence[TimedWork] = ()

    @property
    def over_usual(self) -> float:
        """Mean over usual time: what the sum of usual times is too short by."""
        return mean_over_median(self.strays)

    def minutes_of(self, work: Work) -> float:
        """Return the usual time of one piece of work [min]."""
        kind = self.kinds.get(work.kind, 1.0)
        return work.effort_minutes * self.trees.get((work.kind, work.tree_id), kind)

    def walk(self, works: Iterable[Work]) -> WalkTime:
        """Return how long the work of one walk takes together."""
        minutes = [self.minutes_of(work) for work in works]
        return WalkTime(
            sum(minutes) * self.over_usual, middle_half(minutes, self.strays)
        )


GUESSES = LearnedMinutes()


def learn_minutes(sites: Collection[int], on: date) -> dict[int, LearnedMinutes]:
    """Return what each of some sites' logs teach up to a day, by the sites' ids.

    In one query, or in two where whole walks were timed.
    """
    timed = list(
        LogEntry.objects.filter(
            Q(minutes_spent__isnull=False) | Q(kind=WALK_MINUTES),
            site__in=sites,
            on__lte=on,
            voided_at=None,
        )
        .select_related("task")
        .order_by("-on", "-recorded_at", "-id")[: MOST_ENTRIES * max(len(sites), 1)]
    )
    walks = [entry for entry in timed if entry.kind == WALK_MINUTES][:MOST_WALKS]
    walked = _walked(walks)
    return {
        pk: _learned(
            [entry for entry in timed if entry.site_id == pk],
            [(walk, walked[walk.pk]) for walk in walks if walk.site_id == pk],
        )
        for pk in sites
    }


def _walked(walks: Sequence[LogEntry]) -> dict[int, list[LogEntry]]:
    """Return what was ticked on each walk: that day, by that person, until they said."""
    if not walks:
        return {}
    ticked = LogEntry.objects.filter(
        site__in={walk.site_id for walk in walks},
        on__in={walk.on for walk in walks},
        task__isnull=False,
        what__in=[LogEntry.What.DONE, LogEntry.What.HARVESTED],
        voided_at=None,
    ).select_related("task")
    of_day: dict[tuple[int, Walker], list[LogEntry]] = defaultdict(list)
    for entry in ticked:
        of_day[entry.site_id, _walker(entry)].append(entry)
    return {
        walk.pk: [
            entry
            for entry in of_day[walk.site_id, _walker(walk)]
            if entry.recorded_at <= walk.recorded_at
        ]
        for walk in walks
    }


def _walker(entry: LogEntry) -> Walker:
    return entry.person_id, entry.helper_id, entry.on


def _learned(
    timed: Sequence[LogEntry], walks: Sequence[tuple[LogEntry, list[LogEntry]]]
) -> LearnedMinutes:
    """Return what times teach; the newest come first."""
    lessons: list[tuple[date, str, int | None, TimedWork]] = [
        (entry.on, entry.task.kind, entry.tree_id, work)
        for entry in timed
        if entry.task is not None and (work := _timed(entry)) is not None
    ]
    for walk, ticked in walks:
        lessons += [
            (walk.on, kind, None, work)
            for kind, work in _lessons_of_walk(walk, ticked).items()
        ]
    if not lessons:
        return GUESSES
    lessons.sort(key=lambda lesson: lesson[0])
    of_kind: dict[str, list[TimedWork]] = defaultdict(list)
    of_tree: dict[tuple[str, int], list[TimedWork]] = defaultdict(list)
    for _, kind, tree_id, work in lessons:
        of_kind[kind].append(work)
        if tree_id is not None:
            of_tree[kind, tree_id].append(work)
    kinds = {kind: learned_factor(works) for kind, works in of_kind.items()}
    return LearnedMinutes(
        kinds=kinds,
        trees={
            (kind, tree_id): factor_of_tree(of_kind[kind], works)
            for (kind, tree_id), works in of_tree.items()
            if len(works) >= ENOUGH_FOR_ONE_TREE
        },
        strays=tuple(
            TimedWork(work.base_minutes * kinds[kind], work.actual_minutes)
            for _, kind, _, work in lessons
        ),
    )


def _timed(entry: LogEntry) -> TimedWork | None:
    if not entry.minutes_spent or entry.task is None or not entry.task.effort_minutes:
        return None
    return TimedWork(entry.task.effort_minutes, entry.minutes_spent)


def _lessons_of_walk(
    walk: LogEntry, ticked: Iterable[LogEntry]
) -> dict[str, TimedWork]:
    """Return what a walk's time teaches of each kind, without what was timed alone.

    A walk that took as long as its tasks' guesses say together teaches that they hold:
    so their sum is raised first, as it is where it is told.
    """
    planned: dict[str, float] = defaultdict(float)
    left = walk.amount or 0.0
    for entry in ticked:
        if entry.minutes_spent:
            left -= entry.minutes_spent
        elif entry.task is not None:
            planned[entry.task.kind] += entry.task.effort_minutes * MEAN_OVER_MEDIAN
    return lessons_of_round(planned, left)
