"""The days of a station that sends its readings every few minutes.

A day's extremes and means need readings of nearly all its hours. Rain is added up from
what the station counts since its own midnight, which may not be ours and which a new
battery sets back; where a station does not count, its rain of the last hour is added
hour by hour. A day of which too little is known has no value: never zero.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from orchard.sources.forecast_hours import midnight
from orchard.sources.quality_hours import (
    HOUR_S,
    Array,
    DoubtedMoments,
    Why,
    doubted_temperatures,
)
from orchard.sources.station_columns import StationQuantity
from orchard.sources.station_day import BOUNDS
from orchard.sources.station_push import PushedReading
from orchard.sources.wind_height import at_two_metres

#: Hours of a day that may be missing from its extremes, means and hourly rain (common
#: practice, no source).
MOST_HOURS_MISSING = 4
#: A count that was not read again within this time may have been set back unseen.
SAME_COUNT_S = HOUR_S
#: Rain after the last reading is not known; so much of the evening may be missing.
MOST_EVENING_MISSING_S = 2 * HOUR_S
#: A mean of 1 W m-2 all day is 0.0864 MJ m-2 d-1 (FAO-56, table 3).
MJ_PER_WATT_DAY = 0.0864
#: What is read of the hours before and after, to hold the day's readings against.
AROUND = timedelta(hours=3)
SUM_SLACK_MM = 1e-6


@dataclass(frozen=True, slots=True)
class DoubtedReading:
    """A value of a day that its readings do not let one believe."""

    variable: str
    value: float
    why: Why


@dataclass(frozen=True, slots=True)
class SentDay:
    """What a station's readings make of one local day, in SI; ``None`` is unknown."""

    values: dict[str, float | None]
    doubts: tuple[DoubtedReading, ...]


def span_of(day: date, zone: ZoneInfo) -> tuple[datetime, datetime]:
    """Return when a local day begins and ends: 23 to 25 hours."""
    return midnight(day, zone), midnight(day + timedelta(days=1), zone)


def sent_day(
    readings: Sequence[PushedReading], day: date, zone: ZoneInfo, wind_height_m: float
) -> SentDay:
    """Return one day that is over.

    Parameters
    ----------
    readings : sequence of PushedReading
        Of the day and of :data:`AROUND` it, in any order.
    day : date
        The local day.
    zone : ZoneInfo
        Of the site.
    wind_height_m : float
        Of the station's anemometer; the mean is brought down to 2 m.
    """
    hours = _Hours(sorted(readings, key=lambda one: one.at), *span_of(day, zone))
    air, doubts = hours.extremes()
    wind, gusts = hours.within("wind_ms", StationQuantity.WIND)
    rain_mm = hours.rain_mm()
    most_mm = BOUNDS[StationQuantity.RAIN][1]
    if rain_mm is not None and rain_mm > most_mm:
        doubts.append(DoubtedReading("rain_mm", rain_mm, Why.BOUNDS))
        rain_mm = None
    if gusts is not None:
        gust = at_two_metres(gusts, wind_height_m)
        doubts.append(DoubtedReading("wind_ms", gust, Why.BOUNDS))
    mean_wind = hours.mean(wind)
    humidity, _ = hours.within("humidity_percent", StationQuantity.HUMIDITY)
    mean_humidity = hours.mean(humidity)
    watts = hours.mean(hours.column("radiation_wm2"))
    values = {
        **air,
        "rain_mm": rain_mm,
        "humidity_percent": None
        if mean_humidity is None
        else min(mean_humidity, 100.0),
        "wind_ms": None
        if mean_wind is None
        else at_two_metres(mean_wind, wind_height_m),
        "gust_ms": hours.highest("gust_ms", 113.0),
        "radiation_mj": None if watts is None else watts * MJ_PER_WATT_DAY,
    }
    return SentDay(values, tuple(doubts))


def rain_so_far_mm(
    readings: Sequence[PushedReading], day: date, zone: ZoneInfo
) -> float:
    """Return what has certainly fallen on a day that is not over [mm]."""
    hours = _Hours(sorted(readings, key=lambda one: one.at), *span_of(day, zone))
    counted = hours.counted_mm()
    return counted if counted is not None else sum(hours.hourly_rain().values())


