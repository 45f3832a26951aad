"""Weather: typed readings, imported files, twelve normals; each can be taken back."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from orchard.actions.audit import Values, changed, note
from orchard.actions.doubts import find_doubts, set_aside
from orchard.actions.places import raise_revision
from orchard.models import (
    FrostEvening,
    NormalMonth,
    Person,
    Site,
    SiteSeries,
    WeatherBatch,
    WeatherDay,
    WeatherSeries,
)

DayValues = Mapping[str, float | None]
# Typed readings are made at the site, so they are trusted before any station.
RANK_TYPED = 0
RANK_OTHERS = 10
_MEASURED = (
    "tmin_c",
    "tmax_c",
    "rain_mm",
    "humidity_percent",
    "wind_ms",
    "radiation_mj",
    "et0_mm",
)


def read_series(*, site: Site, series: WeatherSeries, rank: int | None = None) -> None:
    """Let a site read a series, after those it already trusts more."""
    if rank is None:
        highest = site.readings.aggregate(highest=Max("rank"))["highest"]
        rank = max(RANK_OTHERS, (highest or 0) + 1)
    SiteSeries.objects.create(site=site, series=series, rank=rank)


def _own_series(site: Site, kind: str, name: str, rank: int | None) -> WeatherSeries:
    series = site.private_series.filter(kind=kind).order_by("id").first()
    if series is None:
        series = WeatherSeries.objects.create(owner=site, kind=kind, name=name)
        read_series(site=site, series=series, rank=rank)
    return series


def _note(
    site: Site,
    person: Person | None,
    what: str,
    subject: str,
    *,
    before: Values | None = None,
    after: Values | None = None,
) -> None:
    """Write into the trail, whose subject is a day, a file or the place."""
    note(
        orchard=site.orchard,
        person=person,
        what=what,
        subject=subject,
        before=before,
        after=after,
    )


def _day_words(day: date, issued_on: date | None) -> str:
    return f"{day}, as expected on {issued_on}" if issued_on else str(day)


@transaction.atomic
def import_days(
    *,
    site: Site,
    days: Iterable[tuple[date, DayValues]],
    label: str,
    person: Person | None,
    now: datetime | None = None,
) -> WeatherBatch:
    """Store the days of a station file as one batch that can be taken back.

    What is doubted of them is set aside with the batch and left out of its days.
    """
    known = list(days)
    kind = WeatherSeries.Kind.STATION
    series = _own_series(site, kind, "Station file", None)
    batch = WeatherBatch.objects.create(series=series, label=label, person=person)
    doubts = find_doubts(site, series, known)
    left_out = set_aside(
        series=series, batch=batch, doubts=doubts, now=now or timezone.now()
    )
    WeatherDay.objects.bulk_create(
        [
            WeatherDay(batch=batch, day=day, **_believed(day, values, left_out))
            for day, values in known
        ],
        batch_size=500,
    )
    raise_revision(site)
    after = {"days": len(known), **({"doubted": len(left_out)} if left_out else {})}
    _note(site, person, "weather_imported", label, after=after)
    return batch


def _believed(
    day: date, values: DayValues, left_out: set[tuple[date, str]]
) -> dict[str, float | None]:
    return {
        name: None if (day, name) in left_out else value
        for name, value in values.items()
    }


@transaction.atomic
def take_back_batch(*, site: Site, batch_id: int, person: Person | None = None) -> bool:
    """Delete one of the site's own batches; whether there was one to delete."""
    batch = WeatherBatch.objects.filter(pk=batch_id, series__owner=site).first()
    if batch is None:
        return False
    before = {"days": batch.days.count()}
    batch.delete()
    raise_revision(site)
    _note(site, person, "weather_taken_back", batch.label, before=before)
    return True


def _typed_batch(site: Site, person: Person | None) -> WeatherBatch:
    series = _own_series(
        site, WeatherSeries.Kind.TYPED, "Readings typed in", RANK_TYPED
    )
    batch, _ = WeatherBatch.objects.get_or_create(
        series=series, label="typed", defaults={"person": person}
    )
    return batch


