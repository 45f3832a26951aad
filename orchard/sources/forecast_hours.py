"""What is forecast for hours, gathered into the days of a place.

A local day has 24 hours, or 23 or 25 where the clocks change; what spans midnight is
shared out by time. A day of which fewer than :data:`ENOUGH_HOURS` are known, such as
a day that has begun already, gets no value: half a day's rain is not its rain.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from orchard.sources.arriving import AskedPlace, ForecastDay, strange_answer
from orchard.sources.station_columns import StationQuantity
from orchard.sources.station_day import BOUNDS, swing_problem, value_problem
from orchard.sources.wind_height import at_two_metres

#: Hours of a day that make its extremes, sums and means (common practice, no source).
ENOUGH_HOURS = 20
#: No service forecasts further ahead by the hour.
MOST_DAYS = 17
#: The strongest gust ever measured is 113 m/s (World Meteorological Organization,
#: Barrow Island 1996; from memory).
STRONGEST_GUST_MS = 113.0
#: Services forecast wind at ten metres; days are kept with wind at two (FAO-56).
FORECAST_WIND_M, KEPT_WIND_M = 10.0, 2.0
_HOUR = 3600.0
#: A rounding below nothing, or a breath above saturation, is no mistake.
_SLACK = 1e-6

_CHECKED = {
    "tmin_c": StationQuantity.TMIN,
    "tmax_c": StationQuantity.TMAX,
    "rain_mm": StationQuantity.RAIN,
    "humidity_percent": StationQuantity.HUMIDITY,
    "wind_ms": StationQuantity.WIND,
    "radiation_mj": StationQuantity.RADIATION,
    "et0_mm": StationQuantity.ET0,
}
_MEANING = {
    "temperature": StationQuantity.TMIN,
    "rain": StationQuantity.RAIN,
    "humidity": StationQuantity.HUMIDITY,
    "wind": StationQuantity.WIND,
    "radiation": StationQuantity.RADIATION,
    "et0": StationQuantity.ET0,
}


@dataclass(slots=True)
class _Known:
    """What is known of one quantity on one day; seconds of time, sums in SI."""

    seconds: float = 0.0
    weighted: float = 0.0
    total: float = 0.0
    low: float | None = None
    high: float | None = None

    def meet(self, low: float | None, high: float | None) -> None:
        """Widen the extremes by what was met."""
        if low is not None:
            self.low = low if self.low is None else min(low, self.low)
        if high is not None:
            self.high = high if self.high is None else max(high, self.high)


@dataclass(slots=True)
class _Day:
    temperature: _Known = field(default_factory=_Known)
    rain: _Known = field(default_factory=_Known)
    humidity: _Known = field(default_factory=_Known)
    wind: _Known = field(default_factory=_Known)
    gust: _Known = field(default_factory=_Known)
    radiation: _Known = field(default_factory=_Known)
    et0: _Known = field(default_factory=_Known)
    given_low: float | None = None
    given_high: float | None = None


class LocalDays:
    """Spans of time in, days of a place out; what is over before today is dropped."""

    def __init__(self, place: AskedPlace) -> None:
        self._zone = place.zone
        self._first = place.today
        self._days: dict[date, _Day] = {}

    def hold(self, name: str, begin: datetime, end: datetime, value: float) -> None:
        """Let a temperature, humidity or wind hold from ``begin`` until ``end``."""
        _refuse_impossible(name, begin, value)
        for day, seconds in self._pieces(begin, end):
            known: _Known = getattr(day, name)
            known.seconds += seconds
            known.weighted += seconds * value
            known.meet(value, value)

    def add(self, name: str, begin: datetime, end: datetime, total: float) -> None:
        """Share out rain, sunshine or evapotranspiration that fell in a span."""
        _refuse_impossible(name, begin, total)
        whole = (end - begin).total_seconds()
        for day, seconds in self._pieces(begin, end):
            known: _Known = getattr(day, name)
            known.seconds += seconds
            known.total += total * seconds / whole

    def meet(
        self, begin: datetime, end: datetime, low: float | None, high: float | None
    ) -> None:
        """Take the lowest and highest temperature of a span.

        Of a span across midnight the highest is the day's before it and the lowest
        that of the day after: nights cool (common practice, no source). Where both
        are given the whole span counts as known.
        """
        for value in (low, high):
            if value is not None:
                _refuse_impossible("temperature", begin, value)
        pieces = list(self._pieces(begin, end))
        for day, seconds in pieces:
            day.temperature.seconds += seconds if None not in {low, high} else 0.0
        if not pieces:
            return
        is_begun = local_day(begin, self._zone) < self._first
        if not is_begun:
            pieces[0][0].temperature.meet(None, high)
        pieces[-1][0].temperature.meet(low, None)

    def give_low(self, day: date, low: float) -> None:
        """Take a day's lowest temperature that the service names as such."""
        found = self._on(day)
        if found is not None:
            known = found.given_low
            found.given_low = low if known is None else min(low, known)

    def give_high(self, day: date, high: float) -> None:
        """Take a day's highest temperature that the service names as such."""
        found = self._on(day)
        if found is not None:
            known = found.given_high
            found.given_high = high if known is None else max(high, known)

    def days(self) -> tuple[ForecastDay, ...]:
        """Return the days of which anything is known, checked.

        Raises
        ------
        SourceError
            For a value that no day can have.
        """
        found = (_forecast_day(day, self._days[day]) for day in sorted(self._days))
        return checked_days([day for day in found if day is not None])

    def _on(self, day: date) -> _Day | None:
        if not 0 <= (day - self._first).days < MOST_DAYS:
            return None
        return self._days.setdefault(day, _Day())

    def _pieces(self, begin: datetime, end: datetime) -> Iterator[tuple[_Day, float]]:
        begin = max(begin, midnight(self._first, self._zone))
        end = min(end, midnight(self._first + timedelta(days=MOST_DAYS), self._zone))
        while begin < end:
            day = local_day(begin, self._zone)
            until = min(end, midnight(day + timedelta(days=1), self._zone))
            found = self._on(day)
            if found is not None:
                yield found, (until - begin).total_seconds()
            begin = until


