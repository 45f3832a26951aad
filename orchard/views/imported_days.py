"""What both ways of importing a weather file share: carrying it, showing, keeping."""

from collections.abc import Sequence
from dataclasses import asdict

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext

from orchard.actions.weather import import_days
from orchard.forms.weather_import import MAX_CARRIED, CarriedFile
from orchard.models import WeatherDay, WeatherSeries
from orchard.sources.station_day import StationDay
from orchard.views.site_page import SitePage

SHOWN_ROWS = 3
LONGEST_LABEL = 120


def carried_text(page: SitePage, carried: CarriedFile) -> str:
    """Return the file as the page carries it; for this person and place alone."""
    return carried.signed(owner_of(page))


def is_too_long(page: SitePage, carried: CarriedFile) -> bool:
    """Whether the file does not fit into a form's field."""
    return len(carried_text(page, carried)) > MAX_CARRIED


def owner_of(page: SitePage) -> str:
    """Return whose a carried file is."""
    return f"{page.site.pk}:{page.person.pk}"


def shown(days: Sequence[StationDay]) -> dict[str, object]:
    """Return the first and last days for the table; the empty one marks what is not."""
    rows: list[StationDay | None] = list(days)
    if len(days) > 2 * SHOWN_ROWS:
        rows = [*days[:SHOWN_ROWS], None, *days[-SHOWN_ROWS:]]
    return {"shown": rows, "left_out": max(len(days) - 2 * SHOWN_ROWS, 0)}


def known_before(page: SitePage, days: Sequence[StationDay]) -> int:
    """Return how many days between its first and last an earlier import holds."""
    if not days:
        return 0
    return (
        WeatherDay.objects.filter(
            batch__series__owner=page.site,
            batch__series__kind=WeatherSeries.Kind.STATION,
            day__range=(days[0].day, days[-1].day),
        )
        .values("day")
        .distinct()
        .count()
    )


def store(
    request: HttpRequest, page: SitePage, days: Sequence[StationDay], label: str
) -> HttpResponse:
    """Keep the days as one batch, and go to the weather."""
    found = []
    for station_day in days:
        values = asdict(station_day)
        found.append((values.pop("day"), values))
    import_days(
        site=page.site,
        days=found,
        label=label[:LONGEST_LABEL] or gettext("Weather file"),
        person=page.person,
    )
    messages.success(
        request,
        gettext("{number} days are imported.").format(number=len(found)),
    )
    return redirect("weather", page.site.slug)
