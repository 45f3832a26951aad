"""Stored weather as one daily series: observed before forecast before normals.

Value by value, of those that one may go by: what was observed counts before what was
forecast, a more trusted series before a less trusted one, a newer forecast before an
older one, a later batch before an earlier one. A rain gauge read at the site beats its
weather station so, and the station beats a file. Days of which nothing was observed or
forecast take the usual of the time of year. Every value says where it comes from.

Gaps in temperatures are filled once, here, beside the series
(:mod:`care.science.gap_filling`); missing rain stays unknown.
"""

from calendar import monthrange
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from care.facts import Array, Known, Provenance, WeatherSeries
from care.facts.weather import NOBODY, VALUES
from care.science.gap_filling import Gap, filled_gaps
from care.science.usual_climate import mean_around
from orchard.models import Site, WeatherDay
from orchard.sources.known_days import known_on, normals_of
from orchard.sources.normals import LEAP_YEAR, NormalsTable, daily_normals

YEARS_BACK = 12
CLIMATE_YEARS_BACK = 40  # for what is usual, where many years tell more than few
HORIZON_DAYS = 200
FULL_YEAR_DAYS = 365
FIELDS = VALUES
RAIN = FIELDS.index("rain_mm")
TEMPERATURES = 2  # the first of the fields
SMOOTHING_DAYS = 10  # either side, for the usual value of a time of year
MONTH_DAYS = 28
EPOCH = date(1970, 1, 1).toordinal()

Whole = NDArray[np.int64]


class StoredDay(NamedTuple):
    """One stored day; ``values`` in the order of ``FIELDS``, observed without issue.

    ``series`` is a place in the readings' names, most trusted first. ``is_so_far``
    marks the rain of a day under way, which can only grow.
    """

    day: date
    issued_on: date | None
    values: tuple[float | None, ...]
    series: int = NOBODY
    batch: int = 0
    is_so_far: bool = False


@dataclass(frozen=True, slots=True)
class SiteReadings:
    """Everything stored that a site's weather is made of, as of one morning.

    In any order; of rows alike in trust, issue and batch the last one counts.
    """

    rows: Sequence[StoredDay]
    normals: NormalsTable | None
    names: tuple[str, ...] = ()


def read_weather(site: Site, today: date, years_back: int = YEARS_BACK) -> SiteReadings:
    """Read a site's weather strictly as it was known on the morning of ``today``."""
    first = today - timedelta(days=years_back * 366)
    reader, series = "batch__series__readers", "batch__series"
    found = (
        WeatherDay.objects.filter(
            known_on(today), **{f"{reader}__site": site}, day__gte=first
        )
        .order_by(f"-{reader}__rank", "issued_on", "batch_id", "day")
        .values_list(
            "day",
            "issued_on",
            "batch_id",
            f"{reader}__rank",
            f"{series}__kind",
            f"{series}__name",
            *FIELDS,
        )
    )
    rows = list(found)
    by_rank = {rank: name for _day, _issued, _batch, rank, _kind, name, *_ in rows}
    places = {rank: place for place, rank in enumerate(sorted(by_rank))}
    return SiteReadings(
        [
            StoredDay(
                day,
                issued,
                tuple(values),
                places[rank],
                batch,
                issued is not None and kind == "sent",
            )
            for day, issued, batch, rank, kind, _name, *values in rows
        ],
        normals_of(site),
        tuple(by_rank[rank] for rank in sorted(by_rank)),
    )


def weather_series(readings: SiteReadings, today: date) -> WeatherSeries | None:
    """Compose one series without holes in its dates; None if nothing is known.

    Every value of a more trusted series replaces a less trusted one's; a newer
    forecast replaces an older one. Days of which nothing was observed or forecast
    take the normals, marked ``n``. A value still missing is NaN.
    """
    if not readings.rows and readings.normals is None:
        return None
    days = _Days(readings, today)
    days.write()
    normals = readings.normals or days.normals_of_record()
    if normals is not None:
        days.take_normals(normals)
    return days.as_series()