class _Hours:
    """The readings around one day, as columns; seconds count from its beginning."""

    def __init__(
        self, readings: Sequence[PushedReading], begin: datetime, end: datetime
    ) -> None:
        self.readings = readings
        self.length_s = (end - begin).total_seconds()
        self.at_s: Array = np.array(
            [(one.at.astimezone(UTC) - begin).total_seconds() for one in readings],
            dtype=np.float64,
        )
        # A reading at midnight closes the day that ends with it.
        self.is_inside = (self.at_s > 0) & (self.at_s <= self.length_s)

    def column(self, name: str) -> Array:
        """Return one quantity of every reading, NaN where it is missing."""
        return np.array([getattr(one, name) for one in self.readings], dtype=np.float64)

    def within(
        self, name: str, quantity: StationQuantity
    ) -> tuple[Array, float | None]:
        """Return the column without what cannot be, and the worst of that."""
        values = self.column(name)
        low, high, _ = BOUNDS[quantity]
        is_bad = ~np.isnan(values) & ((values < low) | (values > high))
        worst = values[is_bad & self.is_inside]
        return np.where(is_bad, np.nan, values), float(
            worst.max()
        ) if worst.size else None

    def _hour_of(self, values: Array) -> tuple[Array, Array]:
        """Return the hours (from 0) and the values of what is known of the day."""
        use = self.is_inside & ~np.isnan(values)
        return np.ceil(self.at_s[use] / HOUR_S) - 1, values[use]

    def _is_covered(self, hours: Array) -> bool:
        missing = self.length_s / HOUR_S - len(np.unique(hours))
        return missing <= MOST_HOURS_MISSING

    def mean(self, values: Array) -> float | None:
        """Return the mean of the hours' means, unless too many hours are missing."""
        hours, known = self._hour_of(values)
        if not self._is_covered(hours):
            return None
        return float(
            np.mean([known[hours == hour].mean() for hour in np.unique(hours)])
        )

    def highest(self, name: str, most: float) -> float | None:
        """Return the highest value that can be, whatever else is missing."""
        _, known = self._hour_of(self.column(name))
        good = known[known <= most]
        return float(good.max()) if good.size else None

    def extremes(self) -> tuple[dict[str, float | None], list[DoubtedReading]]:
        """Return low and high, and what was left out of them."""
        temp_c = self.column("temp_c")
        low, high, _ = BOUNDS[StationQuantity.TMIN]
        doubted = doubted_temperatures(self.at_s, temp_c, (low, high))
        hours, good = self._hour_of(np.where(doubted.is_doubted, np.nan, temp_c))
        found: dict[str, float | None] = {"tmin_c": None, "tmax_c": None}
        if self._is_covered(hours):
            found = {"tmin_c": float(good.min()), "tmax_c": float(good.max())}
        return found, self._left_out(temp_c, doubted, good)

    def _left_out(
        self, temp_c: Array, doubted: DoubtedMoments, good: Array
    ) -> list[DoubtedReading]:
        """Return the day's extremes as they would be with what is doubted."""
        places = np.flatnonzero(doubted.is_doubted & self.is_inside)
        if not places.size:
            return []
        lowest = int(places[np.argmin(temp_c[places])])
        highest = int(places[np.argmax(temp_c[places])])
        left_out = []
        if not good.size or temp_c[lowest] < good.min():
            left_out.append(
                DoubtedReading("tmin_c", float(temp_c[lowest]), doubted.why[lowest])
            )
        if not good.size or temp_c[highest] > good.max():
            left_out.append(
                DoubtedReading("tmax_c", float(temp_c[highest]), doubted.why[highest])
            )
        return left_out

    def rain_mm(self) -> float | None:
        """Return the day's rain, or ``None`` where nobody can know it."""
        counted = self.counted_mm()
        if counted is not None:
            evening = self.length_s - self._last_count_s()
            # Rain that was counted fell; none counted by dusk is no dry day.
            is_known = evening <= MOST_EVENING_MISSING_S or counted > SUM_SLACK_MM
            return counted if is_known else None
        by_hour = self.hourly_rain()
        return (
            sum(by_hour.values())
            if self._is_covered(np.array(list(by_hour), dtype=np.float64))
            else None
        )

    def _counts(self) -> tuple[Array, Array]:
        counts = self.column("rain_day_mm")
        known = ~np.isnan(counts) & (self.at_s <= self.length_s)
        return self.at_s[known], counts[known]

    def _last_count_s(self) -> float:
        return float(self._counts()[0][-1])

    def counted_mm(self) -> float | None:
        """Return what the station's own count says fell since the day began."""
        at_s, counts = self._counts()
        if not (at_s > 0).any():
            return None
        total, before, before_s = 0.0, 0.0, -np.inf
        for when_s, count in zip(at_s, counts, strict=True):
            # The first count of a day holds the rain since its station's midnight;
            # only a count read shortly before can show that this was not ours.
            is_new_day = before_s <= 0 < when_s and when_s - before_s > SAME_COUNT_S
            is_set_back = is_new_day or count < before - SUM_SLACK_MM
            if when_s > 0:
                total += count if is_set_back else count - before
            before, before_s = float(count), float(when_s)
        return float(total)

    def hourly_rain(self) -> dict[int, float]:
        """Return the rain of each hour of the day: the last one sent in it."""
        hours, rain = self._hour_of(self.column("rain_hour_mm"))
        return {int(hour): float(mm) for hour, mm in zip(hours, rain, strict=True)}
