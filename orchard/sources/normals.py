"""Twelve monthly means, and the daily curve that stands in until something better.

The curve of a temperature is a straight line from mid-month to mid-month whose
monthly means equal the given ones exactly. Rain is spread the same way, never below
nothing. Smooth normals have no cold nights and no dry spells: frost dates and
droughts cannot come from them.
"""

import calendar
import math
from dataclasses import dataclass
from datetime import date

import numpy as np
from django.utils.translation import gettext
from numpy.typing import NDArray

from orchard.languages import localised, month_name
from orchard.sources.problems import SourceError, SourceProblem

Array = NDArray[np.float64]

MONTH_NAMES = (
    *("January", "February", "March", "April", "May", "June", "July"),
    *("August", "September", "October", "November", "December"),
)
MONTHS = len(MONTH_NAMES)
LEAP_YEAR = 2000

# Bounds of a mean month: no station exceeds them. Mean July high in Death Valley
# 47 degC, mean January low in Oymyakon -50 degC, wettest mean month in Mawsynram
# about 3000 mm and year 11 900 mm (all from memory).
COLDEST_C, WARMEST_C = -60.0, 50.0
WETTEST_MONTH_MM, WETTEST_YEAR_MM = 3500.0, 13_000.0
# Common practice, no source: high deserts swing by some 25 degC in a mean day.
WIDEST_SWING_C = 35.0


@dataclass(frozen=True, slots=True)
class MonthProblem:
    """What is wrong with one typed value; ``field`` is ``tmin``, ``tmax``, ``rain``.

    ``month`` is 1 to 12, or 0 for the year as a whole.
    """

    month: int
    field: str
    message: str


class NormalsError(SourceError):
    """Twelve months that cannot be a climate; ``months`` says which values."""

    def __init__(self, months: list[MonthProblem]) -> None:
        super().__init__(*(SourceProblem(0, _place(p), p.message) for p in months))
        self.months = tuple(months)


@dataclass(frozen=True, slots=True)
class NormalsTable:
    """Means of twelve calendar months, January first; checked when made.

    ``tmin_c`` and ``tmax_c`` are mean daily extremes [degC], ``rain_mm`` monthly
    totals [mm].

    Raises
    ------
    NormalsError
        With every value that is missing, impossible or contradicts another.
    """

    tmin_c: tuple[float, ...]
    tmax_c: tuple[float, ...]
    rain_mm: tuple[float, ...]

    def __post_init__(self) -> None:
        problems = normals_problems(self.tmin_c, self.tmax_c, self.rain_mm)
        if problems:
            raise NormalsError(problems)


@dataclass(frozen=True, slots=True, eq=False)
class DailyNormals:
    """A normal year: arrays of 366 values, one for each day of a LEAP year.

    1 March has the same place in every year, so a common year skips one value.
    """

    tmin_c: Array
    tmax_c: Array
    rain_mm: Array

    @staticmethod
    def index(day: date) -> int:
        """Return the place of ``day`` in the arrays, 0 to 365."""
        return day.replace(year=LEAP_YEAR).timetuple().tm_yday - 1


def daily_normals(table: NormalsTable) -> DailyNormals:
    """Spread twelve monthly means over the days of a leap year.

    Monthly means (temperature) and totals (rain) of the curve equal the table's, but
    where high and low would cross they meet halfway. Rain is never negative.
    """
    days = _days_of_months(LEAP_YEAR)
    tmin_c = mean_preserving_curve(np.array(table.tmin_c), days)
    tmax_c = mean_preserving_curve(np.array(table.tmax_c), days)
    rain_mm = _rain_curve(np.array(table.rain_mm), days)
    middle_c = (tmin_c + tmax_c) / 2
    half_swing_c = np.maximum(tmax_c - tmin_c, 0.0) / 2
    return DailyNormals(middle_c - half_swing_c, middle_c + half_swing_c, rain_mm)


def mean_preserving_curve(means: Array, days_of_months: Array) -> Array:
    """Return a daily curve, linear from mid-month to mid-month, with these means.

    Parameters
    ----------
    means : array (12,)
        Monthly means, January first.
    days_of_months : array (12,)
        Lengths of the months [d].

    Returns
    -------
    array (sum of days_of_months,)
        Values at the middle of each day; the mean of each month is exact.

    Notes
    -----
    The mean of a month is linear in the values at the middle of that month and its
    neighbours, so the twelve mid-month values solve a linear system. Repeatedly
    adding what each month's mean lacks, the usual way, converges to the same curve.
    """
    weights = _interpolation_weights(days_of_months)
    starts = _month_starts(days_of_months)
    month_weights = np.add.reduceat(weights, starts, axis=0) / days_of_months[:, None]
    curve: Array = weights @ np.linalg.solve(month_weights, means)
    return curve


