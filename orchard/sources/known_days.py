"""What is known of single days at a site, value by value, and who says so."""

from dataclasses import dataclass, field
from datetime import date, timedelta

from django.db.models import F, Q, QuerySet

from orchard.models import NormalMonth, Site, WeatherDay, WeatherSeries
from orchard.sources.normals import DailyNormals, NormalsTable, daily_normals

VALUES = ("tmin_c", "tmax_c", "rain_mm")
MONTHS = 12


@dataclass(frozen=True, slots=True)
class Telling:
    """Who says a value: ``what`` is one of the origins of a day, or ``so_far``.

    ``so_far`` is rain of a day under way; ``expected`` is a person's forecast.
    """

    what: str
    series_name: str = ""


@dataclass(slots=True)
class KnownDay:
    """One day; ``None`` is missing, never zero.

    ``origin`` is ``observed``, ``typed``, ``forecast``, ``normal`` or empty.
    ``expected_on`` is the day a forecast was made. ``told`` says of each value that is
    there who says it.
    """

    day: date
    tmin_c: float | None = None
    tmax_c: float | None = None
    rain_mm: float | None = None
    origin: str = ""
    series_name: str = ""
    expected_on: date | None = None
    is_typed: bool = False
    told: dict[str, Telling] = field(default_factory=dict)


def days_around(
    site: Site, today: date, *, back: int = 14, ahead: int = 7
) -> list[KnownDay]:
    """Return the last and next days, newest knowledge first in trust.

    Each value is that of the most trusted series that has one; a newer forecast
    replaces an older one, and the usual of the time of year stands only where nobody
    measured or forecast anything.
    """
    first, last = today - timedelta(days=back), today + timedelta(days=ahead)
    days = {
        first + timedelta(days=number): KnownDay(first + timedelta(days=number))
        for number in range((last - first).days + 1)
    }
    for row in _rows(site, first, last, today):
        _write(days[row.day], row)
    normals = normals_of(site)
    if normals is not None:
        _fill(days, daily_normals(normals))
    return list(days.values())


def known_on(today: date) -> Q:
    """Return which stored days were known on the morning of ``today``.

    A forecast counts from its morning on, for days still to come; of a day that is
    over, what a service last said on it stands where nobody measured. Of today itself
    only what somebody at the site has typed is known already.
    """
    typed_today = Q(day=today, batch__series__kind=WeatherSeries.Kind.TYPED)
    said_on_it = Q(
        issued_on=F("day"),
        day__lt=today,
        batch__series__kind=WeatherSeries.Kind.FORECAST,
    )
    return (
        Q(issued_on=None, day__lt=today)
        | Q(issued_on=None) & typed_today
        | Q(issued_on__lte=today, day__gte=today)
        | said_on_it
    )


def _rows(site: Site, first: date, last: date, today: date) -> QuerySet[WeatherDay]:
    return (
        WeatherDay.objects.filter(
            known_on(today),
            batch__series__readers__site=site,
            day__range=(first, last),
        )
        .select_related("batch__series")
        .order_by("-batch__series__readers__rank", "issued_on", "batch_id", "day")
    )


def _write(known: KnownDay, row: WeatherDay) -> None:
    """Take a more trusted row's values over what is known, each by itself."""
    is_forecast = row.issued_on is not None
    kind = row.batch.series.kind
    telling = Telling(_what(kind, is_forecast=is_forecast), row.batch.series.name)
    found = {name: getattr(row, name) for name in VALUES}
    taken = [
        name for name, value in found.items() if _is_taken(known, name, value, telling)
    ]
    for name in taken:
        setattr(known, name, found[name])
        known.told[name] = telling
    if not taken or (is_forecast and known.origin in {"observed", "typed"}):
        return
    is_typed = kind == WeatherSeries.Kind.TYPED
    known.origin = "forecast" if is_forecast else "typed" if is_typed else "observed"
    known.series_name = row.batch.series.name
    known.expected_on = row.issued_on
    known.is_typed = known.is_typed or is_typed


def _what(kind: str, *, is_forecast: bool) -> str:
    if kind == WeatherSeries.Kind.TYPED:
        return "expected" if is_forecast else "typed"
    if is_forecast:
        return "so_far" if kind == WeatherSeries.Kind.SENT else "forecast"
    return "observed"


def _is_taken(
    known: KnownDay, name: str, value: float | None, telling: Telling
) -> bool:
    """Whether a value counts before what is known: measured before forecast.

    Rain that has fallen raises a forecast of less, and lowers none of more.
    """
    if value is None:
        return False
    before = known.told.get(name)
    if before is None or telling.what in {"observed", "typed"}:
        return True
    if before.what in {"observed", "typed"}:
        return False
    stood = getattr(known, name)
    return telling.what != "so_far" or stood is None or value > stood


def normals_of(site: Site) -> NormalsTable | None:
    """Return the twelve months the site goes by, or ``None`` without all of them."""
    by_month = {
        row.month: row
        for row in NormalMonth.objects.filter(series__readers__site=site).order_by(
            "-series__readers__rank", "month"
        )
    }
    if len(by_month) != MONTHS:
        return None
    rows = [by_month[month] for month in range(1, MONTHS + 1)]
    return NormalsTable(
        tmin_c=tuple(row.tmin_c for row in rows),
        tmax_c=tuple(row.tmax_c for row in rows),
        rain_mm=tuple(row.rain_mm for row in rows),
    )


def _fill(days: dict[date, KnownDay], curve: DailyNormals) -> None:
    for day, known in days.items():
        if known.origin in {"observed", "typed"}:
            continue
        place = curve.index(day)
        for name in VALUES:
            if getattr(known, name) is None:
                setattr(known, name, float(getattr(curve, name)[place]))
                known.told[name] = Telling("normal")
        known.origin = known.origin or "normal"