def midnight(day: date, zone: ZoneInfo) -> datetime:
    """Return when a local day begins, in UTC; also where the clocks change then."""
    return datetime.combine(day, time.min, zone).astimezone(UTC)


def local_day(at: datetime, zone: ZoneInfo) -> date:
    """Return the day of the calendar at a place."""
    return at.astimezone(zone).date()


def _refuse_impossible(name: str, begin: datetime, value: float) -> None:
    problem = ""
    if name == "gust":
        if not 0 <= value <= STRONGEST_GUST_MS:
            problem = f"a gust of {value:.1f} m/s is not possible"
    elif not -_SLACK < value < 0:
        problem = value_problem(_MEANING[name], value)
    if problem:
        message = f"for {begin:%Y-%m-%d %H:%M} UTC, {problem}"
        raise strange_answer(message)


def checked_days(days: list[ForecastDay]) -> tuple[ForecastDay, ...]:
    """Return the days if every value in them can be.

    Raises
    ------
    SourceError
        For a value out of bounds, a high below its low, or no day at all.
    """
    if not days:
        message = "it holds no forecast for today or later"
        raise strange_answer(message)
    return tuple(_checked(day) for day in days)


def _checked(day: ForecastDay) -> ForecastDay:
    problems = [
        value_problem(quantity, value)
        for name, quantity in _CHECKED.items()
        if (value := getattr(day, name)) is not None
    ]
    problems.append(swing_problem(day.tmin_c, day.tmax_c))
    if day.gust_ms is not None and not 0 <= day.gust_ms <= STRONGEST_GUST_MS:
        problems.append(f"a gust of {day.gust_ms:.1f} m/s is not possible")
    for problem in problems:
        if problem:
            message = f"for {day.day}, {problem}"
            raise strange_answer(message)
    return day


def _forecast_day(day: date, known: _Day) -> ForecastDay | None:
    wind = _mean(known.wind)
    hours = max(
        each.seconds / _HOUR
        for each in (known.temperature, known.rain, known.humidity, known.wind)
    )
    low, high = _extremes(known)
    found = ForecastDay(
        day=day,
        tmin_c=low,
        tmax_c=high,
        rain_mm=_total(known.rain),
        humidity_percent=_saturated(_mean(known.humidity)),
        wind_ms=None if wind is None else at_two_metres(wind, FORECAST_WIND_M),
        gust_ms=known.gust.high if _is_enough(known.gust) else None,
        radiation_mj=_total(known.radiation),
        et0_mm=_total(known.et0),
        hours=round(hours),
        wind_height_m=KEPT_WIND_M,
    )
    values = (getattr(found, name) for name in (*_CHECKED, "gust_ms"))
    return found if any(value is not None for value in values) else None


def _extremes(known: _Day) -> tuple[float | None, float | None]:
    """Return low and high: as named, widened by every hour that goes beyond."""
    air, low, high = known.temperature, known.given_low, known.given_high
    if _is_enough(air):
        low = air.low if low is None else low
        high = air.high if high is None else high
    if low is not None and air.low is not None:
        low = min(low, air.low)
    if high is not None and air.high is not None:
        high = max(high, air.high)
    if low is not None and high is not None and low > high:
        # Both are right where it gets colder by day than it was in the night before.
        return high, low
    return low, high


def _is_enough(known: _Known) -> bool:
    return known.seconds >= ENOUGH_HOURS * _HOUR - _SLACK


def _total(known: _Known) -> float | None:
    if not _is_enough(known):
        return None
    return 0.0 if -_SLACK < known.total < 0 else known.total


def _mean(known: _Known) -> float | None:
    return known.weighted / known.seconds if _is_enough(known) else None


def _saturated(humidity_percent: float | None) -> float | None:
    """Cut what is a little above saturation; more is left to be refused."""
    if (
        humidity_percent is None
        or humidity_percent > BOUNDS[StationQuantity.HUMIDITY][1]
    ):
        return humidity_percent
    return min(humidity_percent, 100.0)
