"""One task: why it is there, and everything a person can answer to it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_POST, require_safe

from care.actions.drained import complete_watering
from care.actions.same_job import SameJobError
from care.actions.tasks import (
    NotOpenError,
    Outcome,
    postpone_task,
    skip_task,
)
from care.charts.water_chart import WaterChart, water_chart
from care.forms.drained import drained_of
from care.forms.trees import FEELINGS
from care.forms.work import DoneForm, LaterForm, SkipForm
from care.models import LogEntry, Task
from care.planning.gather import gather
from care.planning.kinds import kinds_of
from care.planning.learned import TRUSTED
from care.planning.plan_site import ensure_planned
from care.planning.water_ahead import tree_water
from care.views.days import full_day, on_day
from care.views.learned_words import ask_words
from care.views.log_lines import log_line
from care.views.log_people import already_words, with_people
from care.views.observing import beside_task
from care.views.photo_keeping import keep_task_photos
from care.views.same_job import ask_member, reply_of
from care.views.task_lines import chosen_day, task_line
from care.views.task_working import task_working
from care.views.wording import reason_of, task_title
from orchard.access import May
from orchard.actions.trees import change_tree
from orchard.views.site_page import SitePage, back_to, let_in

GONE = gettext_noop(
    "The plan no longer asks for this: something changed in the meantime."
)
SOIL_RESULT = "soil_ask_result"  # answered by the site's settings
#: A box that forms of the page of one tree at a time bring along.
ONE_TREE = "one"
# The question a task asks -> the fact of the tree that answers it.
ANSWERS = {"feed_ask_past": "fed_before", "prune_ask_past": "pruned_before"}


def _find(page: SitePage, task: object) -> Task:
    return get_object_or_404(
        Task.objects.select_related("tree__block", "round", "site"),
        site=page.site,
        public_id=task,
    )


def _done_form(page: SitePage, task: Task, data: object = None) -> DoneForm:
    return DoneForm(
        data,
        task=task,
        today=page.today,
        units=page.units,
        asks_drained=task.kind == "watering"
        and task.unit == "L"
        and task.tree.in_container,
    )


@require_safe
@login_required
def task_page(request: HttpRequest, site: str, task: object) -> HttpResponse:
    """Show why a task is there, what would change it, and how to answer it."""
    page = let_in(request, site)
    ensure_planned(page.site, page.today)
    return _show(request, page, _find(page, task))


def _show(
    request: HttpRequest,
    page: SitePage,
    task: Task,
    status: int = 200,
    **forms: object,
) -> HttpResponse:
    done = with_people(LogEntry.objects.filter(task=task, voided_at=None)).first()
    is_open = task.status == Task.Status.OPEN
    kinds = kinds_of(page.site.orchard)
    species = kinds.catalogue.of_tree(task.tree)
    context = page.context(
        "round",
        task=task,
        line=task_line(task, page.today, page.units),
        working=task_working(task, page.today, page.units, species),
        is_open=is_open,
        can_answer=page.may_tick and is_open and task.is_firm,
        done=log_line(done, page.today, page.units) if done else None,
        chart=_chart(task, page),
        tree_name=task.tree.name,
        feelings=FEELINGS,
        beside=beside_task(page, task, kinds.of_tree(task.tree)),
        does_not_fit=_does_not_fit(task),
        asks=ANSWERS.get(reason_of(task).code, ""),
        window=_window(task, page.today),
        soil_settings=_soil_settings(page, task),
        here=reverse("task", args=[page.site.slug, task.public_id]),
        **{
            "done_form": _done_form(page, task),
            "skip_form": SkipForm(kind=task.kind),
            "later_form": LaterForm(task=task, today=page.today),
            **forms,
        },
    )
    return render(request, "care/task.html", context, status=status)


def _does_not_fit(task: Task) -> str:
    """Return what to measure again where answers do not fit the tree's facts."""
    reason = reason_of(task)
    factor = reason.number("demand_factor")
    if not reason.number("demand_answers") or factor not in TRUSTED:
        return ""
    return ask_words(in_container=task.tree.in_container)


def _soil_settings(page: SitePage, task: Task) -> str:
    """Return where what a soil test said is entered, for who may; else nothing."""
    if task.kind != "soil" or not page.may_edit:
        return ""
    return f"{reverse('site_settings', args=[page.site.slug])}?open=soil#soil"


def _chart(task: Task, page: SitePage) -> WaterChart | None:
    """Return the drawing of the tree's water, for watering only."""
    if task.kind != "watering":
        return None
    water = tree_water(gather(page.site, page.today), task.tree_id)
    return water_chart(*water, page.today, page.units) if water else None


def _window(task: Task, today: date) -> str:
    if task.not_before and task.not_before > today:
        day = full_day(task.not_before)
        return gettext("Put off: not before {day}.").format(day=day)
    if reason_of(task).text("blocked_by"):
        return gettext("Waits for another task that comes first.")
    if not task.is_firm:
        return gettext("Only likely so far: the day firms up as it comes nearer.")
    if task.latest < today:
        day = full_day(task.latest)
        return gettext("Its last good day was {day}.").format(day=day)
    if task.due <= today:
        return gettext("Best done now.")
    return _best_day(task, today)


