"""What a helper's browser keeps and what its pages may tell others.

A cookie whose name begins with ``__Host-`` must be for the whole site (RFC 6265bis,
section 4.1.3.2), yet no page but the helper's reads it.
"""

from datetime import datetime

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

UNITS_COOKIE = "helper_units"
# A form posted from a page under "no-referrer" names its origin as "null" (Fetch
# standard, "append a request Origin header"), which the guard against forged requests
# must refuse. "strict-origin" too keeps the address, and the secret in it, to itself.
SILENT, NO_ADDRESS = "no-referrer", "strict-origin"


def _name() -> str:
    return "__Host-helper" if settings.SESSION_COOKIE_SECURE else "helper"


def helper_secret(request: HttpRequest) -> str:
    """Return the secret that the browser keeps, or nothing."""
    return str(request.COOKIES.get(_name(), ""))


def keep_secret(
    response: HttpResponse, secret: str, until: datetime, now: datetime
) -> None:
    """Let the browser keep a secret until its link ends."""
    _keep(response, _name(), secret, until, now)


def keep_units(
    response: HttpResponse, units: str, until: datetime, now: datetime
) -> None:
    """Let the browser keep which units the helper reads."""
    _keep(response, UNITS_COOKIE, units, until, now)


def _keep(
    response: HttpResponse, name: str, value: str, until: datetime, now: datetime
) -> None:
    is_for_whole_site = name.startswith("__Host-")
    response.set_cookie(
        name,
        value,
        max_age=until - now,
        path="/" if is_for_whole_site else reverse("helper"),
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )


def guarded(response: HttpResponse, *, has_form: bool = False) -> HttpResponse:
    """Keep a page out of stores and search engines, and its address to itself."""
    response["Cache-Control"] = "no-store"
    response["X-Robots-Tag"] = "noindex"
    response["Referrer-Policy"] = NO_ADDRESS if has_form else SILENT
    return response
