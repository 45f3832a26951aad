"""The planting sheet: of one tree, to tick on the phone; of a planting, to print."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_POST, require_safe

from care.actions.planting_steps import (
    Said,
    StandsAlreadyError,
    stand,
    tick_step,
    untick_step,
    want_planned,
)
from care.forms.planting_steps import StandsForm, StepForm
from care.planning.planting_sheet import Sheet, sheets_of, wanted_of
from care.planning.planting_steps import Step
from care.views.plan_words import place_words
from care.views.planting_lines import (
    batches,
    progress_words,
    sheet_page,
    step_line,
)
from care.views.planting_step_words import title_of_step
from care.views.plantings import find_planting
from care.views.tree_sheet import find_tree
from orchard.access import May
from orchard.models import Planting
from orchard.units import UnitSystem
from orchard.views.site_page import SitePage, let_in

PAGE = "more"
#: Ticking these changes other lines of the page too.
CHANGES_MORE = ("locate", "drainage")


def sheets_in(page: SitePage, planting: Planting) -> list[Sheet]:
    """Return the sheets of a planting's trees."""
    wanted = wanted_of(page.site).filter(planting=planting)
    return list(sheets_of(page.site, wanted, page.today))


Corners = list[tuple[str, tuple[float, float]]]


def _corners(page: SitePage) -> Corners:
    return [(one.name, (one.x_m, one.y_m)) for one in page.site.corners.all()]


def _where(sheet: Sheet, corners: Corners, units: UnitSystem) -> str:
    """Return how far from two corners it is dug, or nothing without a place."""
    row = sheet.wanted.tree or sheet.wanted
    if row.x_m is None or row.y_m is None:
        return ""
    return place_words((row.x_m, row.y_m), corners, units)


def _find(page: SitePage, wanted: object) -> Sheet:
    row = get_object_or_404(wanted_of(page.site), public_id=wanted)
    return sheets_of(page.site, [row], page.today)[0]


def _step_of(sheet: Sheet, code: str) -> Step:
    step = sheet.step(code)
    if step is None:
        message = gettext("This sheet has no such step.")
        raise Http404(message)
    return step


@require_safe
@login_required
def wanted_sheet(request: HttpRequest, site: str, wanted: object) -> HttpResponse:
    """Show one tree's sheet, a step a line, to be ticked with a thumb."""
    page = let_in(request, site)
    return _show(request, page, _find(page, wanted))


def _show(
    request: HttpRequest,
    page: SitePage,
    sheet: Sheet,
    status: int = 200,
    **more: object,
) -> HttpResponse:
    context = _context(page, sheet, **more)
    return render(request, "care/wanted_sheet.html", context, status=status)


def _context(page: SitePage, sheet: Sheet, **more: object) -> dict[str, object]:
    row = sheet.wanted
    return page.context(
        PAGE,
        planting=row.planting,
        wanted=row,
        tree=row.tree,
        sheet=sheet_page(sheet, page.today, page.units),
        entry=sheet.planting,
        where=_where(sheet, _corners(page), page.units),
        here=reverse("wanted_sheet", args=[page.site.slug, row.public_id]),
        **{"stands_form": StandsForm(today=page.today), **more},
    )


@require_POST
@login_required
def wanted_step(
    request: HttpRequest, site: str, wanted: object, step: str
) -> HttpResponse:
    """Tick a step; as a fragment it comes back as a line that can be unticked."""
    page = let_in(request, site, May.TICK)
    sheet = _find(page, wanted)
    found = _step_of(sheet, step)
    form = StepForm(request.POST, step=found, units=page.units)
    if not form.is_valid():
        if _is_fragment(request):
            return _line(request, page, sheet, found, status=422, refused=form)
        return _show(request, page, sheet, 422, refused=form, refused_code=step)
    written, is_new = tick_step(
        wanted=sheet.wanted,
        code=step,
        said=Said(page.person, page.today, page.now),
        amount=form.amount(),
    )
    said = ""
    if not is_new:
        who = written.person.shown_name if written.person else gettext("Somebody")
        said = gettext("{who} ticked this already.").format(who=who)
    return _answer(request, page, wanted, step, said=said)


