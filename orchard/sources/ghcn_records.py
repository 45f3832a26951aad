"""Records of the Global Historical Climatology Network (Daily): what its flags mean.

NOAA's archive of daily stations (Menne, Durre, Vose, Gleason and Houston 2012;
``ghcnd`` readme). A value with any quality flag failed a check and is left out. A
trace of rain is none; rain that was only presumed to be zero is not known; rain that
was read after several days is no day's own.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from django.utils.translation import gettext, gettext_noop

from orchard.sources.problems import SourceProblem
from orchard.sources.station_columns import StationQuantity
from orchard.sources.station_day import (
    Gap,
    StationDay,
    day_problem,
    gaps_between,
    swing_problem,
    value_problem,
)
from orchard.sources.wind_height import at_two_metres

MISSING = -9999
TRACE, PRESUMED_ZERO = "T", "P"
#: Rain added up from hourly reports of another archive, which often lack some.
FROM_REPORTS = "S"
#: Where stations of weather services measure wind: ten metres (WMO-No. 8, 1.3).
USUAL_WIND_M = 10.0
MOST_DAYS_TOGETHER = 366
#: Who reads a thermometer then reads yesterday's high.
MORNING = ("0400", "1100")

QUANTITIES = {
    "TMIN": StationQuantity.TMIN,
    "TMAX": StationQuantity.TMAX,
    "PRCP": StationQuantity.RAIN,
    "RHAV": StationQuantity.HUMIDITY,
    "AWND": StationQuantity.WIND,
}
#: Rain of several days together, and of how many.
RAIN_TOGETHER, DAYS_TOGETHER = "MDPR", "DAPR"
USED = frozenset({*QUANTITIES, RAIN_TOGETHER, DAYS_TOGETHER})

#: What failed, by the quality flag (readme of GHCN-Daily, section III).
CHECKS = {
    "D": gettext_noop("the same as another day's"),
    "G": gettext_noop("far from all others (gap)"),
    "I": gettext_noop("against the day's other values"),
    "K": gettext_noop("the same again and again"),
    "L": gettext_noop("of an unclear number of days"),
    "M": gettext_noop("impossible (mega-consistency)"),
    "N": gettext_noop("zeros that mean nothing was read"),
    "O": gettext_noop("far from the usual (outlier)"),
    "R": gettext_noop("too far from the day before"),
    "S": gettext_noop("against the stations around"),
    "T": gettext_noop("a jump in time"),
    "W": gettext_noop("too warm for snow"),
    "X": gettext_noop("out of bounds"),
    "Z": gettext_noop("found wrong by people"),
}


@dataclass(frozen=True, slots=True)
class ArchiveValue:
    """One value of one station's day in SI, with its three flags.

    ``time`` is when the observer read it, ``HHMM``, where the file says so.
    """

    day: date
    element: str
    value: float
    mark: str = ""
    quality: str = ""
    source: str = ""
    line: int = 0
    time: str = ""


@dataclass(frozen=True, slots=True)
class ArchiveStation:
    """A station; what a file does not say of it is ``None`` or empty."""

    station_id: str
    name: str = ""
    latitude_deg: float | None = None
    longitude_deg: float | None = None
    elevation_m: float | None = None


@dataclass(frozen=True, slots=True)
class StationRecord:
    """What one station's record holds, and what was left out of it and why.

    ``failed`` counts values by their quality flag, ``impossible`` those that no day can
    have, ``together`` the days whose rain was read after several, ``presumed`` those
    whose rain nobody read, ``from_reports`` those added up from hourly reports, which
    are kept, and ``mornings`` the highs that an observer read in the morning, so that
    they are mostly of the day before. ``wind_ms`` of the days is at 2 m.
    """

    station: ArchiveStation
    days: tuple[StationDay, ...]
    failed: Mapping[str, int]
    impossible: int
    together: int
    presumed: int
    traces: int
    from_reports: int
    mornings: int = 0

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """The days between its first and its last that hold nothing."""
        return tuple(gaps_between(self.days))

    @property
    def missing_days(self) -> int:
        """How many days are in those gaps."""
        return sum(gap.days for gap in self.gaps)

    @property
    def missing_values(self) -> int:
        """How many lows, highs and rains its days lack."""
        return sum(
            value is None
            for day in self.days
            for value in (day.tmin_c, day.tmax_c, day.rain_mm)
        )


@dataclass(slots=True)
class RecordMaker:
    """Takes a station's values in any order."""

    station: ArchiveStation
    values: dict[tuple[date, str], ArchiveValue] = field(default_factory=dict)

    @property
    def has_wind(self) -> bool:
        """Whether wind was measured."""
        return any(element == "AWND" for _, element in self.values)

    def take(self, found: ArchiveValue) -> SourceProblem | None:
        """Take one value; tell where the same day has another one already."""
        if found.element not in USED:
            return None
        known = self.values.setdefault((found.day, found.element), found)
        if known.value == found.value and known.quality == found.quality:
            return None
        message = gettext(
            "{element} of {day} is on line {line} already, with another value"
        ).format(element=found.element, day=found.day, line=known.line)
        return SourceProblem(found.line, "", message)

    def record(self, today: date, wind_height_m: float = USUAL_WIND_M) -> StationRecord:
        """Return the record as it is known on ``today``, flags heeded."""
        reading = _Reading(self, today, wind_height_m)
        return reading.record()