class _Days:
    """The days of a series while it is composed; columns (fields, days)."""

    def __init__(self, readings: SiteReadings, today: date) -> None:
        self.readings = readings
        rows = readings.rows
        # Where the usual is unknown too, days before the first one would be a drought:
        # nothing is known of them, and rain that nobody knows counts as none.
        has_usual = readings.normals is not None
        a_year_ago = today - timedelta(days=FULL_YEAR_DAYS + 40)
        begins = a_year_ago if has_usual else min(row.day for row in rows)
        observed = [row.day for row in rows if row.issued_on is None]
        self.start = min([*observed, begins])
        length = (today - self.start).days + HORIZON_DAYS + 1
        self.values = np.full((len(FIELDS), length), np.nan)
        self.known = np.full(self.values.shape, Known.UNKNOWN, dtype=np.int8)
        self.series = np.full(self.values.shape, NOBODY, dtype=np.int8)
        self.issued = np.zeros(self.values.shape, dtype=np.int32)
        self.letters = np.full(length, b"n", dtype="S1")
        self.is_under_way = np.zeros(length, dtype=bool)
        self.slots = _slots(self.start, length)

    def write(self) -> None:
        """Write the rows, the least trusted first; whoever writes last is believed."""
        rows = self.readings.rows
        if not rows:
            return
        first = self.start.toordinal()
        place = np.array([row.day.toordinal() - first for row in rows])
        issued = np.array(
            [row.issued_on.toordinal() - EPOCH if row.issued_on else 0 for row in rows]
        )
        series = np.array([row.series for row in rows])
        so_far = np.array([row.is_so_far for row in rows])
        batch = np.array([row.batch for row in rows])
        values = np.array([row.values for row in rows], dtype=np.float64)
        is_inside = (place >= 0) & (place < len(self.letters))
        order = np.lexsort((batch, issued, -series, issued == 0))
        whole = order[(is_inside & ~so_far)[order]]
        for field in range(len(FIELDS)):
            use = whole[~np.isnan(values[whole, field])]
            self._put(field, place[use], values[use, field], series[use], issued[use])
        for row in order[(is_inside & so_far)[order]]:
            rain = values[row, RAIN]
            self._put_so_far(int(place[row]), rain, int(series[row]), int(issued[row]))
        self.letters[(self.known == Known.FORECAST).any(axis=0)] = b"f"
        self.letters[(self.known == Known.OBSERVED).any(axis=0)] = b"o"

    def _put(
        self, field: int, at: Whole, values: Array, series: Whole, issued: Whole
    ) -> None:
        # Of places that repeat, the last one stays.
        self.values[field, at] = values
        self.series[field, at] = series
        self.issued[field, at] = issued
        self.known[field, at] = np.where(issued == 0, Known.OBSERVED, Known.FORECAST)

    def _put_so_far(self, at: int, rain_mm: float, series: int, issued: int) -> None:
        """Let rain that has fallen raise what was forecast; a read gauge stands."""
        if self.known[RAIN, at] == Known.OBSERVED or rain_mm <= self.values[RAIN, at]:
            return
        self.values[RAIN, at] = rain_mm
        self.series[RAIN, at] = series
        self.issued[RAIN, at] = issued
        self.known[RAIN, at] = Known.FORECAST
        self.is_under_way[at] = True

    def normals_of_record(self) -> NormalsTable | None:
        """Return the record's own monthly means, once it holds every month."""
        means: Array = self.values[: RAIN + 1]
        is_observed = (self.known[: RAIN + 1] == Known.OBSERVED).all(axis=0)
        first = np.datetime64(self.start, "D")
        days = first + np.flatnonzero(is_observed)
        months = days.astype("datetime64[M]").astype(np.int64) % 12
        count = np.bincount(months, minlength=12)
        if (count < MONTH_DAYS).any():
            return None
        table = [np.bincount(months, row[is_observed]) / count for row in means]
        lengths = [monthrange(LEAP_YEAR, month)[1] for month in range(1, 13)]
        return NormalsTable(
            tmin_c=tuple(map(float, table[0])),
            tmax_c=tuple(map(float, table[1])),
            rain_mm=tuple(map(float, table[2] * lengths)),
        )

    def take_normals(self, normals: NormalsTable) -> None:
        """Let days of which nobody knows anything be as usual.

        Of a day under way of which only the rain so far is known, its temperatures.
        """
        curve = daily_normals(normals)
        columns = (curve.tmin_c, curve.tmax_c, curve.rain_mm)
        is_open = (self.letters == b"n") | self.is_under_way
        for field, column in enumerate(columns):
            at = np.flatnonzero(is_open & np.isnan(self.values[field]))
            self.values[field, at] = column[self.slots[at]]
            self.known[field, at] = Known.NORMAL

    def as_series(self) -> WeatherSeries | None:
        """Cut the series off where nothing is known any more, and fill its gaps."""
        low, high = self.values[0], self.values[1]
        found = np.flatnonzero(~np.isnan(low) | ~np.isnan(high))
        if not found.size:
            return None
        stop = int(found[-1]) + 1
        optional = [
            None if np.isnan(row).all() else row
            for row in self.values[RAIN + 1 :, :stop]
        ]
        series = WeatherSeries(
            start=self.start,
            tmin_c=low[:stop],
            tmax_c=high[:stop],
            rain_mm=self.values[RAIN, :stop],
            origin=self.letters[:stop].tobytes().decode(),
            humidity_percent=optional[0],
            wind_ms=optional[1],
            radiation_mj=optional[2],
            et0_mm=optional[3],
        )
        return self._filled(series)

    def _filled(self, series: WeatherSeries) -> WeatherSeries:
        """Add the filled temperatures and where every value comes from."""
        stop = len(series)
        low, high = (self._without_gaps(field, stop) for field in range(TEMPERATURES))
        # Where one of the two was measured, the other gives way.
        is_low_known = ~np.isnan(series.tmin_c)
        is_high_known = ~np.isnan(series.tmax_c)
        return replace(
            series,
            provenance=Provenance(
                self.readings.names,
                self.known[:, :stop],
                self.series[:, :stop],
                self.issued[:, :stop],
            ),
            filled_tmin_c=np.where(is_low_known, low, np.minimum(low, high)),
            filled_tmax_c=np.where(is_high_known, high, np.maximum(low, high)),
        )

    def _without_gaps(self, field: int, stop: int) -> Array:
        """Return a temperature with its gaps filled, and mark these."""
        values = self.values[field, :stop]
        if np.isnan(values).all() or not np.isnan(values).any():
            return values
        slots = self.slots[:stop]
        usual = mean_around(values, slots, SMOOTHING_DAYS)[slots]
        found = filled_gaps(values, usual)
        known = self.known[field, :stop]
        known[found.gaps == Gap.BETWEEN] = Known.BETWEEN
        known[found.gaps == Gap.USUAL] = Known.USUAL
        return found.values


def _slots(start: date, length: int) -> Whole:
    """Return the places of days in a leap year, as :class:`DailyNormals` has them."""
    days = np.datetime64(start, "D") + np.arange(length)
    months = days.astype("datetime64[M]")
    first = np.datetime64(f"{LEAP_YEAR}-01", "M") + months.astype(np.int64) % 12
    begin = np.datetime64(f"{LEAP_YEAR}-01-01", "D")
    place = first.astype("datetime64[D]") - begin + (days - months)
    return np.asarray(place.astype(np.int64))


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