@require_POST
@login_required
def wanted_step_undo(
    request: HttpRequest, site: str, wanted: object, step: str
) -> HttpResponse:
    """Take a tick back."""
    page = let_in(request, site, May.TICK)
    sheet = _find(page, wanted)
    untick_step(wanted=sheet.wanted, code=step, person=page.person, now=page.now)
    return _answer(request, page, wanted, step)


def _is_fragment(request: HttpRequest) -> bool:
    return bool(getattr(request, "htmx", False))


def _answer(
    request: HttpRequest, page: SitePage, wanted: object, code: str, *, said: str = ""
) -> HttpResponse:
    sheet = _find(page, wanted)
    step = sheet.step(code)
    if _is_fragment(request) and step is not None and code not in CHANGES_MORE:
        return _line(request, page, sheet, step, said=said)
    if said:
        messages.info(request, said)
    address = reverse("wanted_sheet", args=[page.site.slug, sheet.wanted.public_id])
    place = f"{address}#step-{code}" if step is not None else address
    if _is_fragment(request):
        return HttpResponse(status=204, headers={"HX-Refresh": "true"})
    return redirect(place)


def _line(
    request: HttpRequest,
    page: SitePage,
    sheet: Sheet,
    step: Step,
    status: int = 200,
    **more: object,
) -> HttpResponse:
    context = page.context(
        PAGE,
        wanted=sheet.wanted,
        line=step_line(sheet, step, page.today, page.units),
        progress=progress_words(sheet),
        refused_code=step.code,
        **more,
    )
    template = "care/wanted_sheet.html#step_answer"
    return render(request, template, context, status=status)


@require_POST
@login_required
def wanted_stands(request: HttpRequest, site: str, wanted: object) -> HttpResponse:
    """Write that a tree stands: from here on it is cared for."""
    page = let_in(request, site, May.TICK)
    sheet = _find(page, wanted)
    form = StandsForm(request.POST, today=page.today)
    if not form.is_valid():
        return _show(request, page, sheet, 422, stands_form=form)
    stand(
        wanted=sheet.wanted,
        said=Said(page.person, form.cleaned_data["on"], page.now),
        today=page.today,
    )
    left = [title_of_step(step.code).lower() for step in sheet.unticked]
    said = gettext("{name} stands. Its care begins with the next plan.").format(
        name=sheet.tree.name
    )
    if left:
        rest = gettext("Not ticked: {steps}.").format(steps=", ".join(left))
        said = f"{said} {rest}"
    messages.success(request, said)
    return redirect("wanted_sheet", page.site.slug, sheet.wanted.public_id)


@require_POST
@login_required
def tree_planting_sheet(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Go to the sheet of a planned tree, made where it was entered without one."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    try:
        wanted = want_planned(tree=found, today=page.today, person=page.person)
    except StandsAlreadyError:
        messages.info(
            request,
            gettext("{name} stands already and needs no sheet.").format(
                name=found.name
            ),
        )
        return redirect("tree", page.site.slug, found.public_id)
    return redirect("wanted_sheet", page.site.slug, wanted.public_id)


@require_safe
@login_required
def planting_sheet(request: HttpRequest, site: str, planting: object) -> HttpResponse:
    """Show a whole planting's sheets for paper, alike trees together."""
    page = let_in(request, site)
    found = find_planting(page, planting)
    sheets = sheets_in(page, found)
    left = [sheet for sheet in sheets if sheet.stood_on is None]
    corners = _corners(page)
    placed = [(sheet, _where(sheet, corners, page.units)) for sheet in left]
    context = page.context(
        PAGE,
        planting=found,
        sheets=sheets,
        batches=batches(placed, page.units),
        standing=len(sheets) - len(left),
    )
    return render(request, "care/planting_sheet.html", context)
