"""Water that nobody ticked: said of all trees, or answered after a quiet week."""

from collections.abc import Mapping, Sequence
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_POST

from care.actions.no_water import log_no_water
from care.actions.watered import answer_quiet_days, water_all as log_water
from care.models import LogEntry, Task
from care.views.round import show_round, shown_tasks, water_form
from care.views.round_sheet import standing_trees
from care.views.unlogged_water import is_to_ask, unlogged_form
from care.views.whose import Whose, water_places
from care.views.wording import reason_of
from orchard.access import May
from orchard.views.site_page import SitePage, let_in

NO_TREE = gettext_noop("No tree was meant by that. Nothing was written down.")
NOTHING_ASKED = gettext_noop(
    "Nobody asks about that any more. Nothing was written down."
)


def _said(
    request: HttpRequest, page: SitePage, entries: Sequence[LogEntry]
) -> HttpResponse:
    """Go back to the round, which shows what was said and takes it back in one tap."""
    if not entries:
        messages.info(request, gettext(NO_TREE))
    query = {"said": str(entries[0].public_id)} if entries else {}
    return redirect(reverse("round", args=[page.site.slug], query=query))


@require_POST
@login_required
def water_all(request: HttpRequest, site: str) -> HttpResponse:
    """Log that every tree shown, or of a block those shown, got about so much."""
    page = let_in(request, site, May.TICK)
    _, whose = shown_tasks(request, page)
    standing = list(standing_trees(page.site, page.today))
    form = water_form(page, water_places(whose, standing), request.POST)
    if not form.is_valid():
        return show_round(request, page, refused=request.POST)
    return _said(request, page, pour_all(page, whose, form.cleaned_data))


def pour_all(
    page: SitePage, whose: Whose, given: Mapping[str, Any]
) -> Sequence[LogEntry]:
    """Log the water of every tree meant, as the form that was read says it."""
    return log_water(
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


def _asked(request: HttpRequest, page: SitePage) -> list[Task]:
    """Return the waterings that the round asks about, as it was shown."""
    return [
        task for task in shown_tasks(request, page)[0] if is_to_ask(task, page.today)
    ]


@require_POST
@login_required
def water_seen(request: HttpRequest, site: str) -> HttpResponse:
    """Log the water of a quiet week: of all trees asked about or of some."""
    page = let_in(request, site, May.TICK)
    asked = _asked(request, page)
    form = unlogged_form(page, asked, request.POST)
    if not asked:
        messages.info(request, gettext(NOTHING_ASKED))
        return redirect("round", page.site.slug)
    if not form.is_valid():
        return show_round(request, page, unlogged=form)
    given = form.cleaned_data
    on, litres = given["on"], given["litres"]
    entries = answer_quiet_days(
        site=page.site,
        litres=[
            (task.tree, None if form.is_filled else litres or task.amount)
            for task in asked
            if not form.is_some or str(task.tree.public_id) in given["trees"]
            if not task.tree.is_planned(on)
        ],
        person=page.person,
        on=on,
        today=page.today,
        now=page.now,
    )
    return _said(request, page, entries)


@require_POST
@login_required
def water_none(request: HttpRequest, site: str) -> HttpResponse:
    """Log that nobody watered: the plan may trust its reckoning again."""
    page = let_in(request, site, May.TICK)
    asked = {
        task.tree_id: task.tree
        for task in shown_tasks(request, page)[0]
        if task.kind == "watering" and reason_of(task).number("unknown_water_days")
    }
    entries = log_no_water(
        site=page.site,
        trees=asked.values(),
        person=page.person,
        on=page.today,
        now=page.now,
    )
    return _said(request, page, entries)
