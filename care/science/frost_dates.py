"""Frost dates from years of daily minima.

A frost year has two halves: from midwinter to midsummer, in which the last spring
frost is looked for, and from midsummer to midwinter, in which the first autumn frost
is. It bears the name of the year in which it begins: 1 January in the north, 1 July in
the south. Days are numbered within it as in a year without a 29 February, so that a
number always is the same day of the calendar.

Sources: NOAA climate normals, probabilities of freeze dates (U.S. NCDC, Climatography
of the U.S. No. 20): a mixed distribution, of whether there is a frost at all, and of
its date when there is.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from math import ceil, floor
from statistics import NormalDist
from typing import Literal

import numpy as np

from care.facts import Array, MonthDay

MINIMUM_YEARS = 10  # for a probability; with fewer only the extremes say anything
MOST_MISSING_DAYS = 5  # in half a year; ours
TIE = 1e-9  # in degrees, days and shares: sums of decimals miss by the last digit
COMMON_YEAR = 2001  # has no 29 February


class DateFit(StrEnum):
    """How dates between and beyond those seen are judged.

    ``NORMAL`` fits a normal distribution; the others read the dates themselves:
    ``EMPIRICAL`` between the order statistics (Hyndman and Fan's type 7), ``WEIBULL``
    at the plotting positions k / (n + 1), which reaches farther.
    """

    NORMAL = "normal"
    EMPIRICAL = "empirical"
    WEIBULL = "weibull"


@dataclass(frozen=True, slots=True)
class FrostYear:
    """The frosts of one year at one threshold; ``None`` where there was none.

    ``is_spring_known`` and ``is_autumn_known`` tell whether so few days of that half
    are missing that having no frost, or a frost date, can be believed.
    """

    year: int
    last_spring: date | None
    first_autumn: date | None
    is_spring_known: bool
    is_autumn_known: bool

    @property
    def is_known(self) -> bool:
        """Whether both halves are."""
        return self.is_spring_known and self.is_autumn_known

    @property
    def season_days(self) -> int | None:
        """Days between the two frosts, neither counted; ``None`` if not both known."""
        if self.last_spring is None or self.first_autumn is None or not self.is_known:
            return None
        return (self.first_autumn - self.last_spring).days - 1


def reported_threshold_c(threshold_c: float) -> float:
    """Return a threshold as a record in tenths of a degree reports it [degC].

    28 degF is -2.222 degC but is written -2.2, and would never be met: on the printed
    record a hard freeze would vanish.
    """
    return round(threshold_c, 1)


def frost_years(
    start: date, tmin_c: Array, threshold_c: float, *, southern: bool
) -> tuple[FrostYear, ...]:
    """Return last and first frosts of every frost year that the record touches.

    Parameters
    ----------
    start : datetime.date
        First day of the record.
    tmin_c : array, shape (days,)
        Daily minima [degC]; NaN where missing.
    threshold_c : float
        At or below it is a frost; read in tenths of a degree. NOAA uses 36, 32, 28, 24,
        20 and 16 degF.
    southern : bool
        Splits the year at 31 January instead of 31 July.
    """
    tmin = np.asarray(tmin_c, dtype=np.float64)
    end = start + timedelta(days=len(tmin) - 1)
    limit_c = reported_threshold_c(threshold_c) + TIE
    years = []
    for year in range(start.year - 1, end.year + 1):
        first, middle, following = frost_halves(year, southern=southern)
        if following <= start or first > end:
            continue
        springs, is_spring_known = _frosts_between(start, tmin, limit_c, first, middle)
        autumns, is_autumn_known = _frosts_between(
            start, tmin, limit_c, middle, following
        )
        years.append(
            FrostYear(
                year=year,
                last_spring=springs[-1] if springs else None,
                first_autumn=autumns[0] if autumns else None,
                is_spring_known=is_spring_known,
                is_autumn_known=is_autumn_known,
            )
        )
    return tuple(years)


def day_number(day: date, *, southern: bool) -> int:
    """Return the number of a day in its frost year, from 1; 29 February is the 28th."""
    in_common = MonthDay(day.month, day.day).in_year(COMMON_YEAR)
    first = date(COMMON_YEAR, 7, 1) if southern else date(COMMON_YEAR, 1, 1)
    return (in_common - first).days % 365 + 1


def month_day(number: float, *, southern: bool, is_spring: bool) -> MonthDay:
    """Return the calendar day of a day number, part days rounded to the safe side.

    That is later in spring and earlier in autumn.
    """
    whole = ceil(number - TIE) if is_spring else floor(number + TIE)
    first = date(COMMON_YEAR, 7, 1) if southern else date(COMMON_YEAR, 1, 1)
    day = first + timedelta(days=(whole - 1) % 365)
    return MonthDay(day.month, day.day)


def day_of_later_frost(
    values: Array,
    years: int,
    probability: float,
    fit: DateFit = DateFit.NORMAL,
) -> float | None:
    """Return the date after which a frost still comes with a probability.

    Parameters
    ----------
    values : array, shape (events,)
        Day numbers of the years that had a frost.
    years : int
        All years looked at, with those that had none.
    probability : float, 0-1
        In any year, of a later frost.
    fit : DateFit
        How to judge beyond the dates seen.

    Returns
    -------
    float or None
        For spring, a probability of 0.1 gives the date that is safe nine years in
        ten. ``None`` where a frost is no more likely than the probability: it does
        not occur that often.

    Raises
    ------
    ValueError
        If the probability is not between 0 and 1, or there are more events than years.
    """
    occurring = _share_that_occur(values, years, probability)
    if probability >= occurring - TIE:
        return None
    return _quantile(values, 1 - probability / occurring, fit)


def day_of_earlier_frost(
    values: Array,
    years: int,
    probability: float,
    fit: DateFit = DateFit.NORMAL,
) -> float | None:
    """Return the date before which a frost comes with a probability.

    As :func:`day_of_later_frost`, the other way round: for the first frost of autumn a
    probability of 0.1 gives the date before which frost comes one year in ten.
    """
    occurring = _share_that_occur(values, years, probability)
    if probability >= occurring - TIE:
        return None
    return _quantile(values, probability / occurring, fit)


def season_exceeded(
    lengths_days: Array,
    years: int,
    probability: float,
    fit: DateFit = DateFit.NORMAL,
) -> float | None:
    """Return the length of the frost-free season that is exceeded with a probability.

    Parameters as of :func:`day_of_later_frost`; years that are not among the lengths
    had a season without an end.

    Returns
    -------
    float or None
        Days; ``None`` where seasons without an end are that frequent.
    """
    occurring = _share_that_occur(lengths_days, years, probability)
    if probability <= 1 - occurring + TIE:
        return None
    return _quantile(lengths_days, (1 - probability) / occurring, fit)


@dataclass(frozen=True, slots=True)
class FrostDates:
    """Frost dates of a place at one threshold and one probability.

    ``None`` for a date: a frost does not occur that often, or fewer than ten years are
    known, in which case the latest and earliest seen are all that can be said. ``None``
    for the season likewise, or because it has no end that often.
    """

    last_spring: MonthDay | None
    first_autumn: MonthDay | None
    season_days: float | None
    latest_spring_seen: MonthDay | None
    earliest_autumn_seen: MonthDay | None
    spring_years: int
    autumn_years: int


def frost_dates(
    years: tuple[FrostYear, ...],
    probability: float,
    fit: DateFit = DateFit.NORMAL,
    *,
    southern: bool,
) -> FrostDates:
    """Return the dates with a probability of frost past them, and the extremes seen.

    Parameters
    ----------
    years : tuple of FrostYear
        At one threshold; halves with too many days missing say nothing of
        probabilities, but their frosts were seen.
    probability : float, 0-1
        Of a later spring frost, of an earlier autumn frost and of a longer season.
    fit : DateFit
        How to judge beyond the dates seen.
    southern : bool
        As the years were split.
    """
    known_springs = [year for year in years if year.is_spring_known]
    known_autumns = [year for year in years if year.is_autumn_known]
    springs = _numbers([year.last_spring for year in known_springs], southern=southern)
    autumns = _numbers([year.first_autumn for year in known_autumns], southern=southern)
    known = [year for year in years if year.is_known]
    seasons = [year.season_days for year in known if year.season_days is not None]
    last = first = season = None
    if len(known_springs) >= MINIMUM_YEARS:
        last = day_of_later_frost(springs, len(known_springs), probability, fit)
    if len(known_autumns) >= MINIMUM_YEARS:
        first = day_of_earlier_frost(autumns, len(known_autumns), probability, fit)
    if len(known) >= MINIMUM_YEARS:
        lengths = np.asarray(seasons, dtype=np.float64)
        season = season_exceeded(lengths, len(known), probability, fit)
    seen = _numbers([year.last_spring for year in years], southern=southern)
    latest = float(seen.max()) if seen.size else None
    seen = _numbers([year.first_autumn for year in years], southern=southern)
    earliest = float(seen.min()) if seen.size else None
    return FrostDates(
        last_spring=_as_month_day(last, southern=southern, is_spring=True),
        first_autumn=_as_month_day(first, southern=southern, is_spring=False),
        season_days=season,
        latest_spring_seen=_as_month_day(latest, southern=southern, is_spring=True),
        earliest_autumn_seen=_as_month_day(
            earliest, southern=southern, is_spring=False
        ),
        spring_years=len(known_springs),
        autumn_years=len(known_autumns),
    )


def frost_halves(year: int, *, southern: bool) -> tuple[date, date, date]:
    """Return the first days of a frost year, of its second half and of the next year."""
    if southern:
        return date(year, 7, 1), date(year + 1, 2, 1), date(year + 1, 7, 1)
    return date(year, 1, 1), date(year, 8, 1), date(year + 1, 1, 1)


def _frosts_between(
    start: date, tmin: Array, limit_c: float, first: date, following: date
) -> tuple[list[date], bool]:
    """Return the frosts of half a year, and whether enough of its days were read."""
    place = max((first - start).days, 0)
    within = tmin[place : max((following - start).days, place)]
    found = np.flatnonzero(within <= limit_c)
    missing = (following - first).days - int(np.sum(~np.isnan(within)))
    days = [start + timedelta(days=place + int(later)) for later in found]
    return days, missing <= MOST_MISSING_DAYS


def _numbers(days: list[date | None], *, southern: bool) -> Array:
    numbers = [day_number(day, southern=southern) for day in days if day is not None]
    return np.asarray(numbers, dtype=np.float64)


def _as_month_day(
    number: float | None, *, southern: bool, is_spring: bool
) -> MonthDay | None:
    if number is None:
        return None
    return month_day(number, southern=southern, is_spring=is_spring)


def _share_that_occur(values: Array, years: int, probability: float) -> float:
    if not 0 < probability < 1:
        message = f"not a probability between 0 and 1: {probability}"
        raise ValueError(message)
    if len(values) > years or years < 1:
        message = f"{len(values)} events in {years} years"
        raise ValueError(message)
    return len(values) / years


def _quantile(values: Array, share: float, fit: DateFit) -> float:
    if fit is not DateFit.NORMAL:
        method: Literal["linear", "weibull"] = (
            "weibull" if fit is DateFit.WEIBULL else "linear"
        )
        return float(np.quantile(values, share, method=method))
    if len(values) == 1 or np.ptp(values) == 0:
        return float(values[0])
    spread = float(np.std(values, ddof=1))
    return NormalDist(float(np.mean(values)), spread).inv_cdf(share)
