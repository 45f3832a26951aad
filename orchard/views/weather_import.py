"""A station's file in three steps: send it, say what its columns hold, import it.

Between the steps the page carries the file itself, packed and signed, so that
nothing is stored before the import and nothing is lost by going back.
"""

from zoneinfo import ZoneInfo

from django.contrib.auth.decorators import login_required
from django.core.signing import BadSignature
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods

from orchard.access import May
from orchard.actions.people import hash_of
from orchard.forms.weather_import import (
    CarriedFile,
    MappingForm,
    UploadForm,
    mapping_values,
    too_large,
)
from orchard.sources.ghcn_files import archive_in
from orchard.sources.problems import SourceError, whole_problem
from orchard.sources.station_columns import guess_mapping
from orchard.sources.station_csv import ParsedDays, parse_days
from orchard.sources.station_rows import with_rows_guessed
from orchard.sources.station_slips import slips
from orchard.sources.station_table import StationTable, read_table
from orchard.views import imported_days
from orchard.views.site_page import SitePage, let_in
from orchard.views.upload_limit import UploadLimit
from orchard.views.weather_archive import archive_page

#: The file and the few fields around it.
MOST_BYTES = 5_900_000
LEFT_OPEN = gettext_noop("The page was open for too long. Please send the file again.")


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
        return _look_at(request, page, carried)
    except SourceError as error:
        form.add_error("file", [str(problem) for problem in error.problems])
        return _ask_for_file(request, page, form)


def _look_at(
    request: HttpRequest, page: SitePage, carried: CarriedFile
) -> HttpResponse:
    """Show what a file says, by its own form.

    Raises
    ------
    SourceError
        It is no weather at all.
    """
    archive = archive_in(carried.data)
    if imported_days.is_too_long(page, carried):
        message = gettext("This file is too large. Send it in two halves.")
        raise whole_problem(message)
    if archive:
        return archive_page(request, page, carried, archive)
    table = read_table(carried.data)
    guess = with_rows_guessed(table, guess_mapping(table.header, page.units))
    mapping_form = MappingForm(mapping_values(guess), table=table, units=page.units)
    return _show(request, page, carried, table, mapping_form)


def _go_on(request: HttpRequest, page: SitePage) -> HttpResponse:
    try:
        owner = imported_days.owner_of(page)
        carried = CarriedFile.unsigned(request.POST["carried"], owner)
    except BadSignature:
        form = UploadForm(data={})
        form.errors["file"] = form.error_class([LEFT_OPEN])
        return _ask_for_file(request, page, form)
    archive = archive_in(carried.data)
    if archive:
        return archive_page(request, page, carried, archive)
    table = read_table(carried.data)
    form_of_columns = MappingForm(request.POST, table=table, units=page.units)
    return _show(request, page, carried, table, form_of_columns)


def _mark(form: MappingForm) -> str:
    return hash_of(repr(form.mapping()))


def _parse(page: SitePage, table: StationTable, form: MappingForm) -> ParsedDays | None:
    if not form.is_valid():
        return None
    try:
        zone = ZoneInfo(page.site.time_zone)
        return parse_days(table, form.mapping(), page.today, zone)
    except SourceError as error:
        form.add_error(None, [str(problem) for problem in error.problems])
        return None


def _show(
    request: HttpRequest,
    page: SitePage,
    carried: CarriedFile,
    table: StationTable,
    form: MappingForm,
) -> HttpResponse:
    """Keep the days if they were seen as they are and nothing is open; show them."""
    parsed = _parse(page, table, form)
    asked = slips(parsed.days, form.mapping()) if parsed else []
    # Only the days of the preview that the person looked at are kept.
    wants = "import" in request.POST and parsed is not None
    if wants and parsed and parsed.to_store and request.POST.get("seen") == _mark(form):
        if not asked or form.cleaned_data["units_are_right"]:
            return imported_days.store(request, page, parsed.to_store, carried.name)
        form.add_error(
            "units_are_right", gettext("Please look at the units once more.")
        )
    days = parsed.days if parsed else ()
    context = page.context(
        carried=imported_days.carried_text(page, carried),
        file_name=carried.name,
        row_count=len(table.rows),
        form=form,
        parsed=parsed,
        asked=asked,
        seen=_mark(form) if parsed else "",
        known_before=imported_days.known_before(page, days),
    )
    context |= imported_days.shown(days)
    return render(request, "orchard/weather_columns.html", context)