def normals_problems(
    tmin_c: tuple[float, ...], tmax_c: tuple[float, ...], rain_mm: tuple[float, ...]
) -> list[MonthProblem]:
    """Return what is wrong with twelve months of means, month by month.

    NaN stands for a value that was not given.
    """
    if not len(tmin_c) == len(tmax_c) == len(rain_mm) == MONTHS:
        counts = gettext("{lows}, {highs} and {rains}").format(
            lows=len(tmin_c), highs=len(tmax_c), rains=len(rain_mm)
        )
        message = gettext(
            "there must be 12 lows, 12 highs and 12 rains, not {counts}"
        ).format(counts=counts)
        return [MonthProblem(0, "", message)]
    problems: list[MonthProblem] = []
    for month, values in enumerate(zip(tmin_c, tmax_c, rain_mm, strict=True), 1):
        problems += _month_problems(month, *values)
    if not problems and sum(rain_mm) > WETTEST_YEAR_MM:
        message = gettext(
            "{amount} mm of rain in a year is not possible; were millimetres read "
            "as inches?"
        ).format(amount=f"{sum(rain_mm):.0f}")
        problems.append(MonthProblem(0, "rain", message))
    return problems


def _month_problems(
    month: int, tmin_c: float, tmax_c: float, rain_mm: float
) -> list[MonthProblem]:
    messages = {
        "tmin": _temperature_problem(tmin_c),
        "tmax": _temperature_problem(tmax_c),
        "rain": _rain_problem(rain_mm),
    }
    if not messages["tmin"] and not messages["tmax"]:
        messages["tmax"] = _swing_problem(tmin_c, tmax_c)
    return [MonthProblem(month, name, text) for name, text in messages.items() if text]


def _temperature_problem(temp_c: float) -> str:
    if not math.isfinite(temp_c):
        return gettext("is missing")
    if not COLDEST_C <= temp_c <= WARMEST_C:
        return gettext(
            "a mean of {temperature} °C is not possible; is it °C or °F?"
        ).format(temperature=f"{temp_c:.0f}")
    return ""


def _swing_problem(tmin_c: float, tmax_c: float) -> str:
    if tmax_c < tmin_c:
        return gettext("the high, {high} °C, is below the low, {low} °C").format(
            high=localised(f"{tmax_c:.1f}"), low=localised(f"{tmin_c:.1f}")
        )
    if tmax_c - tmin_c > WIDEST_SWING_C:
        swing = gettext("from {low} to {high} °C").format(
            low=f"{tmin_c:.0f}", high=f"{tmax_c:.0f}"
        )
        return gettext(
            "{swing} is too far for a mean day; are both in one unit?"
        ).format(swing=swing)
    return ""


def _rain_problem(rain_mm: float) -> str:
    if not math.isfinite(rain_mm):
        return gettext("is missing; write 0 for a month without rain")
    if rain_mm < 0:
        return gettext("rain cannot be below 0")
    if rain_mm > WETTEST_MONTH_MM:
        return gettext(
            "{amount} mm of rain in a month is not possible; were millimetres "
            "read as inches?"
        ).format(amount=f"{rain_mm:.0f}")
    return ""


def _place(problem: MonthProblem) -> str:
    month = month_name(problem.month) if problem.month else ""
    names = {"tmin": gettext("low"), "tmax": gettext("high"), "rain": gettext("rain")}
    name = names.get(problem.field, problem.field)
    return f"{month} {name}".strip()


def _days_of_months(year: int) -> Array:
    lengths = [calendar.monthrange(year, month)[1] for month in range(1, MONTHS + 1)]
    return np.array(lengths, dtype=float)


def _month_starts(days_of_months: Array) -> NDArray[np.intp]:
    ends = np.cumsum(days_of_months).astype(np.intp)
    return np.concatenate([np.zeros(1, dtype=np.intp), ends[:-1]])


def _interpolation_weights(days_of_months: Array) -> Array:
    """Return (days, 12): how much each mid-month value counts on each day."""
    total = float(days_of_months.sum())
    middles = _month_starts(days_of_months) + days_of_months / 2
    days = np.arange(total) + 0.5
    columns = [np.interp(days, middles, unit, period=total) for unit in np.eye(MONTHS)]
    return np.stack(columns, axis=1)


def _rain_curve(totals_mm: Array, days_of_months: Array) -> Array:
    """Return daily rain; where a line would fall below 0, the month is rescaled."""
    curve = mean_preserving_curve(totals_mm / days_of_months, days_of_months)
    positive = np.maximum(curve, 0.0)
    sums = np.add.reduceat(positive, _month_starts(days_of_months))
    shares = np.divide(totals_mm, sums, out=np.zeros(MONTHS), where=sums > 0)
    daily: Array = positive * np.repeat(shares, days_of_months.astype(np.intp))
    return daily
