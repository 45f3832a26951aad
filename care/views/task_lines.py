"""Tasks as the lines that a person reads, ticks and opens."""

from collections import Counter
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.utils.translation import gettext, gettext_noop

from care.forms.work import amount_field, planned_amount
from care.models import Task
from care.views.days import by_day, day_range, day_words, late_since, on_day
from care.views.wording import (
    QUESTIONS,
    ROW_VERBS,
    reason_of,
    task_amount,
    task_title,
)
from orchard.units import UnitSystem

NO_BLOCK = gettext_noop("Elsewhere")
#: Kinds whose urgent work is of no use after sunset.
BEFORE_DARK = frozenset({"cold", "freeze"})


@dataclass(frozen=True, slots=True)
class AmountBox:
    """The box in a line where another amount than the planned one is typed."""

    label: str
    value: str
    wrong: str = ""


@dataclass(frozen=True, slots=True)
class TaskLine:
    """One line: what, how much (and of what), until when.

    ``box`` is there where what was given is measured and may differ from the plan.
    """

    public_id: UUID
    title: str
    amount: str
    when: str
    is_late: bool
    is_question: bool
    can_tick: bool
    box: AmountBox | None = None


@dataclass(frozen=True, slots=True)
class RowButton:
    """Finish all tasks of one action in a block at once."""

    block_id: int
    kind: str
    action: str
    is_urgent: bool
    words: str


@dataclass(frozen=True, slots=True)
class Section:
    """The lines of one block; ``minutes`` is how long they take, in words."""

    block_id: int | None
    title: str
    lines: tuple[TaskLine, ...]
    rows: tuple[RowButton, ...]
    minutes: str = ""


def chosen_day(task: Task) -> date:
    """Return the day of a task's round, else the day it is due."""
    return task.round.day if task.round else task.due


def is_late(task: Task, today: date) -> bool:
    """Whether the last day of its window has passed."""
    return task.latest < today


def is_now(task: Task, today: date) -> bool:
    """Whether a firm task belongs to today's round."""
    if not task.is_firm or (task.not_before and task.not_before > today):
        return False
    return task.is_urgent or is_late(task, today) or chosen_day(task) <= today


def _when(task: Task, today: date) -> str:
    if is_late(task, today):
        return late_since(task.latest, today)
    if not task.is_firm and task.likely_from and task.likely_to:
        days = day_range(task.likely_from, task.likely_to, today)
        return gettext("likely {days}").format(days=days)
    if not task.is_firm:
        return gettext("likely {days}").format(days=day_words(task.due, today))
    if task.is_urgent and task.kind in BEFORE_DARK and task.latest <= today:
        return gettext("before dark")
    if is_now(task, today):
        return by_day(task.latest, today)
    return on_day(chosen_day(task), today)


def task_line(task: Task, today: date, units: UnitSystem, note: str = "") -> TaskLine:
    """Return one task as a line; its tree and round must be at hand."""
    reason = reason_of(task)
    is_question = reason.code in QUESTIONS
    product = reason.text("product") if task.action == "feed" else ""
    said = [part for part in (product, _when(task, today), note) if part]
    return TaskLine(
        public_id=task.public_id,
        title=task_title(task),
        amount=task_amount(task, units),
        when=" · ".join(said),
        is_late=is_late(task, today),
        is_question=is_question,
        can_tick=task.is_firm and not is_question,
        box=amount_box(task, units) if task.is_firm and not is_question else None,
    )


def amount_box(task: Task, units: UnitSystem) -> AmountBox | None:
    """Return the box for what was really given, as the form of the tick reads it."""
    field = amount_field(task, units) if task.amount is not None else None
    if field is None:
        return None
    return AmountBox(
        label=str(field.label),
        value=str(field.prepare_value(planned_amount(task))),
    )


def _no_note(task: Task) -> str:
    del task
    return ""


def sections(
    tasks: Iterable[Task],
    today: date,
    units: UnitSystem,
    note_of: Callable[[Task], str] = _no_note,
    shown: Collection[int] | None = None,
) -> tuple[Section, ...]:
    """Return tasks as lines by block, in the order of ``tasks``.

    ``note_of`` adds what else to say beside a task's day. Of many tasks only those
    get a line whose ids are ``shown``; the buttons for a row count all of it.
    """
    by_block: dict[int | None, list[Task]] = {}
    for task in tasks:
        by_block.setdefault(task.tree.block_id, []).append(task)
    return tuple(
        Section(
            block_id=block_id,
            title=block_name(members[0]),
            lines=tuple(
                task_line(task, today, units, note_of(task))
                for task in members
                if shown is None or task.pk in shown
            ),
            rows=row_buttons(members, block_id),
        )
        for block_id, members in by_block.items()
        if shown is None or any(task.pk in shown for task in members)
    )


def block_name(task: Task) -> str:
    """Return the name of the block a task's tree stands in."""
    block = task.tree.block
    return block.name if block else gettext(NO_BLOCK)


def row_buttons(tasks: Iterable[Task], block_id: int | None) -> tuple[RowButton, ...]:
    """Return what can be finished for the whole row: work of two tasks or more."""
    if block_id is None:
        return ()
    counts = Counter(
        (task.kind, task.action, task.is_urgent)
        for task in tasks
        if reason_of(task).code not in QUESTIONS
        and (task.kind, task.action) in ROW_VERBS
    )
    return tuple(
        RowButton(block_id, kind, action, urgent, _row_words(kind, action, number))
        for (kind, action, urgent), number in counts.items()
        if number > 1
    )


def _row_words(kind: str, action: str, number: int) -> str:
    return gettext("All {number} {done}").format(
        number=number, done=ROW_VERBS[kind, action]
    )
