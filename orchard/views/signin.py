"""The one-time way in: opening shows a button, only pressing it uses the link."""

from django.contrib.auth import login
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from orchard.actions.people import person_of_signin_link, use_signin_link

BACKEND = "allauth.account.auth_backends.AuthenticationBackend"


@never_cache
@require_http_methods(["GET", "POST"])
def signin_once(request: HttpRequest, token: str) -> HttpResponse:
    """Show whom the link signs in (GET); sign them in and use it up (POST)."""
    now = timezone.now()
    if request.method == "POST":
        person = use_signin_link(token=token, now=now)
        if person is not None:
            login(request, person, backend=BACKEND)
            return redirect("/")
    else:
        person = person_of_signin_link(token=token, now=now)
    status = 200 if person else 410
    return render(
        request, "orchard/signin_once.html", {"person": person}, status=status
    )
