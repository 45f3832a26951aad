"""Where a site's weather comes from, the most trusted first, and how old it is."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from django.db.models import Max, Q
from django.utils.translation import gettext, gettext_noop

from orchard.languages import day_and_month
from orchard.models import SentReading, StationKey, WeatherDay, WeatherSeries
from orchard.sources.station_columns import StationQuantity
from orchard.sources.station_day import BOUNDS
from orchard.views.age_words import ago, days_old
from orchard.views.site_page import SitePage
from orchard.views.weather_words import StationNow, series_words

NOW_ENDS = timedelta(hours=2)
NOON, EVENING = 12, 18
Kind = WeatherSeries.Kind


#: Of today, and of yesterday.
MORNING = (
    gettext_noop("forecast of this morning"),
    gettext_noop("forecast of yesterday morning"),
)
AFTERNOON = (
    gettext_noop("forecast of this afternoon"),
    gettext_noop("forecast of yesterday afternoon"),
)
NIGHT = (
    gettext_noop("forecast of this evening"),
    gettext_noop("forecast of yesterday evening"),
)


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
            "normals",
            gettext("Twelve usual months"),
            gettext("where nothing else is known"),
        )
    if series.kind == Kind.FORECAST:
        return _forecast(page, series, issued)
    if series.kind == Kind.SENT:
        at = heard.get(series.pk)
        age = (
            gettext("heard {ago}").format(ago=ago(at, page.now))
            if at
            else gettext("not heard yet")
        )
        return SourceLine(
            series.kind,
            gettext("Station {name}").format(name=series.name),
            age,
            last=last,
        )
    age = days_old(last, page.today) if last else gettext("nothing yet")
    return SourceLine(series.kind, series_words(series.name), age, last=last)


def _forecast(page: SitePage, series: WeatherSeries, issued: date | None) -> SourceLine:
    fetch = getattr(series, "fetch", None)
    if fetch is None:
        return SourceLine(
            series.kind, series_words(series.name), _made(issued, page.today)
        )
    if fetch.fetched_at is None:
        return SourceLine(series.kind, series.name, gettext("no forecast yet"))
    zone = ZoneInfo(page.site.time_zone)
    words = _when(fetch.fetched_at.astimezone(zone), page)
    age = f"{words}, {ago(fetch.fetched_at, page.now)}"
    return SourceLine(series.kind, series.name, age)


def _when(at: datetime, page: SitePage) -> str:
    """Return such as ``forecast of this morning``."""
    parts = MORNING if at.hour < NOON else AFTERNOON if at.hour < EVENING else NIGHT
    days = (page.now.astimezone(at.tzinfo).date() - at.date()).days
    if days < len(parts):
        return gettext(parts[days])
    return gettext("forecast of {day}").format(day=day_and_month(at))


def _made(issued: date | None, today: date) -> str:
    if issued is None:
        return gettext("none yet")
    if issued >= today:
        return gettext("made today")
    if (today - issued).days == 1:
        return gettext("made yesterday")
    return gettext("made {days_old}").format(days_old=days_old(issued, today))


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
