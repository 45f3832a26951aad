"""What a phone sends later of tasks, of the log and of walks; the table of it all."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from uuid import UUID

from django.shortcuts import get_object_or_404
from django.utils.translation import gettext, ngettext

from care.actions.drained import complete_watering
from care.actions.late_work import log_late_work
from care.actions.logbook import write_note
from care.actions.one_go import undo_at_once, undo_go
from care.actions.same_job import SameJobError
from care.actions.sendings import Came, State, entry_sent_as
from care.actions.tasks import (
    NotOpenError,
    Outcome,
    postpone_task,
    skip_task,
    undo_entry,
)
from care.actions.walk_minutes import say_walk_minutes
from care.forms.drained import drained_of
from care.forms.walk_minutes import WalkMinutesForm
from care.forms.work import DoneForm, LaterForm, SkipForm
from care.models import LogEntry, Task
from care.views.days import full_day
from care.views.log_lines import log_line
from care.views.log_people import UNDONE, already_words
from care.views.same_job import reply_of
from care.views.sending_asks import asks
from care.views.sending_body import NotKeptError, Sent, gone, refused_form
from care.views.sending_rows import all_done, block_done, hose_run, water_all
from care.views.sending_trees import (
    task_photos,
    tree_harvest,
    tree_note,
    tree_observe,
    tree_photo,
    tree_water,
)
from care.views.walk_words import minutes_words
from care.views.wording import count_trees
from orchard.access import NOBODY_TO_ASK
from orchard.models import Tree


def _task(sent: Sent) -> Task:
    """Return the task meant; one that was deleted, by what it asked of its tree."""
    tasks = Task.objects.select_related("tree__block", "round", "site").filter(
        site=sent.page.site
    )
    found = tasks.filter(public_id=sent.public_id("task")).first()
    if found is None and sent.data.get("tree"):
        alike = tasks.filter(
            tree__public_id=sent.public_id("tree"),
            kind=sent.data.get("kind", ""),
            action=sent.data.get("action", ""),
            status__in=[Task.Status.OPEN, Task.Status.WITHDRAWN],
        )
        # Of several portions the one that was asked for about that day.
        found = min(alike, key=lambda task: _far_from(task, sent.day), default=None)
    if found is None:
        raise gone(
            gettext(
                "This task is no longer there. Write what you did on the page of its "
                "tree."
            )
        )
    return found


def _far_from(task: Task, day: date) -> tuple[bool, timedelta]:
    return task.status != Task.Status.OPEN, abs(task.due - day)


def _came(sent: Sent, task: Task, outcome: Outcome, note: str) -> Came:
    """Say what a tick or a skip came to, as the round would."""
    page = sent.page
    said = already_words(outcome, task, page.site, page.today, page.person)
    state = State.JOINED if outcome.is_joined else State.KEPT
    came = Came(state, said or _line_words(sent, outcome.entry), outcome.entry)
    if outcome.is_new or outcome.entry.note == note:
        return came
    return _keep_note(sent, task.tree, note, came)


def _keep_note(sent: Sent, tree: Tree, note: str, came: Came) -> Came:
    """Keep the note of a tick or a skip that wrote no line of its own."""
    if not note:
        return came
    page = sent.that_day
    entry = write_note(
        site=page.site,
        tree=tree,
        note=note,
        person=page.person,
        on=page.today,
        now=page.now,
    )
    words = gettext("{words} Your note is kept at the tree.").format(words=came.words)
    return replace(came, words=words, entry=came.entry or entry)


def _line_words(sent: Sent, entry: LogEntry) -> str:
    line = log_line(entry, sent.page.today, sent.page.units)
    return f"{line.title}."


def task_done(sent: Sent) -> Came:
    """Tick a task; one that the plan asks for no more is written down all the same."""
    task, page = _task(sent), sent.that_day
    form = DoneForm(
        sent.data,
        task=task,
        today=page.today,
        units=page.units,
        asks_drained=task.kind == "watering"
        and task.unit == "L"
        and task.tree.in_container,
    )
    if not form.is_valid():
        raise refused_form(form)
    given = form.cleaned_data
    work = {
        "task": task,
        "person": page.person,
        "on": given["on"],
        "now": page.now,
        "amount": given.get("amount"),
        "note": given["note"],
        "minutes": given["minutes"],
    }
    try:
        outcome = complete_watering(
            reply=reply_of(sent.data),
            has_drained=drained_of(given),
            drained_after_l=given.get("drained_after"),
            **work,
        )
    except SameJobError as same:
        raise asks(sent.page, same) from None
    except NotOpenError:
        return _with_photos(sent, _late(sent, log_late_work(**work)))
    return _with_photos(sent, _came(sent, task, outcome, given["note"]))


def _with_photos(sent: Sent, came: Came) -> Came:
    if came.entry is None or not sent.pictures:
        return came
    words = task_photos(sent, came.entry)
    return replace(came, words=f"{came.words} {words}")


def _late(sent: Sent, entry: LogEntry) -> Came:
    words = gettext(
        "{done} The plan had stopped asking for it meanwhile; it is in the log all "
        "the same."
    ).format(done=_line_words(sent, entry))
    return Came(State.LATE, words, entry)


def task_skip(sent: Sent) -> Came:
    """Leave a task out with a reason; what is no longer asked for needs none."""
    task, page = _task(sent), sent.that_day
    form = SkipForm(sent.data, kind=task.kind)
    if not form.is_valid():
        raise refused_form(form)
    given = form.cleaned_data
    try:
        outcome = skip_task(
            task=task,
            person=page.person,
            on=page.today,
            now=page.now,
            reason=given["reason"],
            note=given["note"],
        )
    except NotOpenError:
        words = gettext(
            "The plan had stopped asking for it, so there was nothing to skip."
        )
        late = Came(State.LATE, words)
        return _keep_note(sent, task.tree, given["note"], late)
    return _came(sent, task, outcome, given["note"])


def task_later(sent: Sent) -> Came:
    """Put a task off; what the plan has moved itself stays as it moved it."""
    task, page = _task(sent), sent.that_day
    form = LaterForm(sent.data, task=task, today=page.today)
    if not form.is_valid():
        raise refused_form(form)
    if task.status != Task.Status.OPEN or not task.is_firm:
        words = gettext("The plan had stopped asking for it, so it was not put off.")
        return Came(State.LATE, words)
    until = form.cleaned_data["until"]
    postpone_task(task=task, until=until)
    words = gettext("Put off until {day}.").format(day=full_day(until))
    return Came(State.KEPT, words)


def entry_undo(sent: Sent) -> Came:
    """Take an entry back, or all of its go; known by its own id or by what sent it."""
    page = sent.page
    entry = get_object_or_404(
        LogEntry.objects.select_related("task", "tree", "site"),
        site=page.site,
        public_id=_entry_id(sent),
    )
    if entry.what == LogEntry.What.LOST and not page.may_edit:
        raise NotKeptError(403, "may_not", str(NOBODY_TO_ASK))
    if sent.data.get("all") == "ticked":
        number = undo_at_once(entry=entry, person=page.person, now=page.now)
        words = ngettext(
            "Taken back: {number} task.", "Taken back: {number} tasks.", number
        ).format(number=number)
        return Came(State.KEPT, words, entry)
    if "all" in sent.data:
        trees = undo_go(entry=entry, person=page.person, now=page.now)
        words = gettext("Taken back for {trees}.").format(trees=count_trees(trees))
        return Came(State.KEPT, words, entry)
    undone = undo_entry(entry=entry, person=page.person, now=page.now)
    return Came(State.KEPT, gettext(UNDONE[undone]), entry)


def _entry_id(sent: Sent) -> UUID:
    meant = sent.public_id("entry")
    return entry_sent_as(meant, sent.page.site) or meant


def walk_minutes(sent: Sent) -> Came:
    """Write how long a walk took; nothing typed takes it back."""
    page = sent.that_day
    form = WalkMinutesForm(sent.data)
    if not form.is_valid():
        raise refused_form(form)
    minutes = form.cleaned_data["minutes"]
    entry = say_walk_minutes(
        site=page.site,
        person=page.person,
        on=page.today,
        now=page.now,
        minutes=minutes,
    )
    words = gettext("No time is noted.")
    if minutes:
        words = gettext("Noted: {minutes}.").format(minutes=minutes_words(minutes))
    return Came(State.KEPT, words, entry)


ACTS: dict[str, Callable[[Sent], Came]] = {
    "task_done": task_done,
    "task_skip": task_skip,
    "task_later": task_later,
    "entry_undo": entry_undo,
    "walk_minutes": walk_minutes,
    "block_done": block_done,
    "all_done": all_done,
    "water_all": water_all,
    "hose_run": hose_run,
    "tree_observe": tree_observe,
    "tree_water": tree_water,
    "tree_harvest": tree_harvest,
    "tree_note": tree_note,
    "tree_photo": tree_photo,
}
