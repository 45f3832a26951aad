"""Evenings of clear, calm nights, logged on the weather page to learn frosts from."""

from dataclasses import dataclass
from datetime import date, timedelta

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext

from orchard.actions.weather import log_evening, take_back_evening
from orchard.forms.weather import EveningForm, EveningRemovalForm
from orchard.models import WeatherDay, WeatherSeries
from orchard.units import format_temperature
from orchard.views.site_page import SitePage

SHOWN = 14
DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class EveningRow:
    """One logged evening; ``lowest`` is empty until the next morning was read."""

    on: date
    air: str
    dew_point: str
    lowest: str


def evening_form(page: SitePage, data: object = None) -> EveningForm:
    """Return the form, bound where something was sent."""
    return EveningForm(
        data,
        units=page.units,
        today=page.today,
        prefix="evening",
        initial={"on": page.today},
    )


def evening_rows(page: SitePage) -> list[EveningRow]:
    """Return the last evenings logged, newest first."""
    evenings = list(
        page.site.frost_evenings.filter(on__lte=page.today).order_by("-on")[:SHOWN]
    )
    mornings = WeatherDay.objects.filter(
        batch__series__owner=page.site,
        batch__series__kind=WeatherSeries.Kind.TYPED,
        issued_on=None,
        day__in=[evening.on + DAY for evening in evenings],
        tmin_c__isnull=False,
    )
    lowest = dict(mornings.values_list("day", "tmin_c"))
    return [
        EveningRow(
            on=evening.on,
            air=format_temperature(evening.air_c, page.units),
            dew_point=format_temperature(evening.dew_point_c, page.units),
            lowest=_shown(lowest.get(evening.on + DAY), page),
        )
        for evening in evenings
    ]


def _shown(temp_c: float | None, page: SitePage) -> str:
    return "" if temp_c is None else format_temperature(temp_c, page.units)


def keep_evening(
    request: HttpRequest, page: SitePage, form: EveningForm
) -> HttpResponse:
    """Write the evening down."""
    given = form.cleaned_data
    log_evening(
        site=page.site,
        on=given["on"],
        air_c=given["air_c"],
        dew_point_c=given["dew_point_c"],
        person=page.person,
    )
    said = gettext(
        "The evening is kept. Write down the lowest of the next morning too."
    )
    messages.success(request, said)
    return redirect("weather", page.site.slug)


def remove_evening(request: HttpRequest, page: SitePage) -> HttpResponse:
    """Take an evening back."""
    form = EveningRemovalForm(request.POST)
    was_there = form.is_valid() and take_back_evening(
        site=page.site, on=form.cleaned_data["on"], person=page.person
    )
    words = (
        gettext("The evening is removed.")
        if was_there
        else gettext("There is no such evening.")
    )
    messages.success(request, words)
    return redirect("weather", page.site.slug)
