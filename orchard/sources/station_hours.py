"""Several rows a day of a station's file, folded into days of the site.

A row tells of the time up to it. A day's extremes, means and rain need nearly all of
its hours; a temperature that stands alone is left out and counted. Rain that keeps
counting is taken apart by the difference from row to row; a smaller number is a gauge
that was emptied or set back. Rain that fell in a hole across midnight is no day's.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from orchard.sources.forecast_hours import local_day, midnight
from orchard.sources.quality_hours import doubted_temperatures
from orchard.sources.station_columns import (
    ColumnMapping,
    ColumnUnit,
    RainMode,
    StationQuantity,
)
from orchard.sources.station_day import BOUNDS, StationDay
from orchard.sources.wind_height import at_two_metres

#: Hours of a day that may be missing, and the longest from row to row (common
#: practice, no source).
MOST_MISSING_S = 4 * 3600.0
LONGEST_STEP = timedelta(hours=3)
#: So many usual steps without a row are a hole, if they last an hour.
STEPS_OF_HOLE = 1.5
SHORTEST_HOLE = timedelta(hours=1)
_SLACK_MM = 1e-6
_INSTANT = timedelta(microseconds=1)

Values = Mapping[StationQuantity, float | None]


@dataclass(frozen=True, slots=True)
class Reading:
    """A row: when it was measured (UTC) and what, in SI."""

    at: datetime
    values: Values


@dataclass(frozen=True, slots=True)
class FoldedDays:
    """Days in order; how many readings were doubted, how many days are too thin."""

    days: tuple[StationDay, ...]
    doubted: int
    thin_days: int


@dataclass(slots=True)
class _Tally:
    """A day: of each quantity the seconds known, sums weighted by time, and totals."""

    known_s: dict[StationQuantity, float] = field(
        default_factory=lambda: defaultdict(float)
    )
    weighted: dict[StationQuantity, float] = field(
        default_factory=lambda: defaultdict(float)
    )
    total: dict[StationQuantity, float] = field(
        default_factory=lambda: defaultdict(float)
    )
    low: float | None = None
    high: float | None = None
    is_rain_lost: bool = False


def fold(
    readings: Sequence[Reading], mapping: ColumnMapping, zone: ZoneInfo, today: date
) -> FoldedDays:
    """Return the days that are over.

    Parameters
    ----------
    readings : sequence of Reading
        In order, no two of one moment.
    mapping : ColumnMapping
        For its way of counting rain and the height of its anemometer.
    zone : ZoneInfo
        Of the site; its days may have 23 or 25 hours.
    today : date
        Not over yet, so not among the days.
    """
    believed, doubted = _believed(readings)
    folding = _Folding(mapping, zone, usual_step(readings))
    for name in StationQuantity:
        known = [each for each in believed if each.values.get(name) is not None]
        if name is StationQuantity.RAIN and mapping.rain_mode is not RainMode.ROW:
            folding.count(known)
        elif known:
            folding.take(name, known)
    days = [folding.day(day) for day in sorted(folding.tallies) if day < today]
    whole = tuple(day for day in days if day is not None)
    return FoldedDays(whole, doubted, len(days) - len(whole))


def usual_step(readings: Sequence[Reading]) -> timedelta:
    """Return the most usual time from one row to the next."""
    seconds = np.diff([each.at.timestamp() for each in readings])
    return (
        timedelta(seconds=float(np.median(seconds))) if seconds.size else SHORTEST_HOLE
    )


def _believed(readings: Sequence[Reading]) -> tuple[list[Reading], int]:
    """Return the readings without temperatures that stand alone, and how many."""
    name = StationQuantity.TEMPERATURE
    at_s = np.array([each.at.timestamp() for each in readings], dtype=np.float64)
    temp_c = np.array([each.values.get(name) for each in readings], dtype=np.float64)
    low, high, _ = BOUNDS[name]
    doubted = doubted_temperatures(at_s, temp_c, (low, high)).is_doubted
    return [
        replace(each, values={**each.values, name: None}) if is_doubted else each
        for each, is_doubted in zip(readings, doubted, strict=True)
    ], int(doubted.sum())


class _Folding:
    def __init__(self, mapping: ColumnMapping, zone: ZoneInfo, step: timedelta) -> None:
        self._mapping = mapping
        self._zone = zone
        self._step = step
        self._hole = max(STEPS_OF_HOLE * step, SHORTEST_HOLE)
        self.tallies: dict[date, _Tally] = defaultdict(_Tally)
        self._sums = {StationQuantity.RAIN, StationQuantity.ET0}
        radiation = mapping.columns.get(StationQuantity.RADIATION)
        if radiation is not None and radiation.unit is ColumnUnit.MEGAJOULES:
            self._sums.add(StationQuantity.RADIATION)

    def take(self, name: StationQuantity, known: Sequence[Reading]) -> None:
        """Take one quantity of every row that has it."""
        before: datetime | None = None
        for reading in known:
            value = float(reading.values[name] or 0.0)
            begin = self._begin(before, reading.at)
            whole = (reading.at - begin).total_seconds()
            for tally, seconds in self._pieces(begin, reading.at):
                tally.known_s[name] += seconds
                tally.weighted[name] += value * seconds
                tally.total[name] += value * seconds / whole
            self._meet(name, reading.at, value)
            before = reading.at

    def _begin(self, before: datetime | None, at: datetime) -> datetime:
        """Return since when a row tells; after a hole it is one step."""
        is_hole = before is None or at - before > self._hole
        return at - self._step if before is None or is_hole else before

    def _meet(self, name: StationQuantity, at: datetime, value: float) -> None:
        tally = self.tallies[local_day(at - _INSTANT, self._zone)]
        if name in {StationQuantity.TEMPERATURE, StationQuantity.TMIN}:
            tally.low = value if tally.low is None else min(tally.low, value)
        if name in {StationQuantity.TEMPERATURE, StationQuantity.TMAX}:
            tally.high = value if tally.high is None else max(tally.high, value)

    def count(self, known: Sequence[Reading]) -> None:
        """Take rain from numbers that keep counting."""
        is_daily = self._mapping.rain_mode is RainMode.SINCE_MIDNIGHT
        for before, reading in zip([None, *known], known, strict=False):
            value = float(reading.values[StationQuantity.RAIN] or 0.0)
            today = local_day(reading.at - _INSTANT, self._zone)
            dawn = midnight(today, self._zone)
            if before is None:
                # At midnight itself the count may have begun anew already.
                if is_daily and not self._is_midnight(reading.at):
                    self._fell(dawn, reading.at, value)
                continue
            grown = value - float(before.values[StationQuantity.RAIN] or 0.0)
            is_set_back = grown < -_SLACK_MM
            fell = value if is_set_back else max(grown, 0.0)
            is_hole = reading.at - before.at > self._hole
            if before.at >= dawn or (not is_hole and not (is_daily and is_set_back)):
                self._fell(before.at, reading.at, fell)
            elif is_daily:
                # The count began anew at midnight, so it is all of today's; what fell
                # last evening is known if no rows are missing there.
                self._fell(dawn, reading.at, value)
                self._fell(before.at, dawn, 0.0, is_known=not is_hole)
            else:
                self._fell(before.at, reading.at, fell, is_lost=fell > _SLACK_MM)

    def _is_midnight(self, at: datetime) -> bool:
        return at == midnight(local_day(at, self._zone), self._zone)

    def _fell(
        self,
        begin: datetime,
        end: datetime,
        rain_mm: float,
        *,
        is_known: bool = True,
        is_lost: bool = False,
    ) -> None:
        whole = (end - begin).total_seconds()
        for tally, seconds in self._pieces(begin, end):
            tally.known_s[StationQuantity.RAIN] += seconds if is_known else 0.0
            tally.total[StationQuantity.RAIN] += rain_mm * seconds / whole
            tally.is_rain_lost = tally.is_rain_lost or is_lost

    def _pieces(self, begin: datetime, end: datetime) -> Iterator[tuple[_Tally, float]]:
        while begin < end:
            day = local_day(begin, self._zone)
            until = min(end, midnight(day + timedelta(days=1), self._zone))
            yield self.tallies[day], (until - begin).total_seconds()
            begin = until

    def day(self, day: date) -> StationDay | None:
        """Return one day, or ``None`` where too little of it is known."""
        tally = self.tallies[day]
        length_s = (
            midnight(day + timedelta(days=1), self._zone) - midnight(day, self._zone)
        ).total_seconds()

        def value(name: StationQuantity) -> float | None:
            known_s = tally.known_s[name]
            if known_s < length_s - MOST_MISSING_S:
                return None
            return (
                tally.total[name]
                if name in self._sums
                else tally.weighted[name] / known_s
            )

        has_air = value(StationQuantity.TEMPERATURE) is not None
        wind = value(StationQuantity.WIND)
        found = StationDay(
            day=day,
            tmin_c=tally.low
            if has_air or value(StationQuantity.TMIN) is not None
            else None,
            tmax_c=tally.high
            if has_air or value(StationQuantity.TMAX) is not None
            else None,
            rain_mm=None if tally.is_rain_lost else value(StationQuantity.RAIN),
            humidity_percent=value(StationQuantity.HUMIDITY),
            wind_ms=None
            if wind is None
            else at_two_metres(wind, self._mapping.wind_height_m),
            radiation_mj=value(StationQuantity.RADIATION),
            et0_mm=value(StationQuantity.ET0),
        )
        return found if found.holds_anything else None
