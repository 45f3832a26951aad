"""Values that are not believed: what the weather page says of them, and the answer."""

from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_POST

from orchard.access import May
from orchard.actions.doubts import (
    VARIABLE_WORDS,
    DoubtClashError,
    open_doubts,
    settle_doubt,
)
from orchard.languages import short_weekday_and_year
from orchard.models import DoubtedValue
from orchard.sources.quality_hours import Why
from orchard.units import UnitSystem, format_quantity
from orchard.views.site_page import SitePage, let_in
from orchard.views.weather_words import series_words

MOST_SHOWN, MOST_READ = 4, 500
UNITS = {
    "tmin_c": "°C",
    "tmax_c": "°C",
    "rain_mm": "mm",
    "humidity_percent": "%",
    "wind_ms": "m/s",
    "gust_ms": "m/s",
    "radiation_mj": "MJ/m²",
    "et0_mm": "mm",
}
WHY_WORDS = {
    Why.BOUNDS: gettext_noop("No weather anywhere is like that."),
    Why.SWING: gettext_noop("The low and the high of that day do not fit each other."),
    Why.SPIKE: gettext_noop("It stands alone against the days around it."),
    Why.SEASON: gettext_noop("It is far from anything usual at that time of year."),
    Why.STUCK: gettext_noop(
        "The same value came again and again, as from a sensor that sticks."
    ),
    Why.UNIT: gettext_noop("In another unit it would fit what was measured around it."),
    Why.DRY_GAUGE: gettext_noop(
        "It says no rain where others here measured much. A blocked gauge?"
    ),
}


@dataclass(frozen=True, slots=True)
class DoubtRow:
    """One value in question."""

    pk: int
    what: str
    value: str
    why: str
    source: str


def doubt_rows(page: SitePage) -> tuple[list[DoubtRow], int]:
    """Return the newest doubts that wait for an answer, and how many more there are.

    A value that came day after day is one doubt.
    """
    rows = DoubtedValue.objects.filter(open_doubts(page.site)).select_related(
        "series", "batch"
    )[:MOST_READ]
    groups: dict[object, list[DoubtedValue]] = {}
    for row in rows:
        is_run = row.why == Why.STUCK
        key = (row.series_id, row.batch_id, row.variable, row.value) if is_run else row
        groups.setdefault(key, []).append(row)
    found = list(groups.values())
    shown = [_told(group, page.units) for group in found[:MOST_SHOWN]]
    return shown, len(found) - len(shown)


def _told(group: list[DoubtedValue], units: UnitSystem) -> DoubtRow:
    row = group[0]  # the newest
    is_file = row.batch is not None and row.series.kind == row.series.Kind.STATION
    day = short_weekday_and_year(row.day)
    when = (
        gettext("{number} days to {day}").format(number=len(group), day=day)
        if len(group) > 1
        else day
    )
    return DoubtRow(
        pk=row.pk,
        what=f"{when}: {gettext(VARIABLE_WORDS[row.variable])}",
        value=format_quantity(row.value, UNITS[row.variable], units),
        why=gettext(WHY_WORDS[Why(row.why)]),
        source=row.batch.label
        if is_file and row.batch
        else series_words(row.series.name),
    )


@require_POST
@login_required
def doubt_settle(request: HttpRequest, site: str, doubt: int) -> HttpResponse:
    """Say that a value is right, or wrong."""
    page = let_in(request, site, May.TICK, page="weather")
    is_right = request.POST.get("answer") == "right"
    try:
        settled = settle_doubt(
            site=page.site,
            doubt_id=doubt,
            is_right=is_right,
            person=page.person,
            now=page.now,
        )
    except DoubtClashError as refused:
        messages.error(request, str(refused))
        return redirect("weather", page.site.slug)
    if settled is None:
        raise Http404
    words = gettext("It counts from now on.") if is_right else gettext("It stays out.")
    messages.success(request, words)
    return redirect("weather", page.site.slug)
