"""Weather stations that send by themselves: the page, and the address they send to.

The address takes a reading from whoever holds its secret, without a session: that is
all it can do, so that a stolen secret can bring false weather and nothing else.
"""

from datetime import datetime
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods, require_POST

from orchard.access import May
from orchard.actions.people import hash_of
from orchard.actions.station_keys import (
    TooManyStationsError,
    key_of_token,
    make_key,
    refuse_reading,
    revoke_key,
    take_reading,
)
from orchard.forms.station_keys import StationForm
from orchard.languages import day_of_year
from orchard.models import StationKey
from orchard.sources.retold import retold
from orchard.sources.station_push import PushError, read_push
from orchard.views.age_words import ago
from orchard.views.guess_limit import count_guess, may_guess
from orchard.views.site_page import SitePage, let_in

MOST_BYTES = 4096
# Some stations send every two or three seconds (common practice, no source).
MOST_A_MINUTE = 60
USUAL_HEIGHT_M = 2.0
SILENT_S = 3 * 3600
LOCAL_HOSTS = {"", "localhost", "127.0.0.1", "::1"}
NOTHING_HERE = "There is nothing at this address.\n"
TOO_OFTEN = "Too often: once a minute is enough.\n"
TOO_LARGE = "That is more than a reading.\n"
TAKEN = "success\n"  # what such stations wait for


@never_cache
@csrf_exempt  # a station holds no session that somebody else's page could use
@require_http_methods(["GET", "POST"])
def station_push(
    request: HttpRequest, key_token: str, ending: str = ""
) -> HttpResponse:
    """Take a reading; ``ending`` is what some stations put behind the address."""
    del ending
    if not may_guess(request):
        return _plain(TOO_OFTEN, 429)
    if _size(request) > MOST_BYTES:
        return _plain(TOO_LARGE, 413)
    if not _may_send(key_token):
        return _plain(TOO_OFTEN, 429)
    key = key_of_token(key_token)
    if key is None:
        count_guess(request)
        return _plain(NOTHING_HERE, 404)
    now = timezone.now()
    fields = {**request.GET.dict(), **request.POST.dict()}
    try:
        reading = read_push({name: str(text) for name, text in fields.items()}, now)
    except PushError as refused:
        refuse_reading(key=key, why=str(refused), now=now)
        return _plain(f"{refused}\n", 400)
    take_reading(key=key, reading=reading, now=now)
    return _plain(TAKEN, 200)


def _size(request: HttpRequest) -> int:
    body = request.META.get("CONTENT_LENGTH") or "0"
    announced = int(body) if body.isascii() and body.isdecimal() else MOST_BYTES + 1
    return len(request.META.get("QUERY_STRING", "")) + announced


def _may_send(token: str) -> bool:
    """Count one sending by a secret, known or not, within the minute."""
    name = f"pushes:{hash_of(token)}"
    if cache.add(name, 1, 60):
        return True
    try:
        return cache.incr(name) <= MOST_A_MINUTE
    except ValueError:  # it ran out between the two
        return True


def _plain(words: str, status: int) -> HttpResponse:
    answer = HttpResponse(
        words, status=status, content_type="text/plain; charset=utf-8"
    )
    answer["X-Robots-Tag"] = "noindex"
    answer["Referrer-Policy"] = "no-referrer"
    return answer


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def station_keys(request: HttpRequest, site: str) -> HttpResponse:
    """Show the stations that may send; make a key and show its secret this once."""
    what = May.EDIT if request.method == "POST" else May.SEE
    page = let_in(request, site, what, page="weather")
    form = StationForm(
        request.POST if request.method == "POST" else None,
        units=page.units,
        initial={"wind_height_m": USUAL_HEIGHT_M},
    )
    host = urlsplit(settings.BASE_URL).hostname or ""
    secret = _make(page, form) if form.is_bound and form.is_valid() else ""
    context = page.context(
        form=StationForm(units=page.units, initial=form.initial) if secret else form,
        shown=_address(secret) if secret else None,
        stations=[_row(page, key) for key in _keys(page)],
        is_https=settings.BASE_URL.startswith("https"),
        host=host,
        is_local=host in LOCAL_HOSTS,
    )
    return render(request, "orchard/station_keys.html", context)


def _make(page: SitePage, form: StationForm) -> str:
    try:
        _, secret = make_key(
            site=page.site,
            name=form.cleaned_data["name"],
            wind_height_m=form.cleaned_data["wind_height_m"],
            person=page.person,
            now=page.now,
        )
    except TooManyStationsError as refused:
        form.add_error(None, str(refused))
        return ""
    return secret


def _address(secret: str) -> dict[str, str]:
    """Return a new address whole and in the parts that stations ask for."""
    path = reverse("station_push", args=[secret])
    host = urlsplit(settings.BASE_URL)
    port = host.port or (443 if host.scheme == "https" else 80)
    return {
        "whole": f"{settings.BASE_URL}{path}",
        "server": host.hostname or "",
        "port": str(port),
        "path": path,
    }


def _keys(page: SitePage) -> list[StationKey]:
    rows = StationKey.objects.filter(site=page.site, revoked_at=None)
    return list(rows.select_related("made_by"))


def _row(page: SitePage, key: StationKey) -> dict[str, object]:
    zone = ZoneInfo(page.site.time_zone)
    by = (
        gettext(" by {name}").format(name=key.made_by.shown_name) if key.made_by else ""
    )
    return {
        "pk": key.pk,
        "name": key.name,
        "made": gettext("Made {moment}{by}").format(
            moment=_moment(key.made_at, zone), by=by
        ),
        "heard": gettext("Last heard {ago}").format(ago=ago(key.heard_at, page.now))
        if key.heard_at
        else "",
        "is_silent": key.heard_at is None
        or (page.now - key.heard_at).total_seconds() > SILENT_S,
        "refusal": retold(key.refusal),
        "refused": ago(key.refused_at, page.now) if key.refused_at else "",
        "is_refused_since": key.refused_at is not None
        and (key.heard_at is None or key.refused_at > key.heard_at),
    }


def _moment(at: datetime, zone: ZoneInfo) -> str:
    return day_of_year(at.astimezone(zone))


@require_POST
@login_required
def station_key_revoke(request: HttpRequest, site: str, key: int) -> HttpResponse:
    """Close one of the site's keys."""
    page = let_in(request, site, May.EDIT, page="weather")
    is_closed = revoke_key(site=page.site, key_id=key, person=page.person, now=page.now)
    words = (
        gettext("Closed: that address no longer answers. The days it sent stay.")
        if is_closed
        else gettext("Closed already.")
    )
    messages.success(request, words)
    return redirect("station_keys", page.site.slug)
