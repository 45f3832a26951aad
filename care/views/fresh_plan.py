"""A fresh plan of the walks: looked at first, used only when a person says so."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_http_methods

from care.actions.fresh_plan import PlanMovedError, use_fresh_plan
from care.planning.fresh_plan import FreshPlan, Move, find_fresh_plan
from care.planning.plan_site import ensure_planned
from care.views.days import full_day
from care.views.walk_words import count_tasks, fresh_words
from care.views.wording import task_title
from orchard.access import May
from orchard.views.site_page import SitePage, let_in

CHANGED = gettext_noop(
    "Something changed since you looked. This is the plan as it is now."
)
NOTHING = gettext_noop("Nothing is left to save: the plan is as it was.")


@dataclass(frozen=True, slots=True)
class MovedDay:
    """What goes from one day to another, as lines."""

    title: str
    lines: tuple[str, ...]


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def fresh_plan(request: HttpRequest, site: str) -> HttpResponse:
    """Show what a fresh plan moves (GET); take it (POST)."""
    page = let_in(request, site, May.EDIT)
    ensure_planned(page.site, page.today)
    if request.method == "POST":
        return _use(request, page)
    found = find_fresh_plan(page.site, page.today)
    context = page.context(
        "round",
        words=fresh_words(found),
        days=_days(found) if found else (),
        seen=page.site.revision,
    )
    return render(request, "care/fresh_plan.html", context)


def _use(request: HttpRequest, page: SitePage) -> HttpResponse:
    seen = request.POST.get("seen", "")
    try:
        moved = use_fresh_plan(
            site=page.site,
            person=page.person,
            today=page.today,
            now=page.now,
            seen_revision=int(seen) if seen.isascii() and seen.isdigit() else -1,
        )
    except PlanMovedError:
        messages.warning(request, gettext(CHANGED))
        return redirect("fresh_plan", page.site.slug)
    if moved:
        messages.success(
            request,
            gettext("The fresh plan stands: {tasks} moved.").format(
                tasks=count_tasks(moved)
            ),
        )
    else:
        messages.info(request, gettext(NOTHING))
    return redirect("round", page.site.slug)


def _days(found: FreshPlan) -> tuple[MovedDay, ...]:
    def days(move: Move) -> tuple[date, date]:
        return move.old, move.new

    return tuple(
        MovedDay(f"{full_day(old)} → {full_day(new)}", _lines(list(moves)))
        for (old, new), moves in groupby(found.moves, key=days)
    )


def _lines(moves: Sequence[Move]) -> tuple[str, ...]:
    return tuple(
        f"{task_title(move.task)}, {move.task.tree.block.name}"
        if move.task.tree.block
        else task_title(move.task)
        for move in moves
    )