class _Reading:
    """One pass over a station's values."""

    def __init__(self, maker: RecordMaker, today: date, wind_height_m: float) -> None:
        self._maker = maker
        self._today = today
        self._wind_height_m = wind_height_m
        self._days: dict[date, dict[StationQuantity, float]] = {}
        self._failed: Counter[str] = Counter()
        self._counts: Counter[str] = Counter()

    def record(self) -> StationRecord:
        together = self._days_together()
        for (day, element), found in sorted(self._maker.values.items()):
            quantity = QUANTITIES.get(element)
            if quantity is None or not self._is_good(found, quantity, together):
                continue
            self._days.setdefault(day, {})[quantity] = found.value
        days = tuple(self._day(day) for day in sorted(self._days))
        return StationRecord(
            station=self._maker.station,
            days=tuple(day for day in days if day.holds_anything),
            failed=dict(sorted(self._failed.items())),
            impossible=self._counts["impossible"],
            together=len(together),
            presumed=self._counts["presumed"],
            traces=self._counts["traces"],
            from_reports=self._counts["from_reports"],
            mornings=self._counts["mornings"],
        )

    def _days_together(self) -> set[date]:
        """Return the days whose rain was read together with that of others."""
        found: set[date] = set()
        for (day, element), total in self._maker.values.items():
            if element != RAIN_TOGETHER or day_problem(day, self._today):
                continue
            count = self._maker.values.get((day, DAYS_TOGETHER))
            days = 1 if count is None else int(count.value)
            for back in range(min(max(days, 1), MOST_DAYS_TOGETHER)):
                found.add(total.day - timedelta(days=back))
        return found

    def _is_good(
        self, found: ArchiveValue, quantity: StationQuantity, together: set[date]
    ) -> bool:
        if found.quality:
            self._failed[found.quality] += 1
            return False
        is_rain = quantity is StationQuantity.RAIN
        if is_rain and found.day in together:
            return False
        if is_rain and found.mark == PRESUMED_ZERO:
            self._counts["presumed"] += 1
            return False
        if value_problem(quantity, found.value) or day_problem(found.day, self._today):
            self._counts["impossible"] += 1
            return False
        is_morning = MORNING[0] <= found.time <= MORNING[1]
        self._counts["mornings"] += quantity is StationQuantity.TMAX and is_morning
        self._counts["traces"] += is_rain and found.mark == TRACE
        self._counts["from_reports"] += is_rain and found.source == FROM_REPORTS
        return True

    def _day(self, day: date) -> StationDay:
        values = self._days[day]
        low, high = values.get(StationQuantity.TMIN), values.get(StationQuantity.TMAX)
        if swing_problem(low, high):
            self._counts["impossible"] += 2
            low = high = None
        wind = values.get(StationQuantity.WIND)
        humidity = values.get(StationQuantity.HUMIDITY)
        return StationDay(
            day=day,
            tmin_c=low,
            tmax_c=high,
            rain_mm=values.get(StationQuantity.RAIN),
            humidity_percent=None if humidity is None else min(humidity, 100.0),
            wind_ms=None if wind is None else at_two_metres(wind, self._wind_height_m),
        )
