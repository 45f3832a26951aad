"""What a service forecast and warned of: kept whole, or not at all.

One batch holds what was last forecast on one day; a later answer of the same day takes
its place. Of its own day it says all that was ever said of it, for that is what stands
for the day where nobody measured. These actions note nothing in the trail: nobody did it, and each batch says
itself when it came.
"""

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from django.db import transaction
from django.db.models import F

from orchard.models import OfficialWarning, WeatherBatch, WeatherDay, WeatherSeries
from orchard.sources.arriving import ForecastDay, IssuedWarning, strange_answer
from orchard.sources.forecast_hours import MOST_DAYS, checked_days

VALUES = (
    "tmin_c",
    "tmax_c",
    "rain_mm",
    "humidity_percent",
    "wind_ms",
    "gust_ms",
    "radiation_mj",
    "et0_mm",
)
#: Of older forecasts only those of Mondays are kept whole, the days a look back judges,
#: and of the others what they said of their own day; no source.
ALL_KEPT = timedelta(days=400)
MONDAY = 2  # as the database counts, from Sunday on
Known = dict[date, dict[str, float]]


@transaction.atomic
def keep_days(
    *, series: WeatherSeries, days: Sequence[ForecastDay], today: date
) -> bool:
    """Keep what was forecast on ``today``; whether anything is different now.

    What was forecast for days that are over is left out. Of today, of which an answer
    in the evening says little, what was said earlier stays.

    Raises
    ------
    SourceError
        A value no day can have, a day twice, or nothing for today or later; then
        everything stays as it was.
    """
    coming = _coming(days, today)
    before = known_days(series, today)
    label = f"Forecast of {today}"
    batch = series.batches.filter(label=label).order_by("id").first()
    if batch is None:
        batch = WeatherBatch.objects.create(series=series, label=label)
        thin_forecasts(series=series, today=today)
    batch.days.all().delete()
    rows = [WeatherDay(batch=batch, day=day.day, issued_on=today) for day in coming]
    for row, day in zip(rows, coming, strict=True):
        for name in VALUES:
            setattr(row, name, getattr(day, name))
    if today in before:
        rows = _with_said(rows, before[today], batch, today)
    WeatherDay.objects.bulk_create(rows)
    return known_days(series, today) != before


def _coming(days: Sequence[ForecastDay], today: date) -> Sequence[ForecastDay]:
    found = [day for day in days if 0 <= (day.day - today).days < MOST_DAYS]
    if len({day.day for day in found}) < len(found):
        message = "it holds a day twice"
        raise strange_answer(message)
    return checked_days(found)


def _with_said(
    rows: list[WeatherDay], said: dict[str, float], batch: WeatherBatch, today: date
) -> list[WeatherDay]:
    """Fill what is not said of today any more with what was said of it before."""
    row = next((row for row in rows if row.day == today), None)
    if row is None:
        row = WeatherDay(batch=batch, day=today, issued_on=today)
        rows = [row, *rows]
    for name, value in said.items():
        if getattr(row, name) is None:
            setattr(row, name, value)
    low, high = row.tmin_c, row.tmax_c
    if low is not None and high is not None and low > high:
        # A colder evening than this morning's high: the day holds both.
        row.tmin_c, row.tmax_c = high, low
    return rows


def known_days(series: WeatherSeries, today: date) -> Known:
    """Return what a series has forecast for today and later, the newest of each."""
    rows = (
        WeatherDay.objects.filter(
            batch__series=series,
            day__gte=today,
            issued_on__gte=today - timedelta(days=MOST_DAYS),
        )
        .order_by("issued_on", "batch_id", "day")
        .values("day", *VALUES)
    )
    found: Known = {}
    for row in rows:
        day = found.setdefault(row["day"], {})
        day |= {name: row[name] for name in VALUES if row[name] is not None}
    return found


@transaction.atomic
def thin_forecasts(*, series: WeatherSeries, today: date) -> int:
    """Thin what was forecast long ago for days ahead; return how many days went.

    Mondays stay whole, and of each other day what was forecast for itself.
    """
    ahead = WeatherDay.objects.filter(
        batch__series=series, issued_on__lt=today - ALL_KEPT, day__gt=F("issued_on")
    )
    return ahead.exclude(issued_on__week_day=MONDAY).delete()[0]


@transaction.atomic
def keep_warnings(
    *, series: WeatherSeries, warnings: Sequence[IssuedWarning], now: datetime
) -> bool:
    """Keep the warnings in force; whether any is new, different or withdrawn.

    Those the service lists no longer, before their time was over, are withdrawn.
    """
    listed = {_short(each.identifier, "identifier"): each for each in warnings}
    is_different = False
    for identifier, warning in listed.items():
        values = _warning_values(warning)
        rows = OfficialWarning.objects.filter(series=series, identifier=identifier)
        known = rows.values(*values).first()
        if known != values:
            is_different = True
            OfficialWarning.objects.update_or_create(
                series=series, identifier=identifier, defaults=values
            )
    gone = OfficialWarning.objects.filter(
        series=series, withdrawn_at=None, ends_at__gt=now, expires_at__gt=now
    ).exclude(identifier__in=listed)
    is_withdrawn = bool(gone.update(withdrawn_at=now))
    OfficialWarning.objects.filter(series=series, ends_at__lt=now - ALL_KEPT).delete()
    return is_different or is_withdrawn


def _warning_values(warning: IssuedWarning) -> dict[str, object]:
    texts = ("event", "headline", "text", "instruction", "severity", "sender", "area")
    return {
        **{name: _short(getattr(warning, name), name) for name in texts},
        "sent_at": warning.sent_at,
        "begins_at": warning.begins_at,
        "ends_at": warning.ends_at,
        "expires_at": warning.expires_at,
        "withdrawn_at": None,
    }


def _short(text: str, name: str) -> str:
    """Cut a text to what its field holds; a database file would not mind, others do."""
    most = getattr(OfficialWarning._meta.get_field(name), "max_length", None)
    # PostgreSQL holds no NUL in a text.
    return text.replace("\0", "")[:most]
