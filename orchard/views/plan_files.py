"""The plan as a file: sent out, looked at, taken in, taken back.

Between looking and taking in, the page carries the file's text; what it would change
is reckoned again, and only what the person looked at is written.
"""

from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext, ngettext
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from orchard.access import May
from orchard.actions.people import hash_of
from orchard.actions.plan_imports import import_plan, last_import, take_back_import
from orchard.forms.plan_import import PlanImportForm
from orchard.models import Feature
from orchard.plans.changes import Changes, changes_of
from orchard.plans.gathered import on_plan
from orchard.plans.geojson_in import PlanFileError, ReadPlan, read_geojson
from orchard.plans.geojson_out import to_geojson
from orchard.plans.geojson_text import too_large
from orchard.views.plan_words import place_words
from orchard.views.site_page import SitePage, let_in
from orchard.views.upload_limit import UploadLimit

#: A text of the most bytes, each written in up to three, and the fields around it.
MOST_BYTES = 5_900_000
LONGEST_LABEL = 80


@dataclass(frozen=True, slots=True)
class Seen:
    """A file as it was read, and what it would change."""

    text: str
    label: str
    read: ReadPlan
    changes: Changes

    @property
    def mark(self) -> str:
        """What tells these changes from any others."""
        return hash_of(repr(self.changes))


@require_safe
@login_required
def plan_geojson(request: HttpRequest, site: str) -> HttpResponse:
    """Send the plan as GeoJSON."""
    page = let_in(request, site)
    response = JsonResponse(
        to_geojson(on_plan(page.site)), content_type="application/geo+json"
    )
    name = f"{page.site.slug}-plan.geojson"
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


@login_required
@csrf_exempt  # the limit must stand before anything reads the request; see below
@require_http_methods(["GET", "POST"])
def plan_import(request: HttpRequest, site: str) -> HttpResponse:
    """Set the limit, then check the form's token and do the step."""
    limit = UploadLimit(request, MOST_BYTES)
    request.upload_handlers.insert(0, limit)
    return _checked(request, site, limit)


@csrf_protect
def _checked(request: HttpRequest, site: str, limit: UploadLimit) -> HttpResponse:
    page = let_in(request, site, May.EDIT, page="more")
    if request.method != "POST":
        return _ask(request, page, PlanImportForm())
    if limit.is_exceeded:
        form = PlanImportForm(data={})
        words = str(too_large(limit.announced_bytes))
        form.errors["file"] = form.error_class([words])
        return _ask(request, page, form)
    form = PlanImportForm(request.POST, request.FILES)
    seen = _look(request, page, form) if form.is_valid() else None
    if seen is None:
        return _ask(request, page, form)
    if "import" in request.POST and request.POST.get("seen") == seen.mark:
        return _take_in(request, page, form, seen)
    return _preview(request, page, form, seen)


def _look(request: HttpRequest, page: SitePage, form: PlanImportForm) -> Seen | None:
    """Read a form's text; say at the form what cannot be."""
    data = form.cleaned_data
    plan = on_plan(page.site)
    try:
        read = read_geojson(data["text"], plan.axes)
        changes = changes_of(read, plan, may_be_outside=data["may_be_outside"])
    except PlanFileError as error:
        words = [problem.words(page.units) for problem in error.problems]
        # A browser keeps no chosen file, so its text comes back to be corrected.
        form.data = {**request.POST.dict(), "text": data["text"]}
        form.add_error("text", words)
        return None
    file = data["file"]
    label = file.name if file else request.POST.get("label", "")
    clean = "".join(letter for letter in label if letter.isprintable())
    return Seen(data["text"], clean[:LONGEST_LABEL], read, changes)


def _take_in(
    request: HttpRequest, page: SitePage, form: PlanImportForm, seen: Seen
) -> HttpResponse:
    try:
        changes = import_plan(
            site=page.site,
            read=seen.read,
            may_be_outside=form.cleaned_data["may_be_outside"],
            label=seen.label,
            person=page.person,
        )
    except PlanFileError as error:  # somebody changed the plan in between
        words = [problem.words(page.units) for problem in error.problems]
        form.add_error("text", words)
        return _ask(request, page, form)
    said = ngettext(
        "The file is on the plan: {number} thing changed.",
        "The file is on the plan: {number} things changed.",
        changes.number,
    )
    messages.success(request, said.format(number=changes.number))
    return redirect("plan_import", page.site.slug)


def _ask(request: HttpRequest, page: SitePage, form: PlanImportForm) -> HttpResponse:
    context = page.context(form=form, last=last_import(page.site))
    status = 422 if form.is_bound else 200
    return render(request, "orchard/plan_import.html", context, status=status)


def _preview(
    request: HttpRequest, page: SitePage, form: PlanImportForm, seen: Seen
) -> HttpResponse:
    changes = seen.changes
    moved = [
        (plant.name, place_words(place, page.units)) for plant, place in changes.moved
    ]
    corners = [
        *(
            (name, place_words(place, page.units))
            for name, place in changes.new_corners
        ),
        *(
            (corner.name, place_words(place, page.units))
            for corner, place in changes.moved_corners
        ),
    ]
    context = page.context(
        form=form,
        seen=seen,
        changes=changes,
        moved=moved,
        corners=corners,
        new=[
            one.name or str(Feature.Kind(one.kind).label)
            for one in changes.new_features
        ],
        changed=[str(feature) for feature, _ in changes.changed_features],
    )
    return render(request, "orchard/plan_preview.html", context)


@require_POST
@login_required
def plan_import_undo(request: HttpRequest, site: str, plan_file: int) -> HttpResponse:
    """Take back the newest file."""
    page = let_in(request, site, May.EDIT, page="more")
    entry = last_import(page.site)
    if entry is None or entry.pk != plan_file:
        message = gettext("This file cannot be taken back, or was already.")
        raise Http404(message)
    left_alone = take_back_import(site=page.site, entry=entry, person=page.person)
    messages.success(request, gettext("The plan is as it was before that file."))
    if left_alone:
        names = ", ".join(left_alone)
        messages.warning(
            request,
            gettext("Left as they are, changed since: {names}.").format(names=names),
        )
    return redirect("plan_import", page.site.slug)
