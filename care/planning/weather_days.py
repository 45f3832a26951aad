"""Stored weather as one daily series: observed before forecast before normals."""

from calendar import monthrange
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np

from care.facts import Array, WeatherSeries
from orchard.models import Site, WeatherDay
from orchard.sources.known_days import known_on, normals_of
from orchard.sources.normals import LEAP_YEAR, NormalsTable, daily_normals

YEARS_BACK = 12
CLIMATE_YEARS_BACK = 40  # for what is usual, where many years tell more than few
HORIZON_DAYS = 200
FULL_YEAR_DAYS = 365
FIELDS = (
    "tmin_c",
    "tmax_c",
    "rain_mm",
    "humidity_percent",
    "wind_ms",
    "radiation_mj",
    "et0_mm",
)


class StoredDay(NamedTuple):
    """One stored day; ``values`` in the order of ``FIELDS``, observed without issue."""

    day: date
    issued_on: date | None
    values: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class SiteReadings:
    """Everything stored that a site's weather is made of, as of one morning.

    ``rows`` come least trusted first, so that whoever writes last is believed.
    """

    rows: Sequence[StoredDay]
    normals: NormalsTable | None


def read_weather(site: Site, today: date, years_back: int = YEARS_BACK) -> SiteReadings:
    """Read a site's weather strictly as it was known on the morning of ``today``."""
    first = today - timedelta(days=years_back * 366)
    days = (
        WeatherDay.objects.filter(
            known_on(today), batch__series__readers__site=site, day__gte=first
        )
        .order_by("-batch__series__readers__rank", "issued_on", "batch_id", "day")
        .values_list("day", "issued_on", *FIELDS)
    )
    rows = [StoredDay(day, issued, tuple(values)) for day, issued, *values in days]
    return SiteReadings(rows, normals_of(site))


def weather_series(readings: SiteReadings, today: date) -> WeatherSeries | None:
    """Compose one series without holes in its dates; None if nothing is known.

    Every value of a more trusted series replaces a less trusted one's; a newer
    forecast replaces an older one. Days of which nothing was observed or forecast
    take the normals, marked ``n``. A value still missing is NaN.
    """
    observed = [row for row in readings.rows if row.issued_on is None]
    if not readings.rows and readings.normals is None:
        return None
    start = min(
        [row.day for row in observed] + [today - timedelta(days=FULL_YEAR_DAYS + 40)]
    )
    end = today + timedelta(days=HORIZON_DAYS)
    values = np.full((len(FIELDS), (end - start).days + 1), np.nan)
    origin = ["n"] * values.shape[1]
    forecast = [row for row in readings.rows if row.issued_on is not None]
    _write(values, origin, start, observed, "o")
    _write(values, origin, start, forecast, "f")
    _write(values, origin, start, [row for row in observed if row.day == today], "o")
    normals = readings.normals or _normals_of_record(observed)
    if normals is not None:
        _fill_with_normals(values, origin, start, normals)
    return _as_series(values, origin, start)


def _write(
    values: Array,
    origin: list[str],
    start: date,
    rows: Iterable[StoredDay],
    letter: str,
) -> None:
    for day, _issued, row in rows:
        index = (day - start).days
        if not 0 <= index < len(origin):
            continue
        for field, value in enumerate(row):
            if value is not None:
                values[field, index] = value
        if any(value is not None for value in row):
            origin[index] = letter


def _fill_with_normals(
    values: Array, origin: list[str], start: date, normals: NormalsTable
) -> None:
    curve = daily_normals(normals)
    for index, letter in enumerate(origin):
        if letter != "n":
            continue
        place = curve.index(start + timedelta(days=index))
        values[0, index] = curve.tmin_c[place]
        values[1, index] = curve.tmax_c[place]
        values[2, index] = curve.rain_mm[place]


def _normals_of_record(observed: Sequence[StoredDay]) -> NormalsTable | None:
    """Return the record's own monthly means, once it holds every month."""
    means: dict[int, list[list[float]]] = {month: [] for month in range(1, 13)}
    for day, _issued, row in observed:
        if row[0] is not None and row[1] is not None and row[2] is not None:
            means[day.month].append([row[0], row[1], row[2]])
    if any(len(days) < 28 for days in means.values()):  # noqa: PLR2004 (a month)
        return None
    table = [np.mean(means[month], axis=0) for month in range(1, 13)]
    return NormalsTable(
        tmin_c=tuple(float(row[0]) for row in table),
        tmax_c=tuple(float(row[1]) for row in table),
        rain_mm=tuple(
            float(row[2]) * monthrange(LEAP_YEAR, month)[1]
            for month, row in enumerate(table, start=1)
        ),
    )


def _as_series(values: Array, origin: list[str], start: date) -> WeatherSeries | None:
    """Cut the series off where nothing is known any more."""
    known = np.flatnonzero(~np.isnan(values[0]) | ~np.isnan(values[1]))
    if not known.size:
        return None
    length = int(known[-1]) + 1
    optional = [
        values[field, :length] if not np.isnan(values[field, :length]).all() else None
        for field in range(3, len(FIELDS))
    ]
    return WeatherSeries(
        start=start,
        tmin_c=values[0, :length],
        tmax_c=values[1, :length],
        rain_mm=values[2, :length],
        origin="".join(origin[:length]),
        humidity_percent=optional[0],
        wind_ms=optional[1],
        radiation_mj=optional[2],
        et0_mm=optional[3],
    )


def typed_minimum_c(site: Site, today: date) -> float | None:
    """Return tonight's minimum as somebody at the site typed it this morning."""
    row = (
        WeatherDay.objects.filter(
            batch__series__owner=site,
            batch__series__kind="typed",
            issued_on=today,
            tmin_c__isnull=False,
        )
        .order_by("day")
        .values_list("tmin_c", flat=True)
    )
    return row.first()
