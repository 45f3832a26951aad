"""What a phone sends later of many trees at once: a row, a whole round, all the water."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.shortcuts import get_object_or_404
from django.utils.translation import gettext, ngettext

from care.actions.late_work import log_late_work
from care.actions.same_job import SameJobError
from care.actions.sendings import Came, State
from care.actions.tasks import NotOpenError, complete_task
from care.forms.all_done import AllDoneForm
from care.models import LogEntry, Task
from care.views.days import full_day
from care.views.hose import pour
from care.views.hose_sheet import posted_run, run_words
from care.views.many_ticks import may_tick_unseen, was_done
from care.views.round import shown_tasks, water_form
from care.views.round_sheet import standing_trees
from care.views.same_job import left_words
from care.views.sending_body import Sent, refused, refused_form
from care.views.unlogged_water import is_asked
from care.views.watered import NO_TREE, pour_all
from care.views.whose import water_places
from care.views.wording import QUESTIONS, ROW_VERBS, count_trees, reason_of

#: How long the number of a block may be.
DIGITS = 9
#: What was on a round can have been due so long before; common practice, no source.
LATE_BY = timedelta(days=60)

Meant = Callable[[Task], bool]


@dataclass(frozen=True, slots=True)
class Ticks:
    """What ticking many tasks wrote, and how much of it the plan asks for no more."""

    entries: Sequence[LogEntry]
    late: int

    def came(self, words: str) -> Came:
        """Say it, with the first entry to stand for all."""
        if not self.late:
            first = self.entries[0] if self.entries else None
            return Came(State.KEPT, words, first)
        stopped = ngettext(
            "{number} of them the plan had stopped asking for meanwhile; it is in the "
            "log all the same.",
            "{number} of them the plan had stopped asking for meanwhile; they are in "
            "the log all the same.",
            self.late,
        ).format(number=self.late)
        return Came(State.LATE, f"{words} {stopped}", self.entries[0])


def _tick(sent: Sent, tasks: Iterable[Task], on: date) -> Ticks:
    """Tick each task as done on a day; what may be in the log already is left."""
    entries, late = [], 0
    for task in tasks:
        work: dict[str, Any] = {
            "task": task,
            "person": sent.page.person,
            "on": on,
            "now": sent.page.now,
        }
        try:
            outcome = complete_task(**work)
        except SameJobError:
            continue  # asked one by one, as the words say
        except NotOpenError:
            entries.append(log_late_work(**work))
            late += 1
            continue
        if outcome.is_new:
            entries.append(outcome.entry)
    return Ticks(entries, late)


def _seen_besides(
    sent: Sent, form: AllDoneForm, due: Sequence[Task], is_meant: Meant
) -> list[Task]:
    """Return what the phone's page showed and the plan has moved or withdrawn since."""
    if not form.cleaned_data["seen"]:
        return []
    known = {task.pk for task in due}
    tasks = Task.objects.filter(
        site=sent.page.site,
        status__in=[Task.Status.WITHDRAWN, Task.Status.OPEN],
        latest__gte=sent.day - LATE_BY,
    ).select_related("tree__block", "round", "site")
    return [
        task
        for task in tasks
        if form.has_seen(task)
        and task.pk not in known
        and reason_of(task).code not in QUESTIONS
        and not is_asked(task)
        and is_meant(task)
    ]


def block_done(sent: Sent) -> Came:
    """Tick the work of one kind that was due in a block on the day it was done there."""
    pk = sent.data.get("block", "")
    if not (pk.isascii() and pk.isdigit() and len(pk) <= DIGITS):
        raise refused(gettext("Nobody can tell which row was meant."))
    row = get_object_or_404(sent.page.site.blocks, pk=int(pk))
    kind, action = sent.data.get("kind", ""), sent.data.get("action", "")
    if (kind, action) not in ROW_VERBS:
        raise refused(gettext("Nobody can tell which work was meant."))
    wanted = (row.pk, kind, action, "urgent" in sent.data)
    form = _seen_form(sent)

    def is_meant(task: Task) -> bool:
        place = (task.tree.block_id, task.kind, task.action, task.is_urgent)
        return place == wanted

    due = [
        task
        for task in shown_tasks(sent.request, sent.page)[0]
        if is_meant(task) and may_tick_unseen(task, sent.day) and form.has_seen(task)
    ]
    ticks = _tick(sent, [*due, *_seen_besides(sent, form, due, is_meant)], sent.day)
    words = gettext("{block}: {trees} {done}.").format(
        block=row.name,
        trees=count_trees(len(ticks.entries)),
        done=ROW_VERBS[kind, action],
    )
    return ticks.came(words + left_words(due))


def _seen_form(sent: Sent) -> AllDoneForm:
    form = AllDoneForm(sent.dated, today=sent.day)
    if not form.is_valid():
        raise refused_form(form)
    return form


def all_done(sent: Sent) -> Came:
    """Tick all that a round showed and could be done on a day."""
    form = _seen_form(sent)
    on = form.cleaned_data["on"]

    def had_begun(task: Task) -> bool:
        return task.earliest <= on and task.kind != "planting"

    due = [
        task
        for task in shown_tasks(sent.request, sent.page)[0]
        if was_done(task, on, sent.day) and form.has_seen(task)
    ]
    ticks = _tick(sent, [*due, *_seen_besides(sent, form, due, had_begun)], on)
    if not ticks.entries:
        return Came(State.KEPT, gettext("Nothing was to tick on that day."))
    words = ngettext(
        "{number} task is ticked as done on {day}.",
        "{number} tasks are ticked as done on {day}.",
        len(ticks.entries),
    ).format(number=len(ticks.entries), day=full_day(on))
    return ticks.came(words + left_words(due))


def water_all(sent: Sent) -> Came:
    """Write that every tree shown, or of a block of those, got about so much."""
    page = sent.that_day
    _, whose = shown_tasks(sent.request, sent.page)
    standing = list(standing_trees(page.site, page.today))
    form = water_form(page, water_places(whose, standing), sent.dated)
    if not form.is_valid():
        raise refused_form(form)
    entries = pour_all(page, whose, form.cleaned_data)
    if not entries:
        return _no_tree()
    words = gettext("Written down: {trees} watered.").format(
        trees=count_trees(len(entries))
    )
    return Came(State.KEPT, words, entries[0])


def _no_tree() -> Came:
    return Came(State.KEPT, gettext(NO_TREE))


def hose_run(sent: Sent) -> Came:
    """Write what each of the chosen trees got by hose."""
    page = sent.that_day
    run = posted_run(page, sent.dated)
    if not run.is_valid():
        raise refused_form(run)
    entries = pour(page, run)
    if not entries:
        return _no_tree()
    litres = sum(litres for _tree, litres in run.given())
    words = run_words(len(entries), litres, page.units)
    return Came(State.KEPT, words, entries[0])
