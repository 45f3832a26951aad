"""The ways in: what works at this address, and the link that works once."""

import ipaddress
from collections.abc import Callable
from functools import partial

from allauth.account.adapter import get_adapter
from allauth.account.internal.flows.login import record_authentication
from allauth.account.utils import perform_login
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.http.request import split_domain_port
from django.shortcuts import render
from django.utils import timezone
from django.utils.cache import add_never_cache_headers
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from orchard.actions.people import person_of_signin_link, use_signin_link


def passkeys_here(request: HttpRequest) -> str:
    """Return whether passkeys work at the address the page was opened with.

    Browsers offer them over https, and without it on this very computer alone; the
    address must be a name (W3C Web Authentication Level 2, 5.1.3 and 13.4.9).

    Returns
    -------
    str
        ``work``, ``needs_localhost`` (the computer itself, called by number),
        ``needs_name`` (https by number) or ``needs_https``.
    """
    host, _ = split_domain_port(request.get_host())
    try:
        number = ipaddress.ip_address(host.strip("[]"))
    except ValueError:
        on_this_computer = host == "localhost" or host.endswith(".localhost")
        return "work" if request.is_secure() or on_this_computer else "needs_https"
    if number.is_loopback:
        return "needs_localhost"
    return "needs_name" if request.is_secure() else "needs_https"


def ways_in(request: HttpRequest) -> dict[str, object]:
    """Return what the account pages need to offer only what works here."""
    return {
        "has_mail": settings.HAS_MAIL,
        "may_sign_up": partial(get_adapter().is_open_for_signup, request),
        "passkeys": partial(passkeys_here, request),
        "sign_in_server": settings.SIGN_IN_SERVER_NAME,
    }


def account_pages_unkept(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Let no browser keep an account page: some show secrets and codes."""

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        if request.path.startswith("/accounts/"):
            add_never_cache_headers(response)
        return response

    return answer


@never_cache
@require_http_methods(["GET", "POST"])
def signin_once(request: HttpRequest, token: str) -> HttpResponse:
    """Show whom the link signs in (GET); sign them in and use it up (POST).

    The link stands in for a password alone: whoever set up a second step still takes
    it, so that nobody who may make links gets past it.
    """
    now = timezone.now()
    if request.method == "POST":
        person = use_signin_link(token=token, now=now)
        if person is not None:
            record_authentication(request, person, method="signin_link")
            answer: HttpResponse = perform_login(request, person, redirect_url="/")
            return answer
    else:
        person = person_of_signin_link(token=token, now=now)
    status = 200 if person else 410
    return render(
        request, "orchard/signin_once.html", {"person": person}, status=status
    )
