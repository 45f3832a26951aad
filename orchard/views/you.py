"""What a person chooses for themselves, and the ways in and out."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from orchard.actions.people import choose_units
from orchard.forms.you import UnitsChoiceForm
from orchard.models import Membership, Person


@login_required
@require_http_methods(["GET", "POST"])
def you(request: HttpRequest) -> HttpResponse:
    """Show and change a person's own settings."""
    person = request.user
    if not isinstance(person, Person):
        raise TypeError
    data = request.POST if request.method == "POST" else None
    form = UnitsChoiceForm(data, initial={"units": person.units})
    if form.is_bound and form.is_valid():
        choose_units(person=person, units=form.cleaned_data["units"])
        messages.success(request, "Your units are changed.")
        return redirect("you")
    memberships = (
        Membership.objects.filter(person=person)
        .select_related("orchard")
        .prefetch_related("orchard__sites")
        .order_by("orchard__name", "id")
    )
    context = {"form": form, "person": person, "memberships": memberships}
    return render(request, "orchard/you.html", context)
