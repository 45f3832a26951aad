"""The weather page: what was, what may come, and what people read themselves."""

from datetime import date, timedelta

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import QuerySet
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST

from orchard.access import May
from orchard.actions.weather import take_back_batch, take_back_reading, type_reading
from orchard.forms.weather import ReadingForm, RemovalForm, TonightForm
from orchard.languages import day_and_month
from orchard.models import Site, WeatherDay, WeatherSeries
from orchard.views.frost_evenings import (
    evening_form,
    evening_rows,
    keep_evening,
    remove_evening,
)
from orchard.views.site_page import SitePage, back_to, let_in
from orchard.views.weather_shown import shown_weather

LONGEST_ID = 12


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
        reading = _reading_form(page, _posted(request, page.today))
        if reading.is_valid():
            return _keep_reading(request, page, reading)
    before = request.GET.get("before", "")
    context = page.context(
        reading=reading,
        tonight=tonight,
        has_tonight="tonight_c" in tonight.initial or tonight.is_bound,
        evening=evening,
        evenings=evening_rows(page),
    )
    context |= shown_weather(page, int(before) if _is_id(before) else None)
    return render(request, "orchard/weather.html", context)


def _is_id(text: str) -> bool:
    return text.isascii() and text.isdecimal() and len(text) <= LONGEST_ID


def _posted(request: HttpRequest, today: date) -> QueryDict:
    """Return what was sent; the short form for the gauge names its day by its button."""
    posted = request.POST.copy()
    days_ago = {"today": 0, "yesterday": 1}.get(posted.get("gauge", ""))
    if days_ago is not None:
        posted["day"] = str(today - timedelta(days=days_ago))
    return posted


def _reading_form(page: SitePage, posted: QueryDict | None = None) -> ReadingForm:
    return ReadingForm(
        posted,
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
    messages.success(
        request,
        gettext("Your reading of {day} is kept.").format(day=day_and_month(day)),
    )
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
    messages.success(request, gettext("Tonight's lowest is kept."))
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
    words = (
        gettext("What was typed is removed.")
        if was_there
        else gettext("Nothing was typed for it.")
    )
    messages.success(request, words)
    return redirect("weather", page.site.slug)


@login_required
@require_POST
def weather_take_back(request: HttpRequest, site: str, batch: int) -> HttpResponse:
    """Take an import back; what was known before counts again."""
    page = let_in(request, site, May.EDIT, page="weather")
    if not take_back_batch(site=page.site, batch_id=batch, person=page.person):
        raise Http404
    messages.success(
        request, gettext("The import is taken back; what was before counts again.")
    )
    return redirect("weather", page.site.slug)
