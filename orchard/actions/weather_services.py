"""Which weather service a site reads; every site in one cell shares one series."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import Q
from django.utils.translation import gettext

from orchard.actions.audit import note
from orchard.actions.places import raise_revision
from orchard.models import Person, SeriesFetch, Site, SiteSeries, WeatherSeries
from orchard.sources.registry import WeatherService, cell_of, service_of

#: After everything that was measured; whatever its rank, a forecast never stands in
#: the place of what was observed.
RANK_FORECAST = 1000
#: How often people may have one series asked for at once; no source.
ASKED_AGAIN = timedelta(minutes=10)
#: Forecasts nobody reads any more are kept so long, should somebody come back.
UNREAD_KEPT = timedelta(days=30)
NOT_BEFORE = "not_before"


class NotOfferedError(ValueError):
    """A service that a site cannot have; the message is for people."""


def is_from_service() -> Q:
    """Return which series are fetched, and so shared."""
    return Q(owner=None) & ~Q(source="")


def chosen_series(site: Site) -> WeatherSeries | None:
    """Return the series of the service a site reads, with how asking goes."""
    return (
        WeatherSeries.objects.filter(is_from_service(), readers__site=site)
        .select_related("fetch")
        .first()
    )


@transaction.atomic
def choose_source(
    *, site: Site, key: str, person: Person | None = None
) -> WeatherSeries:
    """Let a site read a service's forecast, in the place of any other service's.

    Returns
    -------
    WeatherSeries
        The series of the site's cell, the same for every place near.

    Raises
    ------
    NotOfferedError
        There is no such service, it does not cover the site, or the site is a
        demonstration that lives on a day of its own.
    """
    service = _offered(site, key)
    known = _locked_choice(site)
    series, _ = WeatherSeries.objects.get_or_create(
        owner=None,
        source=service.key,
        cell=cell_of(site),
        defaults={
            "kind": WeatherSeries.Kind.FORECAST,
            "name": service.name,
            "attribution": f"{service.credit}, {service.licence}",
        },
    )
    SeriesFetch.objects.get_or_create(series=series)
    if known == series:
        return series
    _stop_reading(site)
    SiteSeries.objects.create(site=site, series=series, rank=RANK_FORECAST)
    raise_revision(site)
    note(
        orchard=site.orchard,
        person=person,
        what="weather_service_chosen",
        subject=site.name,
        before={"service": known.name if known else None},
        after={"service": service.name},
    )
    return series


def _offered(site: Site, key: str) -> WeatherService:
    service = service_of(key)
    if service is None:
        message = gettext("There is no such weather service. Choose one of the list.")
        raise NotOfferedError(message)
    if site.own_today is not None:
        message = gettext(
            "This place is a demonstration: it lives on a day of its own, for which no "
            "service has a forecast."
        )
        raise NotOfferedError(message)
    if not service.covers(site.latitude_deg, site.longitude_deg):
        message = gettext("{service} does not cover this place. {where}").format(
            service=service.name, where=gettext(service.where)
        )
        raise NotOfferedError(message)
    return service


def _locked_choice(site: Site) -> WeatherSeries | None:
    """Return what a site reads, once nobody else is choosing for it."""
    Site.objects.select_for_update().get(pk=site.pk)
    return chosen_series(site)


def _stop_reading(site: Site) -> None:
    theirs = WeatherSeries.objects.filter(is_from_service())
    SiteSeries.objects.filter(site=site, series__in=theirs).delete()


@transaction.atomic
def leave_source(*, site: Site, person: Person | None = None) -> bool:
    """Read no service any more; whether the site read one.

    What the service had forecast stays with those who still read it.
    """
    known = _locked_choice(site)
    if known is None:
        return False
    _stop_reading(site)
    raise_revision(site)
    note(
        orchard=site.orchard,
        person=person,
        what="weather_service_left",
        subject=site.name,
        before={"service": known.name},
    )
    return True


@transaction.atomic
def follow_moved_sites() -> int:
    """Let sites whose place, height or clock was corrected read their new cell.

    Returns
    -------
    int
        How many moved.
    """
    moved = 0
    theirs = WeatherSeries.objects.filter(is_from_service())
    readings = SiteSeries.objects.filter(
        series__in=theirs, site__own_today=None
    ).select_related("site__orchard", "series")
    for reading in readings:
        if reading.series.cell == cell_of(reading.site):
            continue
        moved += 1
        try:
            choose_source(site=reading.site, key=reading.series.source)
        except NotOfferedError:
            leave_source(site=reading.site)
    return moved


@dataclass(frozen=True, slots=True)
class AskedNow:
    """What came of wishing for weather at once: asked soon, or not before ``at``."""

    is_due: bool
    at: datetime
    is_service_wish: bool = False


@transaction.atomic
def ask_now(*, site: Site, person: Person, now: datetime) -> AskedNow | None:
    """Have the site's service asked as soon as the background jobs come by.

    Never more often than every ten minutes, whoever wishes it, and not while the
    service itself wants to be left alone.

    Returns
    -------
    AskedNow or None
        ``None`` where the site reads no service.
    """
    series = chosen_series(site)
    if series is None:
        return None
    fetch = SeriesFetch.objects.select_for_update().get(series=series)
    wished = wished_wait(fetch)
    if wished is not None and wished > now:
        return AskedNow(is_due=False, at=wished, is_service_wish=True)
    if fetch.asked_at is not None and fetch.asked_at + ASKED_AGAIN > now:
        return AskedNow(is_due=False, at=fetch.asked_at + ASKED_AGAIN)
    fetch.wait_until = None
    fetch.save(update_fields=["wait_until"])
    note(
        orchard=site.orchard,
        person=person,
        what="weather_asked_for",
        subject=series.name,
        now=now,
    )
    return AskedNow(is_due=True, at=now)


def wished_wait(fetch: SeriesFetch) -> datetime | None:
    """Return until when the service itself wants to be left alone, if it said so."""
    text = fetch.remembered.get(NOT_BEFORE)
    return datetime.fromisoformat(text) if isinstance(text, str) else None


@transaction.atomic
def drop_unread(*, now: datetime) -> int:
    """Delete forecasts nobody has read for a month; return how many series went."""
    unread = WeatherSeries.objects.filter(
        is_from_service(), readers=None, fetch__asked_at__lt=now - UNREAD_KEPT
    )
    return unread.delete()[1].get("orchard.WeatherSeries", 0)
