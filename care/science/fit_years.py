"""The years a kind is tried in: chill, nights and warmth of every winter and spring.

Observed and made-up years have one shape, so that every verdict is reckoned alike.
Rows are care years, which begin on 1 November, in the south on 1 May.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from statistics import NormalDist

import numpy as np

from care.facts import Array
from care.facts.fit import FitBasis
from care.science.chill import dynamic_portions, hours_between
from care.science.extreme_cold import EXTREME_SPREAD_C, NORMAL_YEARS
from care.science.heat import growing_degree_hours
from care.science.hourly import NightCurve, hourly_temperatures_c

YEAR_DAYS = 365
WINTER_DAYS = 151  # 1 November to 31 March; a leap day's night is left out
SOUTHERN_WINTER_DAYS = 153  # 1 May to 30 September
# Of generated years the coldest night is 1.7 degrees too mild (as measured in
# care.science.weather_generator). Their springs are not: of 300 years made from
# Seattle's record the lowest nights of fortnights from February to mid-April lie within
# 0.7 degrees of the record's own, on average 0.1 below.
TOO_MILD_C = 1.7
# What a person calls free of frost has no night at 0 degC; made-up nights keep to it.
FROST_FREE_LEAST_C = 0.1


@dataclass(frozen=True, slots=True, eq=False)
class FitYears:
    """What some years bring a plant.

    Parameters
    ----------
    basis : FitBasis
    chill_hours, portions : arrays (night curves, winters)
        Of whole winters; the two curves are the ends of a range.
    minima_c : array (years,)
        Annual extreme minima [degC]; there may be more or fewer than winters.
    tmin_c, chill_by_day, warmth_by_day : arrays (rows, 365)
        Nights [degC], hours of 0 to 7.2 degC and growing degree hours from the first
        day of the care year on, NaN where unknown; by the continuous night.
    starts : tuple of datetime.date
        The first day of each row.
    hot_days : float or None
        Mean days a year above 30 degC.
    """

    basis: FitBasis
    chill_hours: Array
    portions: Array
    minima_c: Array
    tmin_c: Array
    chill_by_day: Array
    warmth_by_day: Array
    starts: tuple[date, ...]
    hot_days: float | None = None

    @property
    def usual_hours(self) -> float:
        """The middle of the winters, halfway between the night curves [h]."""
        return float(np.median(self.chill_hours.mean(axis=0)))

    @property
    def coldest_c(self) -> float:
        """The coldest night of all years [degC]."""
        return float(self.minima_c.min())

    @property
    def reckoned_c(self) -> float:
        """The coldest night to reckon with in thirty years [degC]."""
        return self.coldest_c - colder_in_thirty_years_c(len(self.minima_c))


@dataclass(frozen=True, slots=True, eq=False)
class YearsOfDays:
    """Temperatures of some care years, arrays (rows, 367), a day before and after.

    NaN where unknown; ``starts`` as of :class:`FitYears`.
    """

    tmin_c: Array
    tmax_c: Array
    starts: tuple[date, ...]


@dataclass(frozen=True, slots=True, eq=False)
class DailyWorths:
    """Worth of every day; arrays (night curves, rows, 365) and (rows, 365)."""

    chill_hours: Array
    portions: Array
    warmth: Array


def colder_in_thirty_years_c(years: int) -> float:
    """Return how much colder thirty years likely get than the coldest of some [degC].

    Means of the lowest of so many normal values, by Blom's (1958) approximation of
    order statistics, times the usual spread of such minima, 2.5 degC, from memory.
    """
    most, known = (
        NormalDist().inv_cdf((count - 0.375) / (count + 0.25))
        for count in (NORMAL_YEARS, max(years, 1))
    )
    return max(most - known, 0.0) * EXTREME_SPREAD_C


def winter_days(*, southern: bool) -> int:
    """Return the days of the chill season at the head of a care year."""
    return SOUTHERN_WINTER_DAYS if southern else WINTER_DAYS


def daily_worths(days: YearsOfDays, latitude_deg: float) -> DailyWorths:
    """Return chill and warmth of every day of some care years.

    Parameters
    ----------
    days : YearsOfDays
        The days before and after a row shape its first and last nights. A day whose
        low lies above its high counts as unknown.
    latitude_deg : float
        South negative [deg].
    """
    is_sound = days.tmin_c <= days.tmax_c
    low = np.where(is_sound, days.tmin_c, np.nan)
    high = np.where(is_sound, days.tmax_c, np.nan)
    numbers = [_day_numbers(start, low.shape[1]) for start in days.starts]
    rows = range(len(low))
    hours = np.array(
        [
            [
                hourly_temperatures_c(
                    low[row], high[row], latitude_deg, numbers[row], night
                )[1 : YEAR_DAYS + 1]
                for row in rows
            ]
            for night in NightCurve
        ]
    )  # (curves, rows, days, 24)
    season = winter_days(southern=latitude_deg < 0)
    return DailyWorths(
        chill_hours=hours_between(hours).sum(axis=3),
        portions=_portions(hours[:, :, :season]),
        warmth=growing_degree_hours(
            hours[list(NightCurve).index(NightCurve.CONTINUOUS)]
        ).sum(axis=2),
    )


def _portions(hours: Array) -> Array:
    """Return the portions of each day, (curves, rows, days), 0 where unknown."""
    in_order = np.moveaxis(hours, (2, 3), (0, 1))
    running = in_order.reshape(-1, *in_order.shape[2:])
    worth = np.nan_to_num(dynamic_portions(running)[0])
    return np.asarray(
        np.moveaxis(worth.reshape(in_order.shape).sum(axis=1), 0, 2),
    )


def _day_numbers(start: date, count: int) -> Array:
    """Return the days of the year from the day before ``start`` on."""
    first = np.datetime64(start, "D") - 1
    days = first + np.arange(count)
    return np.asarray((days - days.astype("datetime64[Y]")).astype(np.float64) + 1)


def made_up_minima_c(lows_c: Array, *, is_frost_free: bool) -> Array:
    """Return the annual extreme minima of made-up years, set right for their mildness.

    Parameters
    ----------
    lows_c : array (rows, days)
    is_frost_free : bool
        Somebody says that the place has no frost: no night goes to 0 degC.
    """
    minima_c = lows_c.min(axis=1) - TOO_MILD_C
    floor_c = FROST_FREE_LEAST_C if is_frost_free else -np.inf
    return np.asarray(np.maximum(minima_c, floor_c))


def months_of(starts: Sequence[date]) -> Array:
    """Return the calendar month of each column of a row, 1 to 12; (365,)."""
    days = np.datetime64(starts[0], "D") + np.arange(YEAR_DAYS)
    return np.asarray(days.astype("datetime64[M]").astype(np.int64) % 12 + 1)
