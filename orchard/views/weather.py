"""The weather page: what was, what may come, and what people read themselves."""

from datetime import date

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import Count, Max, Min, QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from orchard.access import May
from orchard.actions.weather import take_back_batch, take_back_reading, type_reading
from orchard.forms.weather import ReadingForm, RemovalForm, TonightForm
from orchard.models import Site, WeatherBatch, WeatherDay, WeatherSeries
from orchard.sources.known_days import KnownDay, days_around, normals_of
from orchard.views.frost_evenings import (
    evening_form,
    evening_rows,
    keep_evening,
    remove_evening,
)
from orchard.views.site_page import SitePage, back_to, let_in
from orchard.views.weather_source_words import service_state

BACK_DAYS, AHEAD_DAYS = 14, 7


@login_required
@require_http_methods(["GET", "POST"])
def weather(request: HttpRequest, site: str) -> HttpResponse:
    """Show the days around today; take a reading, or what tonight may bring."""
    what = May.TICK if request.method == "POST" else May.SEE
    page = let_in(request, site, what, page="weather")
    reading = _reading_form(page)
    tonight = TonightForm(
        units=page.units, prefix="tonight", initial=_expected_tonight(page)
    )
    evening = evening_form(page)
    if "remove" in request.POST:
        return _remove(request, page)
    if "evening" in request.POST:
        evening = evening_form(page, request.POST)
        if evening.is_valid():
            return keep_evening(request, page, evening)
    elif "tonight" in request.POST:
        tonight = TonightForm(request.POST, units=page.units, prefix="tonight")
        if tonight.is_valid():
            return _keep_tonight(request, page, tonight)
    elif request.method == "POST":
        reading = _reading_form(page, request)
        if reading.is_valid():
            return _keep_reading(request, page, reading)
    context = _context(page, reading, tonight)
    context |= {"evening": evening, "evenings": evening_rows(page)}
    return render(request, "orchard/weather.html", context)


def _reading_form(page: SitePage, request: HttpRequest | None = None) -> ReadingForm:
    return ReadingForm(
        request.POST if request else None,
        units=page.units,
        today=page.today,
        known=lambda day: _typed_extremes(page.site, day),
        initial={"day": page.today},
    )


def _typed(site: Site) -> QuerySet[WeatherDay]:
    return WeatherDay.objects.filter(
        batch__series__owner=site, batch__series__kind=WeatherSeries.Kind.TYPED
    )


def _typed_extremes(site: Site, day: date) -> tuple[float | None, float | None]:
    row = _typed(site).filter(day=day, issued_on=None).first()
    return (row.tmin_c, row.tmax_c) if row else (None, None)


def _expected_tonight(page: SitePage) -> dict[str, object]:
    row = _typed(page.site).filter(issued_on=page.today).order_by("day").first()
    is_known = row is not None and row.tmin_c is not None
    return {"tonight_c": row.tmin_c} if row and is_known else {}


def _keep_reading(
    request: HttpRequest, page: SitePage, form: ReadingForm
) -> HttpResponse:
    day: date = form.cleaned_data["day"]
    type_reading(site=page.site, day=day, values=form.values(), person=page.person)
    messages.success(request, f"Your reading of {day:%-d %B} is kept.")
    return back_to(request, reverse("weather", args=[page.site.slug]))


def _keep_tonight(
    request: HttpRequest, page: SitePage, form: TonightForm
) -> HttpResponse:
    type_reading(
        site=page.site,
        day=page.today,
        values={"tmin_c": form.cleaned_data["tonight_c"]},
        person=page.person,
        issued_on=page.today,
    )
    messages.success(request, "Tonight's lowest is kept.")
    return redirect("weather", page.site.slug)


def _remove(request: HttpRequest, page: SitePage) -> HttpResponse:
    if request.POST["remove"] == "evening":
        return remove_evening(request, page)
    if request.POST["remove"] == "tonight":
        was_there = take_back_reading(
            site=page.site,
            day=page.today,
            issued_on=page.today,
            person=page.person,
        )
    else:
        form = RemovalForm(request.POST)
        was_there = form.is_valid() and take_back_reading(
            site=page.site, day=form.cleaned_data["day"], person=page.person
        )
    words = "What was typed is removed." if was_there else "Nothing was typed for it."
    messages.success(request, words)
    return redirect("weather", page.site.slug)


def _context(
    page: SitePage, reading: ReadingForm, tonight: TonightForm
) -> dict[str, object]:
    known = days_around(page.site, page.today, back=BACK_DAYS, ahead=AHEAD_DAYS)
    past = [day for day in known if _is_past(day, page.today)]
    coming = [day for day in known if day.day >= page.today and day not in past]
    return page.context(
        reading=reading,
        tonight=tonight,
        has_tonight="tonight_c" in tonight.initial or tonight.is_bound,
        past=[(day, _origin(day)) for day in reversed(past) if day.origin],
        missing=sum(day.origin in {"", "normal"} for day in past),
        coming=[(day, _origin(day)) for day in coming if day.origin],
        typed=[day for day in reversed(past) if day.is_typed],
        has_normals=normals_of(page.site) is not None,
        imports=_imports(page.site),
        service=service_state(page.site, page.now),
    )


def _is_past(known: KnownDay, today: date) -> bool:
    """Whether a day is over, or is today and somebody has read it already."""
    return known.day < today or (known.day == today and known.origin == "typed")


def _origin(known: KnownDay) -> str:
    if known.origin == "forecast" and known.series_name and known.is_typed:
        return "expected by someone here"
    words = {
        "observed": "observed",
        "typed": "read here",
        "forecast": "forecast",
        "normal": "typical for the month",
    }
    gap = ", partly missing" if known.has_gap and known.origin != "forecast" else ""
    return words[known.origin] + gap


def _imports(site: Site) -> QuerySet[WeatherBatch]:
    return (
        WeatherBatch.objects.filter(
            series__owner=site, series__kind=WeatherSeries.Kind.STATION
        )
        .select_related("person")
        .annotate(count=Count("days"), first=Min("days__day"), last=Max("days__day"))
        .order_by("-id")
    )


@login_required
@require_POST
def weather_take_back(request: HttpRequest, site: str, batch: int) -> HttpResponse:
    """Take an import back; what was known before counts again."""
    page = let_in(request, site, May.EDIT, page="weather")
    if not take_back_batch(site=page.site, batch_id=batch, person=page.person):
        raise Http404
    messages.success(request, "The import is taken back; what was before counts again.")
    return redirect("weather", page.site.slug)