@transaction.atomic
def type_reading(
    *,
    site: Site,
    day: date,
    values: DayValues,
    person: Person | None,
    issued_on: date | None = None,
) -> WeatherDay:
    """Write a gauge or thermometer reading; it beats any station for that day.

    With ``issued_on`` it is what somebody expects, such as tonight's minimum.
    """
    batch = _typed_batch(site, person)
    rows = WeatherDay.objects.filter(batch=batch, day=day, issued_on=issued_on)
    known = rows.values(*values).first() or {}
    row, _ = WeatherDay.objects.update_or_create(
        batch=batch, day=day, issued_on=issued_on, defaults=dict(values)
    )
    raise_revision(site)
    before, after = changed(known, values)
    if after:
        subject = _day_words(day, issued_on)
        _note(site, person, "reading_typed", subject, before=before, after=after)
    return row


@transaction.atomic
def take_back_reading(
    *,
    site: Site,
    day: date,
    issued_on: date | None = None,
    person: Person | None = None,
) -> bool:
    """Delete what was typed for a day; whether there was anything to delete."""
    typed = WeatherDay.objects.filter(
        batch__series__owner=site,
        batch__series__kind=WeatherSeries.Kind.TYPED,
        day=day,
        issued_on=issued_on,
    )
    before = typed.values(*_MEASURED).first()
    if before is None:
        return False
    typed.delete()
    raise_revision(site)
    known = {name: value for name, value in before.items() if value is not None}
    subject = _day_words(day, issued_on)
    _note(site, person, "reading_taken_back", subject, before=known)
    return True


@transaction.atomic
def log_evening(
    *, site: Site, on: date, air_c: float, dew_point_c: float, person: Person | None
) -> FrostEvening:
    """Write a clear evening's air and dew point, two hours after sunset."""
    values = {"air_c": air_c, "dew_point_c": dew_point_c}
    rows = FrostEvening.objects.filter(site=site, on=on)
    known = rows.values(*values).first() or {}
    evening, _ = FrostEvening.objects.update_or_create(
        site=site, on=on, defaults={**values, "person": person}
    )
    raise_revision(site)
    before, after = changed(known, values)
    if after:
        _note(site, person, "evening_logged", str(on), before=before, after=after)
    return evening


@transaction.atomic
def take_back_evening(*, site: Site, on: date, person: Person | None = None) -> bool:
    """Delete an evening's reading; whether there was one to delete."""
    rows = FrostEvening.objects.filter(site=site, on=on)
    before = rows.values("air_c", "dew_point_c").first()
    if before is None:
        return False
    rows.delete()
    raise_revision(site)
    _note(site, person, "evening_taken_back", str(on), before=before)
    return True


@transaction.atomic
def set_normals(
    *,
    site: Site,
    months: Iterable[tuple[int, float, float, float]],
    person: Person | None = None,
) -> WeatherSeries:
    """Replace the site's twelve normals: (month, tmin °C, tmax °C, rain mm)."""
    series = _own_series(site, WeatherSeries.Kind.NORMALS, "Monthly normals", None)
    before = _normals(series)
    series.normal_months.all().delete()
    NormalMonth.objects.bulk_create(
        NormalMonth(series=series, month=month, tmin_c=tmin, tmax_c=tmax, rain_mm=rain)
        for month, tmin, tmax, rain in months
    )
    raise_revision(site)
    was, became = changed(before, _normals(series))
    if became:
        _note(site, person, "normals_set", site.name, before=was, after=became)
    return series


def _normals(series: WeatherSeries) -> dict[str, list[float]]:
    months = list(series.normal_months.order_by("month"))
    return {
        "tmin_c": [month.tmin_c for month in months],
        "tmax_c": [month.tmax_c for month in months],
        "rain_mm": [month.rain_mm for month in months],
    }
