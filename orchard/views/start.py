"""The first page of a newcomer: a name and a place."""

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from orchard.access import May, may
from orchard.actions.places import add_site, begin_orchard
from orchard.forms.site_settings import zone_names
from orchard.forms.starting import StartForm
from orchard.models import Membership, Orchard, Person
from orchard.units import UnitSystem


@login_required
@require_http_methods(["GET", "POST"])
def start(request: HttpRequest) -> HttpResponse:
    """Ask for name and place; make the orchard and go on to its weather."""
    person = request.user
    if not isinstance(person, Person):
        raise TypeError
    orchards = _editable(person)
    units = UnitSystem(person.units)
    searched = request.POST.get("city", "")
    if request.method == "POST" and "find" not in request.POST:
        form = StartForm(
            request.POST, units=units, orchards=orchards, searched=searched
        )
        if form.is_valid():
            return _make(person, form, orchards)
    else:
        typed = {key: value for key, value in request.POST.items() if value}
        form = StartForm(
            initial=typed, units=units, orchards=orchards, searched=searched
        )
    context = {
        "form": form,
        "searched": searched if "find" in request.POST else "",
        "zones": zone_names(),
        "is_unfolded": any(
            form.has_error(name)
            for name in ("latitude", "longitude", "time_zone", "elevation_m")
        ),
    }
    return render(request, "orchard/start.html", context)


def _editable(person: Person) -> list[Orchard]:
    memberships = Membership.objects.filter(person=person).select_related("orchard")
    return [each.orchard for each in memberships if may(each.role, May.EDIT)]


def _make(person: Person, form: StartForm, orchards: list[Orchard]) -> HttpResponse:
    values = form.site_values()
    chosen = form.cleaned_data.get("orchard")
    joined = next((each for each in orchards if str(each.pk) == chosen), None)
    if joined is not None:
        site = add_site(orchard=joined, values=values, person=person)
    else:
        name = str(values["name"])
        site = begin_orchard(person=person, orchard_name=name, site_values=values)
    return redirect(reverse("weather_normals", args=[site.slug]) + "?first=1")
