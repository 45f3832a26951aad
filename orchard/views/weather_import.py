"""A station's file in three steps: send it, say what its columns hold, import it.

Between the steps the page carries the file itself, packed and signed, so that
nothing is stored before the import and nothing is lost by going back.
"""

from dataclasses import asdict

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.signing import BadSignature
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods

from orchard.access import May
from orchard.actions.people import hash_of
from orchard.actions.weather import import_days
from orchard.forms.weather_import import (
    MAX_CARRIED,
    CarriedFile,
    MappingForm,
    UploadForm,
    mapping_values,
    too_large,
)
from orchard.models import WeatherDay, WeatherSeries
from orchard.sources.problems import SourceError
from orchard.sources.station_columns import guess_mapping
from orchard.sources.station_csv import ParsedDays, parse_days
from orchard.sources.station_table import StationTable, read_table
from orchard.views.site_page import SitePage, let_in
from orchard.views.upload_limit import UploadLimit

#: The file and the few fields around it.
MOST_BYTES = 5_900_000
SHOWN_ROWS = 3
LONGEST_LABEL = 120
LEFT_OPEN = "The page was open for too long. Please send the file again."


@login_required
@csrf_exempt  # the limit must stand before anything reads the request; see below
@require_http_methods(["GET", "POST"])
def weather_import(request: HttpRequest, site: str) -> HttpResponse:
    """Set the limit, then check the form's token and do the step."""
    limit = UploadLimit(request, MOST_BYTES)
    request.upload_handlers.insert(0, limit)
    return _checked(request, site, limit)


@csrf_protect
def _checked(request: HttpRequest, site: str, limit: UploadLimit) -> HttpResponse:
    page = let_in(request, site, May.EDIT, page="weather")
    if request.method != "POST":
        return _ask_for_file(request, page, UploadForm())
    if limit.is_exceeded:
        form = UploadForm(data={})
        form.errors["file"] = form.error_class([too_large(limit.announced_bytes)])
        return _ask_for_file(request, page, form)
    if "carried" in request.POST:
        return _go_on(request, page)
    return _receive(request, page)


def _ask_for_file(
    request: HttpRequest, page: SitePage, form: UploadForm
) -> HttpResponse:
    return render(request, "orchard/weather_import.html", page.context(form=form))


def _receive(request: HttpRequest, page: SitePage) -> HttpResponse:
    form = UploadForm(request.POST, request.FILES)
    if not form.is_valid():
        return _ask_for_file(request, page, form)
    file = form.cleaned_data["file"]
    carried = CarriedFile(file.name.replace("\0", ""), file.read())
    try:
        table = read_table(carried.data)
    except SourceError as error:
        form.add_error("file", [str(problem) for problem in error.problems])
        return _ask_for_file(request, page, form)
    if len(carried.signed(_owner(page))) > MAX_CARRIED:
        form.add_error("file", "This file is too large. Send it in two halves.")
        return _ask_for_file(request, page, form)
    values = mapping_values(guess_mapping(table.header, page.units))
    return _show(request, page, carried, table, MappingForm(values, table=table))


def _owner(page: SitePage) -> str:
    return f"{page.site.pk}:{page.person.pk}"


def _go_on(request: HttpRequest, page: SitePage) -> HttpResponse:
    try:
        carried = CarriedFile.unsigned(request.POST["carried"], _owner(page))
    except BadSignature:
        form = UploadForm(data={})
        form.errors["file"] = form.error_class([LEFT_OPEN])
        return _ask_for_file(request, page, form)
    table = read_table(carried.data)
    form_of_columns = MappingForm(request.POST, table=table)
    if "import" in request.POST and _was_seen(request, form_of_columns):
        parsed = _parse(page, table, form_of_columns)
        if parsed is not None and parsed.to_store:
            return _store(request, page, carried, parsed)
    return _show(request, page, carried, table, form_of_columns)


def _was_seen(request: HttpRequest, form: MappingForm) -> bool:
    """Whether the columns are those of the preview the person looked at."""
    return form.is_valid() and request.POST.get("seen") == _mark(form)


def _mark(form: MappingForm) -> str:
    return hash_of(repr(form.mapping()))


def _parse(page: SitePage, table: StationTable, form: MappingForm) -> ParsedDays | None:
    if not form.is_valid():
        return None
    try:
        return parse_days(table, form.mapping(), page.today)
    except SourceError as error:
        form.add_error(None, [str(problem) for problem in error.problems])
        return None


def _store(
    request: HttpRequest, page: SitePage, carried: CarriedFile, parsed: ParsedDays
) -> HttpResponse:
    days = []
    for station_day in parsed.to_store:
        values = asdict(station_day)
        days.append((values.pop("day"), values))
    import_days(
        site=page.site,
        days=days,
        label=carried.name[:LONGEST_LABEL] or "Weather file",
        person=page.person,
    )
    messages.success(request, f"{len(days)} days are imported.")
    return redirect("weather", page.site.slug)


def _show(
    request: HttpRequest,
    page: SitePage,
    carried: CarriedFile,
    table: StationTable,
    form: MappingForm,
) -> HttpResponse:
    parsed = _parse(page, table, form)
    context = page.context(
        carried=carried.signed(_owner(page)),
        file_name=carried.name,
        row_count=len(table.rows),
        form=form,
        parsed=parsed,
        seen=_mark(form) if parsed else "",
        shown=_shown(parsed) if parsed else [],
        left_out=max(len(parsed.days) - 2 * SHOWN_ROWS, 0) if parsed else 0,
        known_before=_known_before(page, parsed) if parsed and parsed.days else 0,
    )
    return render(request, "orchard/weather_columns.html", context)


def _shown(parsed: ParsedDays) -> list[object]:
    """Return the first and last days; the empty one marks what is left out."""
    days: list[object] = list(parsed.days)
    if len(days) <= 2 * SHOWN_ROWS:
        return days
    return [*days[:SHOWN_ROWS], None, *days[-SHOWN_ROWS:]]


def _known_before(page: SitePage, parsed: ParsedDays) -> int:
    """Return how many days between its first and last an earlier import holds."""
    return (
        WeatherDay.objects.filter(
            batch__series__owner=page.site,
            batch__series__kind=WeatherSeries.Kind.STATION,
            day__range=(parsed.days[0].day, parsed.days[-1].day),
        )
        .values("day")
        .distinct()
        .count()
    )
