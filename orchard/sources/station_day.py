"""One day of measured weather, and what no day can be."""

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.translation import gettext

from orchard.languages import localised
from orchard.sources.station_columns import StationQuantity

OLDEST = date(1800, 1, 1)

BOUNDS: dict[StationQuantity, tuple[float, float, str]] = {
    # Quality bounds for a station's day; the world's records are -89 and 57 degC and
    # 1825 mm, but far outside what trees bear (common practice, no source).
    StationQuantity.TMIN: (-60.0, 55.0, "°C"),
    StationQuantity.TMAX: (-60.0, 55.0, "°C"),
    StationQuantity.TEMPERATURE: (-60.0, 55.0, "°C"),
    StationQuantity.RAIN: (0.0, 500.0, "mm"),
    StationQuantity.HUMIDITY: (0.0, 105.0, "%"),
    StationQuantity.WIND: (0.0, 75.0, "m/s"),
    # The sun above the atmosphere gives at most 45 MJ m-2 d-1 (FAO-56, table 2.6).
    StationQuantity.RADIATION: (0.0, 45.0, "MJ/m²"),
    StationQuantity.ET0: (-1.0, 20.0, "mm"),
}


@dataclass(frozen=True, slots=True)
class StationDay:
    """One day in SI units; ``None`` is a value the file does not have.

    ``wind_ms`` is at 2 m, whatever the height it was measured at.
    """

    day: date
    tmin_c: float | None
    tmax_c: float | None
    rain_mm: float | None
    humidity_percent: float | None = None
    wind_ms: float | None = None
    radiation_mj: float | None = None
    et0_mm: float | None = None

    @property
    def holds_anything(self) -> bool:
        """Whether anything at all is known of it."""
        values = (self.tmin_c, self.tmax_c, self.rain_mm, self.humidity_percent)
        others = (self.wind_ms, self.radiation_mj, self.et0_mm)
        return any(value is not None for value in (*values, *others))


@dataclass(frozen=True, slots=True)
class Gap:
    """Days that a record skips, first and last."""

    first: date
    last: date

    @property
    def days(self) -> int:
        """How many days are missing."""
        return (self.last - self.first).days + 1


def gaps_between(days: Sequence[StationDay]) -> Iterator[Gap]:
    """Yield what days in order leave out between the first and the last."""
    one = timedelta(days=1)
    for before, after in itertools.pairwise(days):
        if after.day - before.day > one:
            yield Gap(before.day + one, after.day - one)


def value_problem(quantity: StationQuantity, value: float) -> str:
    """Return why an SI value cannot be measured in a day, or an empty text."""
    low, high, unit = BOUNDS[quantity]
    return (
        ""
        if low <= value <= high
        else gettext("{value} {unit} is not possible").format(
            value=localised(f"{value:.1f}"), unit=unit
        )
    )


def swing_problem(tmin_c: float | None, tmax_c: float | None) -> str:
    """Return what is wrong between a day's extremes, or an empty text."""
    if tmin_c is None or tmax_c is None or tmin_c <= tmax_c:
        return ""
    return gettext("the high, {high} °C, is below the low, {low} °C").format(
        high=localised(f"{tmax_c:.1f}"), low=localised(f"{tmin_c:.1f}")
    )


def day_problem(day: date, today: date) -> str:
    """Return why nothing can have been measured on ``day``, or an empty text."""
    if day > today:
        return gettext("{day} is still to come; today is {today}").format(
            day=day, today=today
        )
    return (
        gettext("{day} is too long ago to be measured").format(day=day)
        if day < OLDEST
        else ""
    )
