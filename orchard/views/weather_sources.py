"""Weather services: which cover this place, on what terms, and how asking goes."""

from collections.abc import Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST

from orchard.access import May
from orchard.actions.weather_services import (
    AskedNow,
    NotOfferedError,
    ask_now,
    choose_source,
    chosen_series,
    leave_source,
)
from orchard.forms.weather_sources import NONE, ServiceForm
from orchard.models import WeatherSeries
from orchard.sources.registry import WeatherService, service_of, services_at
from orchard.views.site_page import SitePage, let_in
from orchard.views.weather_source_words import clock_words, state_of

USUAL_HOST = "api.open-meteo.com"


@dataclass(frozen=True, slots=True)
class ServiceLine:
    """One service as the page shows it; ``is_ticked`` is what stands in the form."""

    service: WeatherService
    is_chosen: bool
    is_ticked: bool
    asked_at: str


@login_required
@require_http_methods(["GET", "POST"])
def weather_sources(request: HttpRequest, site: str) -> HttpResponse:
    """Show the services; let owners and coordinators choose one, or none."""
    what = May.EDIT if request.method == "POST" else May.SEE
    page = let_in(request, site, what, page="weather")
    services = list(services_at(page.site))
    known = chosen_series(page.site)
    form = ServiceForm(
        request.POST if request.method == "POST" else None,
        services=[(service.key, service.name) for service in services],
        initial={"service": known.source if known else NONE},
    )
    if form.is_bound and form.is_valid():
        try:
            _choose(request, page, form.cleaned_data["service"])
        except NotOfferedError as error:
            form.add_error("service", str(error))
        else:
            return redirect("weather_sources", page.site.slug)
    context = page.context(
        form=form,
        lines=_lines(services, known, str(form["service"].value())),
        is_none_ticked=form["service"].value() == NONE,
        state=state_of(page.site, known, page.now),
    )
    return render(request, "orchard/weather_sources.html", context)


def _choose(request: HttpRequest, page: SitePage, key: str) -> None:
    if key == NONE:
        leave_source(site=page.site, person=page.person)
        messages.success(
            request, gettext("No service is asked for this place any more.")
        )
        return
    series = choose_source(site=page.site, key=key, person=page.person)
    if settings.ORCHARD_CONTACT:
        messages.success(
            request,
            gettext("{name} is chosen. It is asked within ten minutes.").format(
                name=series.name
            ),
        )
    else:
        messages.success(
            request,
            gettext("{name} is chosen, but not asked yet: see below.").format(
                name=series.name
            ),
        )


def _lines(
    services: Sequence[WeatherService], known: WeatherSeries | None, ticked: str
) -> list[ServiceLine]:
    key = known.source if known else ""
    chosen = service_of(key)
    # The terms of one that is read hold, even where the place was moved abroad since.
    rest = [chosen] if chosen is not None and chosen not in services else []
    return [
        ServiceLine(
            service,
            is_chosen=service.key == key,
            is_ticked=service.key == ticked,
            asked_at=_own_host(service),
        )
        for service in [*services, *rest]
    ]


def _own_host(service: WeatherService) -> str:
    """Return where a service of one's own stands; empty for the public ones."""
    host = service.host()
    return host if service.key == "columns" and host != USUAL_HOST else ""


@login_required
@require_POST
def weather_ask(request: HttpRequest, site: str) -> HttpResponse:
    """Have the chosen service asked as soon as it lets us."""
    page = let_in(request, site, May.TICK, page="weather")
    asked = ask_now(site=page.site, person=page.person, now=page.now)
    messages.success(request, _asked_words(page, asked))
    return redirect("weather_sources", page.site.slug)


def _asked_words(page: SitePage, asked: AskedNow | None) -> str:
    if asked is None:
        return gettext("No service is chosen, so there is none to ask.")
    if not settings.ORCHARD_CONTACT:
        return gettext("No service is asked yet: see below.")
    if asked.is_due:
        return gettext("It is asked within the next ten minutes.")
    at = clock_words(asked.at, page.now, ZoneInfo(page.site.time_zone))
    if asked.is_service_wish:
        return gettext(
            "The service wants no question before then: it is asked again {at}."
        ).format(at=at)
    return gettext("It was asked a moment ago. You can ask again {at}.").format(at=at)
