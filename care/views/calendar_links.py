"""Calendar links: make, see once, revoke; and the file a calendar program reads."""

from datetime import timedelta
from urllib.parse import urlsplit

from django import forms
from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import (
    HttpRequest,
    HttpResponse,
    HttpResponseNotFound,
    HttpResponseNotModified,
)
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import parse_etags
from django.utils.translation import gettext, gettext_lazy, gettext_noop
from django.views.decorators.cache import never_cache
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from care.actions.calendar_links import (
    link_of_token,
    make_calendar_link,
    note_reading,
    revoke_calendar_link,
)
from care.calendars.ics import etag_of, render_calendar
from care.models import CalendarLink
from care.views.calendar_rounds import rounds_of
from care.views.calendar_shifts import shifts_of
from orchard.languages import in_language
from orchard.units import UnitSystem
from orchard.views.site_page import SitePage, let_in

READ_AGAIN_AFTER = timedelta(minutes=15)
NO_CALENDAR = gettext_noop("There is no calendar at this address.")


class LinkForm(forms.Form):
    """What the link is for, so that it can be told from others."""

    label = forms.CharField(
        label=gettext_lazy("Where will you use it?"),
        max_length=60,
        error_messages={
            "required": gettext_lazy("Give it a name, such as “My phone”.")
        },
    )
    only_in_care = forms.BooleanField(
        label=gettext_lazy("Only what is in my care"),
        help_text=gettext_lazy(
            "It then leaves out what others look after, and what nobody does."
        ),
        required=False,
    )


def _show(
    request: HttpRequest, page: SitePage, form: LinkForm, *, secret: str = ""
) -> HttpResponse:
    path = reverse("calendar", args=[secret]) if secret else ""
    host = urlsplit(settings.BASE_URL)
    is_home = host.scheme != "https"
    context = page.context(
        "more",
        form=form,
        secret_address=f"{settings.BASE_URL}{path}" if secret else "",
        webcal_address=f"webcal://{host.netloc}{path}" if secret else "",
        is_home=is_home,
        host=host.netloc,
        links=CalendarLink.objects.filter(membership=page.membership, revoked_at=None),
    )
    status = 422 if form.errors else 200
    return render(request, "care/calendar_links.html", context, status=status)


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def calendar_links(request: HttpRequest, site: str) -> HttpResponse:
    """Show a member's own links; make one and show its secret this once."""
    page = let_in(request, site)
    if request.method != "POST":
        return _show(request, page, LinkForm())
    form = LinkForm(request.POST)
    if not form.is_valid():
        return _show(request, page, form)
    _, secret = make_calendar_link(
        membership=page.membership,
        label=form.cleaned_data["label"],
        only_in_care=form.cleaned_data["only_in_care"],
    )
    return _show(request, page, LinkForm(), secret=secret)


@require_POST
@login_required
def calendar_revoke(request: HttpRequest, site: str, link: int) -> HttpResponse:
    """Close one of the member's own links."""
    page = let_in(request, site)
    is_closed = revoke_calendar_link(
        membership=page.membership, link_id=link, now=page.now
    )
    said = (
        gettext("Closed: that address no longer answers.")
        if is_closed
        else gettext("Closed already.")
    )
    messages.success(request, said)
    return redirect("calendar_links", page.site.slug)


@require_safe
def calendar_file(request: HttpRequest, token: str) -> HttpResponse:
    """Answer a calendar program; whoever holds the address may read."""
    link = link_of_token(token)
    if link is None:
        return _guarded(
            HttpResponseNotFound(f"{gettext(NO_CALENDAR)}\n", content_type="text/plain")
        )
    now = timezone.now()
    membership = link.membership
    with in_language(membership.person.language):
        content = render_calendar(
            membership.orchard.name,
            rounds_of(
                membership.orchard,
                now,
                UnitSystem(membership.person.units),
                in_care_of=membership if link.only_in_care else None,
            ),
            shifts_of(membership, now),
        )
    if link.last_read_at is None or now - link.last_read_at > READ_AGAIN_AFTER:
        note_reading(link=link, now=now)
    etag = etag_of(content)
    if _is_known(request, etag):
        response: HttpResponse = HttpResponseNotModified()
    else:
        response = HttpResponse(content, content_type="text/calendar; charset=utf-8")
        response["Content-Disposition"] = 'inline; filename="rounds.ics"'
    response["ETag"] = etag
    response["Cache-Control"] = "private, max-age=900"
    return _guarded(response)


def _is_known(request: HttpRequest, etag: str) -> bool:
    """Whether the program says it has this very file (RFC 9110, weak comparison)."""
    known = parse_etags(request.headers.get("If-None-Match", ""))
    return "*" in known or etag in {tag.removeprefix("W/") for tag in known}


def _guarded(response: HttpResponse) -> HttpResponse:
    response["X-Robots-Tag"] = "noindex"
    response["Referrer-Policy"] = "no-referrer"
    return response
