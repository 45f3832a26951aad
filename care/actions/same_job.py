"""The question that keeps one job from being counted twice: the same or a second.

Two phones, or a gate notebook typed in later, tell of one feeding, spray or harvest
twice. Neither adding both nor dropping one unasked is safe, so whoever comes second is
asked; until they answer nothing is written.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from uuid import UUID

from django.db.models import Q, QuerySet

from care.models import Helper, LogEntry
from orchard.models import Person, Tree

# Portions are weeks apart: another one sooner may be the same. Common practice,
# no source.
FEEDING_DAYS = 14
# Who writes a spray down late rarely misses its day by more. No source.
SPRAY_DAYS = 2
# Two people weigh one basket alike to about this share of it. No source.
HARVEST_SHARE = 0.10


class Answer(StrEnum):
    """What whoever was asked said."""

    SAME = "same"
    SECOND = "second"


@dataclass(frozen=True, slots=True)
class Reply:
    """An answer, and the entries that it was given on; it holds for no others."""

    answer: Answer
    seen: frozenset[UUID]


class SameJobError(Exception):
    """Such work stands in the log already: ask before a second entry is written."""

    def __init__(self, entries: Sequence[LogEntry]) -> None:
        super().__init__("Such work stands in the log already.")
        self.entries = tuple(entries)


def lock_trees(trees: Iterable[int]) -> None:
    """Let nobody else write of these trees until this transaction ends.

    Without it two people would both look, both find nothing and both write.
    """
    locked = Tree.objects.select_for_update(no_key=True).filter(pk__in=list(trees))
    list(locked.order_by("pk").values_list("pk"))


def decide(near: Sequence[LogEntry], reply: Reply | None) -> Answer:
    """Return whether new work is a second job or the same as ``near``.

    Raises
    ------
    SameJobError
        Nobody was asked yet, or what they were asked of is not all there is now.
    """
    if not near:
        return Answer.SECOND
    if reply is None or not {entry.public_id for entry in near} <= reply.seen:
        raise SameJobError(near)
    return reply.answer


def feedings_near(tree_id: int, key: str, on: date) -> list[LogEntry]:
    """Return feedings of one tree that a new one for ``key`` may repeat."""
    days = timedelta(days=FEEDING_DAYS)
    same_portion = Q(key=key) & ~Q(key="")
    is_near = Q(on__gt=on - days, on__lt=on + days)
    done = LogEntry.objects.filter(
        tree_id=tree_id, what=LogEntry.What.DONE, kind="feeding", action="feed"
    )
    return _standing(done.filter(same_portion | is_near))


def sprays_near(trees: Iterable[Tree], on: date) -> list[LogEntry]:
    """Return sprays of any of ``trees`` that a new one may repeat.

    Of whatever product: names are typed, and a second product so soon is worth a
    question of its own.
    """
    days = timedelta(days=SPRAY_DAYS)
    return _standing(
        LogEntry.objects.filter(
            tree__in=list(trees),
            kind="spray",
            on__gte=on - days,
            on__lte=on + days,
        )
    )


def harvests_near(tree: Tree, mass_kg: float, on: date) -> list[LogEntry]:
    """Return pickings of the same day that weighed about the same."""
    return _standing(
        LogEntry.objects.filter(
            tree=tree,
            what=LogEntry.What.HARVESTED,
            on=on,
            amount__gte=(1 - HARVEST_SHARE) * mass_kg,
            amount__lte=mass_kg / (1 - HARVEST_SHARE),
        )
    )


def _standing(entries: QuerySet[LogEntry]) -> list[LogEntry]:
    return list(entries.filter(voided_at=None).order_by("-on", "-recorded_at", "-id"))


def join_entry(
    entry: LogEntry, person: Person | None, helper: Helper | None = None
) -> bool:
    """Name somebody beside who wrote an entry; whether they were not named yet.

    Part of an action: it opens no transaction of its own.
    """
    if person is not None and person.pk != entry.person_id:
        if entry.also_by.filter(pk=person.pk).exists():
            return False
        entry.also_by.add(person)
        return True
    if helper is not None and helper.pk != entry.helper_id:
        if entry.also_by_helpers.filter(pk=helper.pk).exists():
            return False
        entry.also_by_helpers.add(helper)
        return True
    return False


def leave_entry(
    entry: LogEntry, person: Person | None, helper: Helper | None = None
) -> bool:
    """Take somebody's name off an entry that another wrote; whether it was there."""
    if person is not None and entry.also_by.filter(pk=person.pk).exists():
        entry.also_by.remove(person)
        return True
    if helper is not None and entry.also_by_helpers.filter(pk=helper.pk).exists():
        entry.also_by_helpers.remove(helper)
        return True
    return False


def is_shared(entry: LogEntry) -> bool:
    """Whether anybody is named beside who wrote an entry."""
    return entry.also_by.exists() or entry.also_by_helpers.exists()
