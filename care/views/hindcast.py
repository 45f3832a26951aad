"""How good the plans were: what was told on earlier Mondays beside what came."""

from datetime import date, timedelta
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_POST, require_safe

from care.actions.hindcasts import LookState, state_of, wish_for_hindcast
from care.models import Hindcast
from care.planning.hindcast_report import LAYOUT
from care.views.days import short_day
from care.views.hindcast_words import look_words
from orchard.access import May
from orchard.models import Site, WeatherDay
from orchard.views.site_page import let_in

FRESH = timedelta(days=30)  # of weather that a report may be without; ours
LEAST_DAYS = 366


@require_safe
@login_required
def hindcast(request: HttpRequest, site: str) -> HttpResponse:
    """Show the last look back, and whether another one is wished for or runs."""
    page = let_in(request, site, page="weather")
    look = Hindcast.objects.filter(site=page.site).first()
    state = state_of(look, page.now)
    is_made = look is not None and look.done_at is not None
    is_readable = look is not None and look.report.get("layout") == LAYOUT
    context = page.context(
        state=state.value,
        is_busy=state in (LookState.WISHED, LookState.UNDER_WAY),
        error=gettext(look.error) if look is not None else "",
        has_enough=is_made or _has_a_year(page.site),
        is_of_another_version=is_made and not is_readable,
    )
    if look is not None and look.done_at is not None and is_readable:
        made = look.done_at.astimezone(ZoneInfo(page.site.time_zone)).date()
        context |= {
            "words": look_words(look.report, page.today),
            "made_on": short_day(made, page.now.date()),
            "is_old": _has_moved_on(page.site, look),
            "goes_beyond": _last_of(look) >= page.today,
        }
    return render(request, "care/hindcast.html", context)


@require_POST
@login_required
def hindcast_wish(request: HttpRequest, site: str) -> HttpResponse:
    """Ask for a look back; a job makes it."""
    page = let_in(request, site, May.EDIT)
    wish_for_hindcast(site=page.site, now=page.now)
    messages.success(
        request, gettext("Asked for. It takes some minutes; come back later.")
    )
    return redirect("hindcast", page.site.slug)


def _observed(site: Site) -> QuerySet[WeatherDay]:
    return WeatherDay.objects.filter(batch__series__readers__site=site, issued_on=None)


def _has_a_year(site: Site) -> bool:
    days = _observed(site).values("day").distinct()[:LEAST_DAYS]
    return days.count() >= LEAST_DAYS


def _has_moved_on(site: Site, look: Hindcast) -> bool:
    """Whether so much weather has come since that another look would tell more."""
    return _observed(site).filter(day__gt=_last_of(look) + FRESH).exists()


def _last_of(look: Hindcast) -> date:
    """Return the last day that a report knows."""
    return date.fromisoformat(look.report["record"]["last"])
