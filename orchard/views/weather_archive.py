"""A file of the GHCN-Daily archive: which station, what was left out, how far away."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext

from orchard.actions.people import hash_of
from orchard.forms.weather_archive import ArchiveForm
from orchard.forms.weather_import import CarriedFile
from orchard.sources.ghcn_csv import ArchiveUnits
from orchard.sources.ghcn_files import ArchiveFile, ArchiveForm as FileForm
from orchard.sources.ghcn_records import (
    CHECKS,
    USUAL_WIND_M,
    ArchiveStation,
    RecordMaker,
    StationRecord,
)
from orchard.sources.ghcn_stations import away_km, nearest_stations
from orchard.units import Quantity, UnitSystem, format_metres, from_si
from orchard.views import imported_days
from orchard.views.site_page import SitePage

#: Beyond this a station's rain and frosts are another place's (common practice, no
#: source); 150 m of height make about 1 degC (ICAO standard atmosphere, 6.5 degC/km).
FAR_KM, FAR_ABOVE_M = 50.0, 150.0
KM_A_MILE = 1.609344


@dataclass(frozen=True, slots=True)
class Place:
    """Where a station stands, in words, and what speaks against it."""

    where: str
    concerns: tuple[str, ...]


def archive_page(
    request: HttpRequest, page: SitePage, carried: CarriedFile, archive: ArchiveFile
) -> HttpResponse:
    """Show a file of the archive, and keep it once it was seen and nothing is open.

    Raises
    ------
    SourceError
        Naming each line that is not of the archive's form.
    """
    if archive.form is FileForm.STATIONS:
        return _nearest(request, page, carried, archive)
    is_first = "carried" not in request.POST
    guess = archive.guess_units() if archive.needs_units else ArchiveUnits.TENTHS
    units = guess if is_first else _units(request.POST.get("units", ""))
    makers = archive.records(units or ArchiveUnits.TENTHS)
    data = _first_data(page, makers, units) if is_first else request.POST
    form = ArchiveForm(data, archive=archive, makers=makers, units=page.units)
    record = place = None
    if form.is_valid():
        record = form.maker().record(page.today, form.wind_height_m())
        place = _place(page, record.station)
        # Only what the person looked at is kept.
        wants = "import" in request.POST and request.POST.get("seen") == _mark(form)
        if wants and record.days and _is_accepted(form, place):
            return imported_days.store(request, page, record.days, _label(record))
    context = {"carried": imported_days.carried_text(page, carried)} | _context(
        page, form, record, place
    )
    context |= page.context(file_name=carried.name)
    return render(request, "orchard/weather_archive.html", context)


def _units(text: str) -> ArchiveUnits | None:
    return next((units for units in ArchiveUnits if units.value == text), None)


def _first_data(
    page: SitePage, makers: dict[str, RecordMaker], units: ArchiveUnits | None
) -> dict[str, str]:
    """Return the boxes as they are filled at first: the nearest station is chosen."""

    def distance(key: str) -> tuple[float, int]:
        maker = makers[key]
        known = _away_km(page, maker.station)
        return float("inf") if known is None else known, -len(maker.values)

    height = from_si(USUAL_WIND_M, Quantity.LENGTH, page.units)
    return {
        "station": min(makers, key=distance, default=""),
        "units": units.value if units else "",
        "wind_height": f"{height:.0f}",
    }


def _away_km(page: SitePage, station: ArchiveStation) -> float | None:
    return away_km(station, page.site.latitude_deg, page.site.longitude_deg)


def _is_accepted(form: ArchiveForm, place: Place) -> bool:
    if not place.concerns or form.cleaned_data["accept"]:
        return True
    form.add_error("accept", gettext("Tick this if you want its weather nevertheless."))
    return False


def _mark(form: ArchiveForm) -> str:
    """Return what tells this choice from every other, but for the tick."""
    chosen = {key: form.cleaned_data[key] for key in form.fields if key != "accept"}
    return hash_of(repr(sorted(chosen.items())))


def _label(record: StationRecord) -> str:
    station = record.station
    return (
        gettext("GHCN-Daily {station_id} {name}")
        .format(station_id=station.station_id, name=station.name)
        .strip()
    )


def _place(page: SitePage, station: ArchiveStation) -> Place:
    """Return where a station stands, seen from the site."""
    away = _away_km(page, station)
    above_m = None
    if station.elevation_m is not None:
        above_m = station.elevation_m - page.site.elevation_m
    if away is None:
        return Place(gettext("The file does not say where the station stands."), ())
    concerns = []
    if away > FAR_KM:
        concerns.append(
            gettext("That is far: its rain and its frosts are another place's.")
        )
    if above_m is not None and abs(above_m) > FAR_ABOVE_M:
        words = (
            gettext("It stands {height} higher than this place: colder air.")
            if above_m > 0
            else gettext("It stands {height} lower than this place: warmer air.")
        )
        height = format_metres(abs(above_m), page.units)
        concerns.append(words.format(height=height))
    where = gettext("It stands {distance} from here.").format(
        distance=_distance(away, page.units)
    )
    return Place(where, tuple(concerns))


def _distance(away: float, units: UnitSystem) -> str:
    if units is UnitSystem.US:
        return gettext("{number} miles").format(number=f"{away / KM_A_MILE:.0f}")
    return gettext("{number} km").format(number=f"{away:.0f}")


def _context(
    page: SitePage,
    form: ArchiveForm,
    record: StationRecord | None,
    place: Place | None,
) -> dict[str, object]:
    days = record.days if record else ()
    return {
        "form": form,
        "record": record,
        "place": place,
        "failed": _failed(record) if record else [],
        "seen": _mark(form) if record else "",
        "known_before": imported_days.known_before(page, days),
        **imported_days.shown(days),
    }


def _failed(record: StationRecord) -> list[tuple[int, str]]:
    """Return how many values failed which of the archive's checks, most first."""
    found = [
        (count, gettext(CHECKS.get(flag, flag)))
        for flag, count in record.failed.items()
    ]
    return sorted(found, reverse=True)


def _nearest(
    request: HttpRequest, page: SitePage, carried: CarriedFile, archive: ArchiveFile
) -> HttpResponse:
    """Show which stations of a list are near, so that one knows which to fetch."""
    site = page.site
    near = nearest_stations(
        archive.text, site.latitude_deg, site.longitude_deg, site.elevation_m
    )
    rows = [
        (
            each.station,
            _distance(each.away_km, page.units),
            "" if each.above_m is None else _above(each.above_m, page.units),
        )
        for each in near
    ]
    context = page.context(file_name=carried.name, rows=rows)
    return render(request, "orchard/weather_stations.html", context)


def _above(above_m: float, units: UnitSystem) -> str:
    side = "higher" if above_m > 0 else "lower"
    return f"{format_metres(abs(above_m), units)} {side}"
