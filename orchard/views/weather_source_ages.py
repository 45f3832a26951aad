"""Where a site's weather comes from, the most trusted first, and how old it is."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from django.db.models import Max, Q

from orchard.models import SentReading, StationKey, WeatherDay, WeatherSeries
from orchard.sources.station_columns import StationQuantity
from orchard.sources.station_day import BOUNDS
from orchard.views.age_words import ago, days_old
from orchard.views.site_page import SitePage
from orchard.views.weather_words import StationNow

NOW_ENDS = timedelta(hours=2)
NOON, EVENING = 12, 18
Kind = WeatherSeries.Kind


@dataclass(frozen=True, slots=True)
class SourceLine:
    """One source: what it is and how old; ``last`` is the last day it measured."""

    kind: str
    name: str
    age: str
    last: date | None = None


def source_lines(page: SitePage) -> list[SourceLine]:
    """Return the sources a site reads, the most trusted first."""
    reads = page.site.readings.select_related("series__fetch").order_by("rank")
    known = _newest(page)
    heard = dict(
        StationKey.objects.filter(site=page.site)
        .values("series")
        .annotate(at=Max("heard_at"))
        .values_list("series", "at")
    )
    return [
        _line(page, read.series, *known.get(read.series_id, (None, None)), heard)
        for read in reads
    ]


def _newest(page: SitePage) -> dict[int, tuple[date | None, date | None]]:
    """Return the last day measured and the newest forecast of each series."""
    is_typed = Q(batch__series__kind=Kind.TYPED)
    measured = Q(day__lt=page.today) | Q(day=page.today) & is_typed
    rows = (
        WeatherDay.objects.filter(batch__series__readers__site=page.site)
        .values("batch__series")
        .annotate(
            last=Max("day", filter=Q(issued_on=None) & measured),
            issued=Max("issued_on", filter=Q(issued_on__lte=page.today)),
        )
    )
    return {row["batch__series"]: (row["last"], row["issued"]) for row in rows}


def _line(
    page: SitePage,
    series: WeatherSeries,
    last: date | None,
    issued: date | None,
    heard: dict[int, datetime | None],
) -> SourceLine:
    if series.kind == Kind.NORMALS:
        return SourceLine(
            "normals", "Twelve usual months", "where nothing else is known"
        )
    if series.kind == Kind.FORECAST:
        return _forecast(page, series, issued)
    if series.kind == Kind.SENT:
        at = heard.get(series.pk)
        age = f"heard {ago(at, page.now)}" if at else "not heard yet"
        return SourceLine(series.kind, f"Station {series.name}", age, last=last)
    age = days_old(last, page.today) if last else "nothing yet"
    return SourceLine(series.kind, series.name, age, last=last)


def _forecast(page: SitePage, series: WeatherSeries, issued: date | None) -> SourceLine:
    fetch = getattr(series, "fetch", None)
    if fetch is None:
        age = f"made {days_old(issued, page.today)}" if issued else "none yet"
        return SourceLine(series.kind, series.name, age.replace("made up to", "made"))
    if fetch.fetched_at is None:
        return SourceLine(series.kind, series.name, "no forecast yet")
    zone = ZoneInfo(page.site.time_zone)
    words = f"forecast {_when(fetch.fetched_at.astimezone(zone), page)}"
    age = f"{words}, {ago(fetch.fetched_at, page.now)}"
    return SourceLine(series.kind, series.name, age)


def _when(at: datetime, page: SitePage) -> str:
    """Return such as ``of this morning``."""
    part = (
        "morning" if at.hour < NOON else "afternoon" if at.hour < EVENING else "evening"
    )
    days = (page.now.astimezone(at.tzinfo).date() - at.date()).days
    if days == 0:
        return f"of this {part}"
    if days == 1:
        return f"of yesterday {part}"
    return f"of {at.day} {at:%B}"


def station_now(page: SitePage) -> StationNow | None:
    """Return what the site's station says now, if it spoke within two hours."""
    since = page.now - NOW_ENDS
    reading = (
        SentReading.objects.filter(
            key__site=page.site,
            key__revoked_at=None,
            at__gte=since,
            temp_c__range=BOUNDS[StationQuantity.TMIN][:2],
        )
        .select_related("key")
        .order_by("-at")
        .first()
    )
    if reading is None:
        return None
    return StationNow(reading.key.name, reading.temp_c, ago(reading.at, page.now))
