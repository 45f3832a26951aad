"""What the weather page shows: today in words, the days drawn and told, their sources.

The number of questions to the database is the same however much is known.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Count, Max, Min
from django.utils.translation import gettext

from orchard.charts.weather_chart import ChartDay, Sureness, weather_chart
from orchard.models import WeatherBatch, WeatherSeries
from orchard.sources.known_days import VALUES, KnownDay, days_around
from orchard.views.doubts import doubt_rows
from orchard.views.site_page import SitePage
from orchard.views.weather_source_ages import SourceLine, source_lines, station_now
from orchard.views.weather_source_words import service_state
from orchard.views.weather_words import day_sentences, telling_words

BACK_DAYS, AHEAD_DAYS = 14, 7
IMPORTS_SHOWN = 5
STALE_DAYS = 3
MEASURED = {"observed", "typed", "so_far"}
LIKELY = {"forecast", "expected"}


@dataclass(frozen=True, slots=True)
class DayRow:
    """One day of a table."""

    known: KnownDay
    origin: str


def shown_weather(page: SitePage, before: int | None) -> dict[str, object]:
    """Return the template's values; ``before`` is where older imports go on from."""
    known = days_around(page.site, page.today, back=BACK_DAYS, ahead=AHEAD_DAYS)
    past = [day for day in known if _is_past(day, page)]
    coming = [day for day in known if day not in past and day.day >= page.today]
    sources = source_lines(page)
    now = station_now(page)
    doubts, more_doubts = doubt_rows(page)
    imports, older = _imports(page, before)
    return {
        "sentences": day_sentences(known, page.today, page.units, now),
        "is_stale": _silence(sources, page),
        "chart": weather_chart(
            [_chart_day(day) for day in known], page.today, page.units
        ),
        "past": [
            DayRow(day, telling_words(day)) for day in reversed(past) if day.origin
        ],
        "coming": [DayRow(day, telling_words(day)) for day in coming if day.origin],
        "missing": sum(day.origin in {"", "normal"} for day in past),
        "typed": [day for day in reversed(past) if day.is_typed],
        "sources": sources,
        "service": service_state(page.site, page.now),
        "has_normals": any(source.kind == "normals" for source in sources),
        "doubts": doubts,
        "more_doubts": more_doubts,
        "imports": imports,
        "older_imports": older,
    }


def _is_past(known: KnownDay, page: SitePage) -> bool:
    """Whether a day is over, or is today and somebody has read it already."""
    is_read = known.day == page.today and known.origin == "typed"
    return known.day < page.today or is_read


def _chart_day(known: KnownDay) -> ChartDay:
    whats = [known.told[name].what for name in VALUES[:2] if name in known.told]
    rain = known.told.get("rain_mm")
    return ChartDay(
        known.day,
        known.tmin_c,
        known.tmax_c,
        known.rain_mm,
        air=_sureness(whats[-1] if whats else ""),
        rain=_sureness(rain.what if rain else ""),
    )


def _sureness(what: str) -> Sureness:
    if what in MEASURED:
        return Sureness.MEASURED
    return Sureness.LIKELY if what in LIKELY else Sureness.USUAL


def _silence(sources: list[SourceLine], page: SitePage) -> str:
    """Return what to say where nothing was measured for days."""
    last = [source.last for source in sources if source.last is not None]
    if not last:
        return ""
    days = (page.today - max(last)).days - 1
    if days < STALE_DAYS:
        return ""
    return gettext(
        "Nothing was measured here for {days} days. The plan goes by the usual "
        "weather of the time of year for them, so look at the soil yourself."
    ).format(days=days)


def _imports(page: SitePage, before: int | None) -> tuple[Sequence[WeatherBatch], int]:
    """Return the newest imports, and from where older ones go on; 0 for none."""
    rows = (
        WeatherBatch.objects.filter(
            series__owner=page.site, series__kind=WeatherSeries.Kind.STATION
        )
        .select_related("person")
        .annotate(count=Count("days"), first=Min("days__day"), last=Max("days__day"))
        .order_by("-id")
    )
    if before is not None:
        rows = rows.filter(pk__lt=before)
    found = list(rows[: IMPORTS_SHOWN + 1])
    shown = found[:IMPORTS_SHOWN]
    return shown, shown[-1].pk if len(found) > IMPORTS_SHOWN else 0
