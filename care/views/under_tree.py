"""One tree at a time: the walk in large type, for one hand in a wet glove.

All of the walk stands on one page, of which one piece of work is shown, so that it
works without a network and without scripts.
"""

from dataclasses import dataclass
from datetime import timedelta

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext, ngettext
from django.views.decorators.http import require_safe

from care.forms.work import skip_reasons
from care.models import LogEntry, Task
from care.planning.days_ahead import read_near_days
from care.planning.plan_site import ensure_planned
from care.views.cautions import caution_words
from care.views.check_lists import check_list
from care.views.log_lines import LogLine, log_line
from care.views.log_people import with_people
from care.views.people_words import heat_words
from care.views.reasons import sentence
from care.views.round_sheet import near_tasks, walk_now
from care.views.task_lines import TaskLine, block_name, task_line
from care.views.whose import chosen
from orchard.views.site_page import SitePage, let_in

#: A walk of more pieces of work is shown in parts; ticking makes room for the next.
STEPS_SHOWN = 40
#: So long the page offers to take back what was ticked last; later the log does.
UNDO_OFFERED = timedelta(minutes=15)


@dataclass(frozen=True, slots=True)
class Step:
    """One piece of work at one tree, and where the walk goes on."""

    anchor: str
    following: str
    progress: str
    tree_id: object
    tree: str
    block: str
    line: TaskLine
    why: str
    cautions: tuple[str, ...]
    checks: tuple[str, ...]
    reasons: tuple[tuple[str, str], ...]


@require_safe
@login_required
def under_tree(request: HttpRequest, site: str) -> HttpResponse:
    """Show the walk one piece of work at a time, large."""
    page = let_in(request, site)
    ensure_planned(page.site, page.today)
    everything = list(near_tasks(page.site, page.today))
    whose = chosen(request, page).over(everything, page.today)
    urgent, plain = walk_now(page, everything, whose)
    walk = [*(task for group in urgent for task in group), *plain]
    steps = _steps(page, walk)
    near = read_near_days(page.site, page.today)
    context = page.context(
        "round",
        steps=steps,
        more=_more_words(len(walk) - len(steps)),
        heat=heat_words(near, page.units),
        last=_last_done(page) if page.may_tick else None,
        here=reverse("under_tree", args=[page.site.slug]),
    )
    return render(request, "care/under_tree.html", context)


def _more_words(number: int) -> str:
    if number <= 0:
        return ""
    return ngettext(
        "{number} more follows once these are done.",
        "{number} more follow once these are done.",
        number,
    ).format(number=number)


def _steps(page: SitePage, walk: list[Task]) -> tuple[Step, ...]:
    done = _done_today(page)
    shown = walk[:STEPS_SHOWN]
    anchors = [f"t-{task.public_id}" for task in shown]
    return tuple(
        _step(
            page,
            task,
            anchors[place : place + 2],
            gettext("{number} of {total}").format(
                number=done + place + 1, total=done + len(walk)
            ),
        )
        for place, task in enumerate(shown)
    )


def _step(page: SitePage, task: Task, anchors: list[str], progress: str) -> Step:
    return Step(
        anchor=anchors[0],
        following=anchors[1] if len(anchors) > 1 else "",
        progress=progress,
        tree_id=task.tree.public_id,
        tree=task.tree.name,
        block=block_name(task),
        line=task_line(task, page.today, page.units),
        why=sentence(task, page.today, page.units),
        cautions=caution_words(task.cautions),
        checks=check_list(task),
        reasons=skip_reasons(task.kind),
    )


def _done_today(page: SitePage) -> int:
    """Return of how many tasks the log tells today."""
    told = LogEntry.objects.filter(
        site=page.site, on=page.today, voided_at=None, task__isnull=False
    )
    return told.order_by().values("task").distinct().count()


def _last_done(page: SitePage) -> LogLine | None:
    """Return what the person ticked last, as long as taking it back is at hand."""
    entry = (
        with_people(
            LogEntry.objects.filter(
                site=page.site,
                person=page.person,
                voided_at=None,
                task__isnull=False,
                recorded_at__gte=page.now - UNDO_OFFERED,
            )
        )
        .order_by("-recorded_at", "-id")
        .first()
    )
    return None if entry is None else log_line(entry, page.today, page.units)
