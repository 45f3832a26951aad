"""Corners to measure from, and how the plan lies on the earth."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from orchard.access import May
from orchard.actions.plans import (
    add_corners,
    change_corner,
    remove_corner,
    set_plan,
)
from orchard.forms.plan_fields import OnPlanForm
from orchard.forms.plans import (
    DIRECTIONS,
    AxesForm,
    CornerForm,
    FirstCornersForm,
    PlainCornerForm,
)
from orchard.models import Corner
from orchard.plans.gathered import OnPlan, on_plan
from orchard.plans.problems import PlanError
from orchard.views.plan_words import found_words, measured_words, place_words
from orchard.views.site_page import SitePage, let_in

AT_LEAST_TWO = 2
AUTO_ID = "corner_%s"
NewForm = FirstCornersForm | PlainCornerForm | CornerForm


@require_safe
@login_required
def plan_corners(request: HttpRequest, site: str) -> HttpResponse:
    """Show the corners; begin with two of the house where there are none."""
    page = let_in(request, site, page="more")
    return _show(request, page, on_plan(page.site))


@require_POST
@login_required
def corner_add(request: HttpRequest, site: str) -> HttpResponse:
    """Name the first two corners, or one more."""
    page = let_in(request, site, May.EDIT, page="more")
    plan = on_plan(page.site)
    form = _new_form(request, page, plan)
    if form.is_valid() and _add(request, page, form):
        return redirect("plan_corners", page.site.slug)
    return _show(request, page, plan, corner_form=form)


def _new_form(request: HttpRequest | None, page: SitePage, plan: OnPlan) -> NewForm:
    """Return the form that fits what there is to measure from."""
    data = request.POST if request else None
    units = page.units
    if not plan.corners:
        initial = {"first_name": "A", "second_name": "B"}
        return FirstCornersForm(
            data, initial=initial, plan=plan, units=units, auto_id=AUTO_ID
        )
    if len(plan.corners) < AT_LEAST_TWO:
        return PlainCornerForm(data, plan=plan, units=units, auto_id=AUTO_ID)
    first, second = (str(corner.pk) for corner in plan.corners[:AT_LEAST_TWO])
    initial = {"first": first, "second": second}
    return CornerForm(data, initial=initial, plan=plan, units=units, auto_id=AUTO_ID)


def _add(request: HttpRequest, page: SitePage, form: NewForm) -> bool:
    """Write the corners of a form; say at the form why they cannot be."""
    found = form.found if isinstance(form, CornerForm) else None
    corners = form.corners()
    try:
        add_corners(
            site=page.site,
            corners=corners,
            measured=form.measured() if isinstance(form, CornerForm) else None,
            person=page.person,
        )
    except PlanError as error:
        form.tell(error)
        return False
    messages.success(
        request, gettext("Named: {names}.").format(names=", ".join(corners))
    )
    for words in found_words(found, page.units) if found else ():
        messages.warning(request, words)
    return True


@require_POST
@login_required
def plan_axes(request: HttpRequest, site: str) -> HttpResponse:
    """Write which way up the plan is and where its first corner lies."""
    page = let_in(request, site, May.EDIT, page="more")
    plan = on_plan(page.site)
    form = AxesForm(request.POST, plan=plan, units=page.units, auto_id="axes_%s")
    if form.is_valid():
        set_plan(site=page.site, values=form.plan_values(), person=page.person)
        messages.success(request, gettext("Written down."))
        return redirect("plan_corners", page.site.slug)
    return _show(request, page, plan, axes_form=form)


def _axes_form(page: SitePage, plan: OnPlan) -> AxesForm:
    up_deg = plan.plan.up_bearing_deg
    is_known = plan.plan.pk is not None
    is_plain = is_known and up_deg in dict(DIRECTIONS)
    axes = plan.axes
    initial = {
        "direction": int(up_deg) if is_plain else "",
        "bearing_deg": up_deg if is_known and not is_plain else None,
        "origin": f"{axes.latitude_deg:.7g}, {axes.longitude_deg:.8g}",
    }
    return AxesForm(initial=initial, plan=plan, units=page.units, auto_id="axes_%s")


@require_http_methods(["GET", "POST"])
@login_required
def corner_edit(request: HttpRequest, site: str, corner: int) -> HttpResponse:
    """Rename a corner or correct its place."""
    page = let_in(request, site, May.EDIT, page="more")
    row = get_object_or_404(Corner, site=page.site, pk=corner)
    data = request.POST if request.method == "POST" else None
    form = PlainCornerForm(data, corner=row, plan=on_plan(page.site), units=page.units)
    if data is not None and form.is_valid() and _change(page, row, form):
        messages.success(request, gettext("{name} is changed.").format(name=row.name))
        return redirect("plan_corners", page.site.slug)
    context = page.context(form=form, corner=row)
    status = 200 if data is None else 422
    return render(request, "orchard/plan_corner.html", context, status=status)


def _change(page: SitePage, corner: Corner, form: PlainCornerForm) -> bool:
    ((name, place),) = form.corners().items()
    try:
        change_corner(corner=corner, name=name, place_m=place, person=page.person)
    except PlanError as error:
        form.tell(error)
        return False
    return True


@require_POST
@login_required
def corner_remove(request: HttpRequest, site: str, corner: int) -> HttpResponse:
    """Forget a corner."""
    page = let_in(request, site, May.EDIT)
    row = get_object_or_404(Corner, site=page.site, pk=corner)
    remove_corner(corner=row, person=page.person)
    messages.success(request, gettext("{name} is off the plan.").format(name=row.name))
    return redirect("plan_corners", page.site.slug)


def _show(
    request: HttpRequest,
    page: SitePage,
    plan: OnPlan,
    *,
    corner_form: OnPlanForm | None = None,
    axes_form: OnPlanForm | None = None,
) -> HttpResponse:
    lines = [
        (
            corner,
            place_words((corner.x_m, corner.y_m), page.units),
            measured_words(corner.measured, page.units),
        )
        for corner in plan.corners
    ]
    context = page.context(
        lines=lines,
        is_first=not plan.corners,
        left=plan.corners[0].name if plan.corners else gettext("the first corner"),
        right=plan.corners[1].name if len(plan.corners) > 1 else gettext("the second"),
        corner_form=corner_form or _new_form(None, page, plan),
        axes_form=axes_form or _axes_form(page, plan),
        is_bound=corner_form is not None,
        is_axes_open=axes_form is not None or plan.plan.pk is None,
    )
    status = 422 if corner_form or axes_form else 200
    return render(request, "orchard/plan_corners.html", context, status=status)
