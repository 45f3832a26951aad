"""What a person chooses for themselves, and the ways in and out."""

from collections import Counter

from allauth.mfa.models import Authenticator
from allauth.usersessions.adapter import get_adapter as get_session_adapter
from allauth.usersessions.models import UserSession
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import translation
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST

from orchard.actions.people import choose_language, choose_units
from orchard.forms.you import OwnChoicesForm
from orchard.models import Membership, Person
from orchard.views.devices import device_section
from orchard.views.messages import message_section


@login_required
@require_http_methods(["GET", "POST"])
def you(request: HttpRequest) -> HttpResponse:
    """Show and change a person's own settings."""
    person = request.user
    if not isinstance(person, Person):
        raise TypeError
    data = request.POST if request.method == "POST" else None
    initial = {"units": person.units, "language": person.language}
    form = OwnChoicesForm(data, initial=initial)
    if form.is_bound and form.is_valid():
        return _choose(request, person, form)
    memberships = (
        Membership.objects.filter(person=person)
        .select_related("orchard")
        .prefetch_related("orchard__sites")
        .order_by("orchard__name", "id")
    )
    held = Authenticator.objects.filter(user=person).values_list("type", flat=True)
    context = {
        "form": form,
        "person": person,
        "memberships": memberships,
        "held": Counter(held),
        "told": message_section(person),
        "devices": device_section(person),
    }
    return render(request, "orchard/you.html", context)


def _choose(request: HttpRequest, person: Person, form: OwnChoicesForm) -> HttpResponse:
    language = form.cleaned_data["language"]
    choose_units(person=person, units=form.cleaned_data["units"])
    choose_language(person=person, language=language)
    # What is said of it is said in the language that was chosen.
    with translation.override(
        language or translation.get_language_from_request(request)
    ):
        messages.success(request, gettext("Your choice is kept."))
    return redirect("you")


@login_required
@require_POST
def session_end(request: HttpRequest, session: int) -> HttpResponse:
    """Sign one of the person's other browsers out, at once."""
    mine = get_object_or_404(UserSession, pk=session, user=request.user)
    if mine.is_current():
        return redirect("account_logout")
    get_session_adapter().end_sessions([mine])
    messages.success(request, gettext("That one is signed out."))
    return redirect("usersessions_list")
