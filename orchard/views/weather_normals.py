"""Twelve usual months: pasted or typed, looked over, kept."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from orchard.access import May
from orchard.actions.weather import set_normals
from orchard.forms.weather import NormalsForm, PastedNormalsForm, normals_initial
from orchard.sources.known_days import normals_of
from orchard.sources.pasted_normals import parse_pasted_normals
from orchard.sources.problems import SourceError
from orchard.views.site_page import SitePage, let_in


@login_required
@require_http_methods(["GET", "POST"])
def weather_normals(request: HttpRequest, site: str) -> HttpResponse:
    """Read a pasted table into the boxes, or keep what stands in the boxes."""
    page = let_in(request, site, May.EDIT, page="weather")
    stored = normals_of(page.site)
    months = NormalsForm(
        units=page.units, initial=normals_initial(stored) if stored else {}
    )
    pasted = PastedNormalsForm()
    is_read = False
    if "read" in request.POST:
        pasted = PastedNormalsForm(request.POST)
        found = _read(page, pasted)
        is_read = found is not None
        months = found or months
    elif request.method == "POST":
        months = NormalsForm(
            request.POST,
            units=page.units,
            initial=normals_initial(stored) if stored else {},
        )
        if months.is_valid():
            set_normals(site=page.site, months=months.months(), person=page.person)
            messages.success(request, gettext("The usual months are kept."))
            return _next(request, page)
    context = page.context(
        pasted=pasted,
        months=months,
        is_read=is_read,
        is_first="first" in request.GET,
        is_unfolded=is_read or stored is not None or months.is_bound,
    )
    return render(request, "orchard/weather_normals.html", context)


def _read(page: SitePage, pasted: PastedNormalsForm) -> NormalsForm | None:
    """Return the boxes filled from a pasted text, or ``None`` and say why."""
    if not pasted.is_valid():
        return None
    try:
        table = parse_pasted_normals(pasted.cleaned_data["pasted"], page.units)
    except SourceError as error:
        for problem in error.problems:
            pasted.add_error("pasted", str(problem))
        return None
    return NormalsForm(units=page.units, initial=normals_initial(table))


def _next(request: HttpRequest, page: SitePage) -> HttpResponse:
    if "first" in request.GET:
        answer = redirect("tree_add", page.site.slug)
        answer["Location"] += "?first=1"
        return answer
    return redirect("weather", page.site.slug)
