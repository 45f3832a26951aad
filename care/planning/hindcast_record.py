"""A site's whole weather record, and what of it was known on any earlier Monday."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from hashlib import sha256

from django.db.models import Max

from care.facts import Array, SiteFacts, WeatherSeries
from care.planning.gather import site_facts
from care.planning.weather_days import (
    CLIMATE_YEARS_BACK,
    FIELDS,
    SiteReadings,
    StoredDay,
    read_weather,
    weather_series,
)
from orchard.models import Site, WeatherDay
from orchard.sources.normals import NormalsTable

DAY, WEEK = timedelta(days=1), timedelta(days=7)
LONGEST_FORECAST = timedelta(days=16)
LEAST_DAYS = 366  # of which something is known before anything is looked back on


@dataclass(frozen=True, slots=True)
class Record:
    """What was observed at a site, and which forecasts a service sent and when.

    ``observed`` lists days least trusted first, as they were read; ``forecasts`` by
    the day they were issued. ``normals`` are the twelve typed months, ``None`` without.
    """

    site: SiteFacts
    observed: tuple[StoredDay, ...]
    forecasts: Mapping[date, Sequence[StoredDay]]
    normals: NormalsTable | None

    @property
    def first(self) -> date:
        """The first day observed."""
        return min(row.day for row in self.observed)

    @property
    def last(self) -> date:
        """The last day observed."""
        return max(row.day for row in self.observed)

    @property
    def is_long_enough(self) -> bool:
        """Whether there is a year of days, so that one can be set against another."""
        return len({row.day for row in self.observed}) >= LEAST_DAYS

    @property
    def mondays(self) -> list[date]:
        """The Mondays with a week of weather behind them, in order."""
        monday = self.first + WEEK
        monday += timedelta(days=-monday.weekday() % 7)
        return [
            monday + number * WEEK
            for number in range(max((self.last - monday).days // 7 + 1, 0))
        ]


def read_record(site: Site, today: date) -> Record:
    """Read all that was observed at a site, in three queries.

    Of forecasts those count that a weather service sent: what somebody typed, or let
    stand in for a forecast, may know more than was known.

    Parameters
    ----------
    site : Site
    today : datetime.date
        A day under way is not over; where a demonstration's record goes on beyond it,
        all of it counts.
    """
    newest = WeatherDay.objects.filter(
        batch__series__readers__site=site, issued_on=None
    ).aggregate(day=Max("day"))["day"]
    end = today if newest is None or newest <= today else newest + DAY
    readings = read_weather(site, end, CLIMATE_YEARS_BACK)
    observed = tuple(
        row for row in readings.rows if row.issued_on is None and row.day < end
    )
    return Record(
        site=replace(site_facts(site), last_frost=None, first_frost=None),
        observed=observed,
        forecasts=_forecasts(site, end),
        normals=readings.normals,
    )


def _forecasts(site: Site, end: date) -> dict[date, list[StoredDay]]:
    rows = (
        WeatherDay.objects.filter(batch__series__readers__site=site, issued_on__lt=end)
        .exclude(batch__series__source="")
        .order_by("-batch__series__readers__rank", "issued_on", "batch_id", "day")
        .values_list("day", "issued_on", *FIELDS)
    )
    found: dict[date, list[StoredDay]] = defaultdict(list)
    for day, issued_on, *values in rows:
        found[issued_on].append(StoredDay(day, issued_on, tuple(values)))
    return dict(found)


def digest_of(record: Record) -> str:
    """Return a mark that differs when any weather that counts differs."""
    mark = sha256()
    mark.update(repr((record.site.latitude_deg, record.site.elevation_m)).encode())
    mark.update(repr((record.site.soil_texture, record.normals)).encode())
    mark.update(repr(record.observed).encode())
    mark.update(repr(sorted(record.forecasts.items())).encode())
    return mark.hexdigest()


def known_on(record: Record, monday: date) -> WeatherSeries | None:
    """Return the site's weather as it was known on the morning of a Monday.

    Beyond it go the newest forecasts issued by then, then the usual weather of the
    days observed until then. The typed months stand in as long as those do not make
    a year: nobody knows from when they are. Nothing of that day or later is looked at.
    """
    rows = [row for row in record.observed if row.day < monday]
    issued = sorted(record.forecasts)
    begin = bisect_left(issued, monday - LONGEST_FORECAST)
    for day in issued[begin:]:
        if day <= monday:
            rows += [row for row in record.forecasts[day] if row.day >= monday]
    by_record = weather_series(SiteReadings(rows, None), monday)
    if by_record is not None and by_record.covers(monday + WEEK + LONGEST_FORECAST):
        return by_record
    return weather_series(SiteReadings(rows, record.normals), monday)


def as_it_came(record: Record) -> WeatherSeries | None:
    """Return the weather of the whole record, to its last day."""
    series = weather_series(SiteReadings(record.observed, None), record.last + DAY)
    if series is None:
        return None
    stop = series.index(record.last) + 1

    def until(values: Array | None) -> Array | None:
        return None if values is None else values[:stop]

    return replace(
        series,
        tmin_c=series.tmin_c[:stop],
        tmax_c=series.tmax_c[:stop],
        rain_mm=series.rain_mm[:stop],
        origin=series.origin[:stop],
        humidity_percent=until(series.humidity_percent),
        wind_ms=until(series.wind_ms),
        radiation_mj=until(series.radiation_mj),
        et0_mm=until(series.et0_mm),
        filled_tmin_c=until(series.filled_tmin_c),
        filled_tmax_c=until(series.filled_tmax_c),
        provenance=None,
    )


def foreseen(series: WeatherSeries, monday: date) -> WeatherSeries:
    """Return the weather as a perfect forecast of that Monday would have told it."""
    place = max(series.index(monday), 0)
    ahead = "f" * max(len(series) - place, 0)
    return replace(series, origin=series.origin[:place] + ahead)
