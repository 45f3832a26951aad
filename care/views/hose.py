"""A hose run: which trees along a tap, how long each, and what they got."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from care.actions.watered import water_each
from care.forms.hose import HoseForm, HoseRunForm
from care.models import LogEntry
from care.planning.plan_site import ensure_planned
from care.views.hose_sheet import (
    flow_of,
    hose_form,
    hose_sheet,
    hose_trees,
    left_out,
    posted_run,
    run_form,
    run_words,
    waterings,
    within_reach,
)
from care.views.many_ticks import to_round
from orchard.access import May
from orchard.views.site_page import SitePage, let_in


@require_safe
@login_required
def hose(request: HttpRequest, site: str) -> HttpResponse:
    """Show the trees along a hose in walking order, each with its minutes."""
    page = let_in(request, site, May.TICK)
    ensure_planned(page.site, page.today)
    form = hose_form(page, request.GET)
    if not form.is_valid():
        return _show(request, page, form, None, status=422)
    due = waterings(page.site, page.today)
    trees = hose_trees(page, form)
    run = run_form(page, within_reach(trees, due), due)
    return _show(request, page, form, run, left=len(trees) - len(run.trees))


def _show(
    request: HttpRequest,
    page: SitePage,
    form: HoseForm,
    run: HoseRunForm | None,
    *,
    status: int = 200,
    left: int = 0,
) -> HttpResponse:
    due = waterings(page.site, page.today)
    flow = flow_of(page, form) if form.is_valid() else None
    context = page.context(
        "round",
        form=form,
        run=run,
        left=left_out(left),
        sheet=None if run is None else hose_sheet(page, run, due, flow),
    )
    return render(request, "care/hose.html", context, status=status)


@require_POST
@login_required
def hose_run(request: HttpRequest, site: str) -> HttpResponse:
    """Log what each of the chosen trees got by hose."""
    page = let_in(request, site, May.TICK)
    ensure_planned(page.site, page.today)
    run = posted_run(page, request.POST)
    if not run.is_valid():
        return _show(request, page, hose_form(page, request.GET), run, status=422)
    entries = pour(page, run)
    litres = sum(litres for _tree, litres in run.given())
    messages.success(request, run_words(len(entries), litres, page.units))
    return to_round(page, entries)


def pour(page: SitePage, run: HoseRunForm) -> list[LogEntry]:
    """Log a valid run; trees that were not planted on its day are left."""
    on = run.cleaned_data["on"]
    return water_each(
        site=page.site,
        litres=[
            (tree, litres) for tree, litres in run.given() if not tree.is_planned(on)
        ],
        person=page.person,
        on=on,
        now=page.now,
        note=run.cleaned_data["note"],
    )
