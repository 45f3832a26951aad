"""Many ticks in one tap: which tasks that may take, and the notice that takes it back."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext, ngettext

from care.actions.one_go import entries_at_once
from care.models import LogEntry, Task
from care.views.days import day_words, full_day
from care.views.task_lines import is_now
from care.views.unlogged_water import is_asked
from care.views.wording import QUESTIONS, reason_of
from orchard.views.site_page import SitePage

#: The part of the round's address that names what was just ticked.
TICKED = "ticked"


@dataclass(frozen=True, slots=True)
class DayChoice:
    """A day on which all was done, and what its button says."""

    on: date
    words: str


@dataclass(frozen=True, slots=True)
class Ticked:
    """What was just ticked in one tap, by one of its entries."""

    public_id: UUID
    words: str


def may_tick_unseen(task: Task, today: date) -> bool:
    """Whether a tap on many may tick a task of the round: it is due and asks nothing."""
    return (
        is_now(task, today)
        and not is_asked(task)
        and reason_of(task).code not in QUESTIONS
    )


def was_done(task: Task, on: date, today: date) -> bool:
    """Whether "all done" on a day means a task too: its window had begun by then.

    What came up since was on nobody's round that day. A planting changes what stands
    where and is ticked by itself.
    """
    return (
        may_tick_unseen(task, today) and task.earliest <= on and task.kind != "planting"
    )


def day_choices(tasks: Iterable[Task], today: date) -> tuple[DayChoice, ...]:
    """Return the days offered for "all done", where they would tick two or more."""
    tasks = list(tasks)
    found = []
    for on in (today - timedelta(days=1), today):
        number = sum(was_done(task, on, today) for task in tasks)
        if number > 1:
            words = gettext("All {number} done {day}, {date}").format(
                number=number, day=day_words(on, today), date=full_day(on)
            )
            found.append(DayChoice(on, words))
    return tuple(found)


def to_round(page: SitePage, entries: Sequence[LogEntry]) -> HttpResponse:
    """Go back to the round, which takes back all of ``entries`` in one tap."""
    query = {TICKED: str(entries[0].public_id)} if entries else {}
    return redirect(reverse("round", args=[page.site.slug], query=query))


def ticked(page: SitePage, named: str) -> Ticked | None:
    """Return what was ticked at once with the entry that the address names."""
    try:
        public_id = UUID(named)
    except ValueError:
        return None
    entry = LogEntry.objects.filter(
        site=page.site, public_id=public_id, person=page.person, voided_at=None
    ).first()
    if entry is None:
        return None
    number = entries_at_once(entry).count()
    words = ngettext(
        "{number} line of the log was written in one tap.",
        "{number} lines of the log were written in one tap.",
        number,
    )
    return Ticked(public_id, words.format(number=number))
