"""A helper's sheet: one round's trees in walking order, and nothing else."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.db.models import F, Prefetch, Q, QuerySet
from django.utils.translation import gettext

from care.actions.helper_links import DAYS_AFTER
from care.forms.trees import NoteForm
from care.forms.work import DoneForm
from care.models import Helper, LogEntry, Round, Task
from care.planning.walk_order import corners_for, in_walking_order
from care.views.cautions import caution_words
from care.views.check_lists import check_list
from care.views.days import day_words
from care.views.log_lines import log_line
from care.views.log_people import doers_to_helpers, when_done, with_people
from care.views.reasons import sentence
from care.views.task_lines import task_line
from care.views.wording import QUESTIONS
from orchard.models import Site, Tree
from orchard.units import UnitSystem

Status = Task.Status


@dataclass(frozen=True, slots=True)
class HelperLine:
    """One task as a helper reads it; ``undo`` is the entry that is theirs to undo."""

    public_id: UUID
    title: str
    amount: str
    when: str
    how: str
    checks: tuple[str, ...]
    done: str
    undo: UUID | None
    form: DoneForm | None
    note_form: NoteForm


@dataclass(frozen=True, slots=True)
class HelperSheet:
    """The round: what to mind first, then line by line."""

    cautions: tuple[str, ...]
    lines: tuple[HelperLine, ...]
    left: int


def helper_tasks(helper: Helper, one: Round, today: date) -> QuerySet[Task]:
    """Return the tasks of a helper's round, by block and row.

    The plan gives what a round left over to a round of the day after; the link lives
    until then, so that such work stays on it. Questions for members are left out.
    """
    site_tasks = Task.objects.filter(
        site_id=helper.link.site_id, tree__status=Tree.Status.ALIVE
    ).exclude(status=Status.WITHDRAWN)
    ticked = LogEntry.objects.filter(helper__link=helper.link_id, task__isnull=False)
    theirs = Q(round=one) | Q(pk__in=ticked.values("task_id"))
    if today > one.day:
        theirs |= Q(
            status=Status.OPEN,
            tree__block=one.block_id,
            round__day__gt=one.day,
            round__day__lte=one.day + DAYS_AFTER,
            earliest__lte=one.day,
        )
    return (
        site_tasks.filter(theirs, is_firm=True)
        .exclude(reason__code__in=QUESTIONS)
        .select_related("tree__block", "round", "site")
        .order_by(
            F("tree__block__position").asc(nulls_last=True),
            "tree__block_id",
            "tree__position",
            "tree__name",
            "due",
            "id",
        )
    )


def helper_sheet(
    helper: Helper,
    one: Round,
    today: date,
    units: UnitSystem,
    refused: dict[UUID, DoneForm | NoteForm],
) -> HelperSheet:
    """Put a helper's round on one sheet.

    ``refused`` holds forms with errors by the task they were sent for.
    """
    standing = with_people(LogEntry.objects.filter(voided_at=None))
    tasks = helper_tasks(helper, one, today).prefetch_related(
        Prefetch("log", queryset=standing, to_attr="standing")
    )
    found = list(tasks)
    rows = in_walking_order(found, corners_for(helper.link.site_id, found))
    todo = [task for task in rows if task.status == Status.OPEN]
    return HelperSheet(
        cautions=caution_words(_codes(todo)),
        lines=tuple(
            _line(task, helper, today, units, refused.get(task.public_id))
            for task in rows
        ),
        left=len(todo),
    )


def _codes(tasks: Iterable[Task]) -> list[str]:
    return sorted({code for task in tasks for code in task.cautions})


def _line(
    task: Task,
    helper: Helper,
    today: date,
    units: UnitSystem,
    refused: DoneForm | NoteForm | None,
) -> HelperLine:
    line = task_line(task, today, units)
    entry = _entry_of(task)
    form = refused if isinstance(refused, DoneForm) else None
    note_form = refused if isinstance(refused, NoteForm) else None
    is_open = task.status == Status.OPEN
    return HelperLine(
        public_id=task.public_id,
        title=line.title,
        amount=line.amount,
        when=line.when,
        how=sentence(task, today, units),
        checks=check_list(task),
        done=_done_words(task, entry, today, units),
        undo=entry.public_id if entry is not None and is_of(entry, helper) else None,
        form=(form or tick_form(task, today, units)) if is_open else None,
        note_form=note_form or note_form_of(task),
    )


def tick_form(
    task: Task, today: date, units: UnitSystem, data: object = None
) -> DoneForm:
    """Return the form that ticks one of many tasks on a page."""
    form = DoneForm(data, task=task, today=today, units=units)
    del form.fields["on"]  # a helper is there now
    del form.fields["minutes"]  # and walks; members say how long it took
    form.auto_id = f"task_{task.pk}_%s"
    return form


def note_form_of(task: Task, data: object = None) -> NoteForm:
    """Return the form for a note on the tree of one of many tasks on a page."""
    form = NoteForm(data)
    form.auto_id = f"note_{task.pk}_%s"
    return form


def _entry_of(task: Task) -> LogEntry | None:
    standing: Sequence[LogEntry] = getattr(task, "standing", ())
    closing = {LogEntry.What.DONE, LogEntry.What.SKIPPED, LogEntry.What.HARVESTED}
    return next((entry for entry in standing if entry.what in closing), None)


def is_of(entry: LogEntry, helper: Helper) -> bool:
    """Whether a helper wrote an entry or is named there too."""
    return entry.helper_id == helper.pk or helper in entry.also_by_helpers.all()


def _done_words(
    task: Task, entry: LogEntry | None, today: date, units: UnitSystem
) -> str:
    if task.status == Status.OPEN:
        return ""
    if entry is None or entry.what == LogEntry.What.SKIPPED:
        return gettext("Left out this time: nothing to do.")
    amount = log_line(entry, today, units).amount
    did = gettext("Done by {names} {when}").format(
        names=doers_to_helpers(entry),
        when=when_done(entry, task.site, today),
    )
    return f"{did}: {amount}." if amount else f"{did}."


def round_words(one: Round, site: Site, today: date) -> str:
    """Return where and when a round is, such as ``Long row, Saturday``."""
    place = one.block.name if one.block else site.name
    return f"{place}, {day_words(one.day, today)}"


@dataclass(frozen=True, slots=True)
class LoggedLine:
    """An entry of the log as a helper may read it: no whole names, no notes."""

    title: str
    amount: str
    detail: str


def logged_line(entry: LogEntry, today: date, units: UnitSystem) -> LoggedLine:
    """Return one entry in words; its tree and people must be at hand."""
    line = log_line(entry, today, units)
    detail = f"{doers_to_helpers(entry)}, {day_words(entry.on, today)}"
    return LoggedLine(line.title, line.amount, detail)
