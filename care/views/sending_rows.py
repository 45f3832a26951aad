"""What a phone sends later of many trees at once: a row, a whole round, all the water."""

from collections.abc import Iterable, Sequence

from django.shortcuts import get_object_or_404
from django.utils.translation import gettext, ngettext

from care.actions.sendings import Came, State
from care.actions.tasks import complete_tasks
from care.actions.watered import water_all as log_water
from care.forms.all_done import AllDoneForm
from care.models import LogEntry, Task
from care.views.days import full_day
from care.views.many_ticks import may_tick_unseen, was_done
from care.views.round import shown_tasks, water_form
from care.views.round_sheet import standing_trees
from care.views.same_job import left_words
from care.views.sending_body import Sent, refused, refused_form
from care.views.whose import water_places
from care.views.wording import ROW_VERBS, count_trees

#: How long the number of a block may be.
DIGITS = 9


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
    due = [
        task
        for task in shown_tasks(sent.request, sent.page)[0]
        if (task.tree.block_id, task.kind, task.action, task.is_urgent) == wanted
        and may_tick_unseen(task, sent.day)
    ]
    entries = _tick(sent, due)
    words = gettext("{block}: {trees} {done}.").format(
        block=row.name,
        trees=count_trees(len(entries)),
        done=ROW_VERBS[kind, action],
    )
    return Came(State.KEPT, words + left_words(due), _first(entries))


def _tick(sent: Sent, due: Iterable[Task]) -> list[LogEntry]:
    page = sent.that_day
    return complete_tasks(tasks=due, person=page.person, on=page.today, now=page.now)


def _first(entries: Sequence[LogEntry]) -> LogEntry | None:
    return entries[0] if entries else None


def all_done(sent: Sent) -> Came:
    """Tick all that a round showed and could be done on a day."""
    form = AllDoneForm(sent.dated, today=sent.day)
    if not form.is_valid():
        raise refused_form(form)
    on = form.cleaned_data["on"]
    shown, _whose = shown_tasks(sent.request, sent.page)
    due = [
        task
        for task in shown
        if was_done(task, on, sent.day) and form.has_seen(task)
    ]
    page = sent.page
    entries = complete_tasks(tasks=due, person=page.person, on=on, now=page.now)
    if not entries:
        return Came(State.KEPT, gettext("Nothing was to tick on that day."))
    words = ngettext(
        "{number} task is ticked as done on {day}.",
        "{number} tasks are ticked as done on {day}.",
        len(entries),
    ).format(number=len(entries), day=full_day(on))
    return Came(State.KEPT, words + left_words(due), _first(entries))


def water_all(sent: Sent) -> Came:
    """Write that every tree shown, or of a block of those, got about so much."""
    page = sent.that_day
    _, whose = shown_tasks(sent.request, sent.page)
    standing = list(standing_trees(page.site, page.today))
    form = water_form(page, water_places(whose, standing), sent.dated)
    if not form.is_valid():
        raise refused_form(form)
    given = form.cleaned_data
    entries = log_water(
        site=page.site,
        trees=[
            tree
            for tree in standing_trees(page.site, given["on"])
            if whose.shows_tree(tree) and given["block"] in ("", str(tree.block_id))
        ],
        litres=given["litres"],
        person=page.person,
        on=given["on"],
        now=page.now,
        note=given["note"],
    )
    if not entries:
        words = gettext("No tree was meant by that. Nothing was written down.")
        return Came(State.KEPT, words)
    words = gettext("Written down: {trees} watered.").format(
        trees=count_trees(len(entries))
    )
    return Came(State.KEPT, words, entries[0])