def _best_day(task: Task, today: date) -> str:
    """Return how the day of the walk lies to the task's own best day."""
    walk = chosen_day(task)
    if walk == task.due:
        return gettext("That is its best day.")
    words = gettext("Alone it would be best {day}; it comes along with other work.")
    if walk > task.due:
        words = gettext(
            "Alone it would be best {day}; it waits for a walk with other work."
        )
    return words.format(day=on_day(task.due, today))


@require_POST
@login_required
def task_done(request: HttpRequest, site: str, task: object) -> HttpResponse:
    """Tick a task; as a fragment it comes back as a line that can be undone."""
    page = let_in(request, site, May.TICK)
    found = _find(page, task)
    form = _done_form(page, found, request.POST)
    if not form.is_valid():
        if _is_fragment(request):
            return _line_refused(request, page, found, form)
        return _show(request, page, found, 422, done_form=form)
    given = form.cleaned_data

    def tick() -> Outcome:
        return complete_watering(
            task=found,
            person=page.person,
            on=given["on"],
            now=page.now,
            amount=given.get("amount"),
            note=given["note"],
            reply=reply_of(request.POST),
            has_drained=drained_of(given),
            drained_after_l=given.get("drained_after"),
            minutes=given["minutes"],
        )

    answer = _answer(request, page, found, tick)
    keep_task_photos(request, page, found)
    return answer


def _is_fragment(request: HttpRequest) -> bool:
    return bool(getattr(request, "htmx", False))


def _line_refused(
    request: HttpRequest, page: SitePage, task: Task, form: DoneForm
) -> HttpResponse:
    """Show the line again with what is wrong with the amount that was typed in it."""
    line = task_line(task, page.today, page.units)
    if line.box is not None:
        wrong = " ".join(str(one) for errors in form.errors.values() for one in errors)
        typed = request.POST.get("amount", "")
        line = replace(line, box=replace(line.box, value=typed, wrong=wrong))
    context = page.context("round", line=line)
    return render(request, "care/round.html#task_line", context, status=422)


@require_POST
@login_required
def task_skip(request: HttpRequest, site: str, task: object) -> HttpResponse:
    """Close a task undone, with a reason."""
    page = let_in(request, site, May.TICK)
    found = _find(page, task)
    form = SkipForm(request.POST, kind=found.kind)
    if not form.is_valid():
        return _show(request, page, found, 422, skip_form=form)

    def skip() -> Outcome:
        return skip_task(
            task=found,
            person=page.person,
            on=page.today,
            now=page.now,
            reason=form.cleaned_data["reason"],
            note=form.cleaned_data["note"],
        )

    return _answer(request, page, found, skip)


def _answer(
    request: HttpRequest, page: SitePage, task: Task, act: Callable[[], Outcome]
) -> HttpResponse:
    """Do it and show what came of it, as a fragment or by going back."""
    is_fragment = _is_fragment(request)
    try:
        outcome = act()
    except SameJobError as same:
        return ask_member(request, page, same, "round")
    except NotOpenError:
        if is_fragment:
            context = page.context("round", gone=gettext(GONE), title=task_title(task))
            return render(request, "care/round.html#gone_line", context)
        messages.warning(request, gettext(GONE))
        return redirect("round", page.site.slug)
    line = log_line(outcome.entry, page.today, page.units)
    said = already_words(outcome, task, page.site, page.today, page.person)
    if is_fragment:
        context = page.context("round", line=line, said=said)
        return render(request, "care/round.html#done_line", context)
    if said or ONE_TREE not in request.POST:  # there the next page says it, with undo
        messages.success(request, said or f"{line.title}.")
    is_result = reason_of(task).code == SOIL_RESULT
    is_done = outcome.entry.what == LogEntry.What.DONE
    if is_result and is_done and page.may_edit:
        return redirect(_soil_settings(page, task))
    return back_to(request, reverse("round", args=[page.site.slug]))


@require_POST
@login_required
def task_later(request: HttpRequest, site: str, task: object) -> HttpResponse:
    """Put a task off until a day."""
    page = let_in(request, site, May.TICK)
    found = _find(page, task)
    form = LaterForm(request.POST, task=found, today=page.today)
    if not form.is_valid():
        return _show(request, page, found, 422, later_form=form)
    if found.status != Task.Status.OPEN or not found.is_firm:
        messages.warning(request, gettext(GONE))
        return redirect("round", page.site.slug)
    until = form.cleaned_data["until"]
    postpone_task(task=found, until=until)
    messages.success(
        request, gettext("Put off until {day}.").format(day=full_day(until))
    )
    return redirect("round", page.site.slug)


@require_POST
@login_required
def task_answer(request: HttpRequest, site: str, task: object) -> HttpResponse:
    """Answer what was done to a tree before it was entered."""
    page = let_in(request, site, May.EDIT)
    found = _find(page, task)
    fact = ANSWERS.get(reason_of(found).code)
    answer = request.POST.get("answer")
    if fact is None or answer not in ("yes", "no"):
        messages.warning(request, gettext(GONE))
        return redirect("task", page.site.slug, found.public_id)
    change_tree(tree=found.tree, values={fact: answer}, person=page.person)
    noted = gettext("Noted for {tree}. The plan follows.")
    messages.success(request, noted.format(tree=found.tree.name))
    return redirect("round", page.site.slug)
