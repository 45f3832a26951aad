"""What many imagined courses of the weather say together: likely days and amounts.

A course is observed weather up to this morning, the forecast as far as it goes, and
then a past year of the record or a generated one. What falls into the days that all
courses share is firm; beyond them an answer is the range that eight of ten courses
keep to: P10, P50 and P90. Ten real years make a fair range; from fewer, and from
generated ones, it is coarse, and whoever shows it says so.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from care.facts import Array

Whole = NDArray[np.int64]

NEVER = 1_000_000  # days; a course in which something does not come within reach
QUANTILES = (0.1, 0.5, 0.9)
FAIR_YEARS = 10  # real years from which on a range is more than coarse
SOON_DAYS = (7, 14, 30)  # for which the chance of a need is told


@dataclass(frozen=True, slots=True)
class Members:
    """How the courses came to be.

    ``count`` courses in all; ``past_years`` real years are among them, few of them
    also moved by some days; ``generated`` courses were made up from the usual weather
    of the place. All zero where nothing lies beyond the forecast.
    """

    count: int
    past_years: int
    generated: int

    @property
    def is_coarse(self) -> bool:
        """Whether only the middle and a coarse range can be told."""
        return self.past_years < FAIR_YEARS

    @property
    def is_generated(self) -> bool:
        """Whether any course was made up: its coldest nights are too mild."""
        return self.generated > 0


@dataclass(frozen=True, slots=True)
class LikelyDay:
    """The day of something, over all courses.

    ``low``, ``middle`` and ``high`` are the 10, 50 and 90 % days; ``None`` where that
    share of courses does not bring it by ``until``, the last day looked at. ``share``
    is the chance that it comes by then, ``(n + 1/2) / (N + 1)`` of the courses.
    ``is_firm`` where it was observed or lies in the forecast: then all days are one.
    """

    low: date | None
    middle: date | None
    high: date | None
    share: float
    is_firm: bool
    until: date
    members: Members


@dataclass(frozen=True, slots=True)
class LikelyAmount:
    """A sum or a count at the end of ``until``, over all courses; 10, 50 and 90 %.

    ``is_firm`` where every day of it is over or forecast.
    """

    low: float
    middle: float
    high: float
    is_firm: bool
    until: date
    members: Members


@dataclass(frozen=True, slots=True)
class Fan:
    """A running sum day by day, for a drawing; arrays (days,), the first ``start``.

    The three are one up to ``firm_until``, the last day observed or forecast, which
    lies before ``start`` where nothing is firm.
    """

    start: date
    low: Array = field(repr=False)
    middle: Array = field(repr=False)
    high: Array = field(repr=False)
    firm_until: date
    members: Members

    @property
    def end(self) -> date:
        """The last day."""
        return self.start + timedelta(days=len(self.middle) - 1)


@dataclass(frozen=True, slots=True)
class ChillAhead:
    """The winter at hand over all courses, by :func:`chill_ahead.chill_ahead`.

    ``enough`` says for each need that was asked for, in hours of 0 to 7.2 degC, by
    what day and in what share of the courses it is met. The fans run over the chill
    season, from November to March and in the south from May to September.
    """

    hours: LikelyAmount
    portions: LikelyAmount
    enough: dict[float, LikelyDay]
    hours_fan: Fan
    portions_fan: Fan


@dataclass(frozen=True, slots=True)
class FrostAhead:
    """The next frosts at one bound, by :func:`frost_ahead.frosts_ahead`.

    ``last_spring`` is the last frost of the spring at hand or to come, ``None`` where
    that ends beyond reach, as it does in August; ``first_autumn`` is the first of the
    autumn at hand or to come. A bound may be a tree's own. Where
    ``members.is_generated`` real extremes are colder: annual minima came out some 1.7
    degrees too mild (``frost_ahead.TOO_MILD_C``), so frosts come later in spring and
    sooner in autumn than told.
    """

    threshold_c: float
    last_spring: LikelyDay | None
    first_autumn: LikelyDay


@dataclass(frozen=True, slots=True)
class HeatAhead:
    """Warmth and hot days of the year at hand, by :func:`heat_ahead.heat_ahead`.

    ``hot_days`` are the days above 30 degC from now on, today included, to the year's
    end (in the south to the end of June) or as far as the courses reach; the fan sums
    degree days above 10 degC since midwinter.
    """

    hot_days: LikelyAmount
    degree_days_fan: Fan


@dataclass(frozen=True, slots=True)
class StageAhead:
    """One species' bloom and harvest, by :func:`stages_ahead.stages_ahead`.

    Of the care year that holds today, from last autumn to the next. ``None`` where
    neither chill nor warmth of the species is known.
    """

    species_key: str
    species: str
    full_bloom: LikelyDay | None
    harvest_begins: LikelyDay | None


@dataclass(frozen=True, slots=True)
class WateringsAhead:
    """One tree's waterings to come, by :func:`waterings_ahead.waterings_ahead`.

    ``next`` is when it needs water if nobody waters; a skip or a wet feel puts it off.
    ``chance_by`` is the chance of a need within 7, 14 and 30 days. ``count`` and
    ``litres`` (from the can, losses included) are of the next ``days`` days if every
    watering is done on its day. ``stress_from`` is when a tree that nobody waters
    begins to suffer: what a holiday goes by.
    """

    tree_id: int
    next: LikelyDay
    chance_by: dict[int, float]
    days: int
    count: LikelyAmount
    litres: LikelyAmount
    stress_from: LikelyDay


@dataclass(frozen=True, slots=True)
class OrchardWaterings:
    """All trees of a site; sums of one course are made before courses are compared.

    ``litres_fan`` runs from today over the same days as ``litres``.
    """

    trees: dict[int, WateringsAhead]
    count: LikelyAmount
    litres: LikelyAmount
    litres_fan: Fan
    first_stress: LikelyDay  # of any tree, if nobody waters


def chance(courses: int, of: int) -> float:
    """Return ``(n + 1/2) / (N + 1)``: few courses are never certain."""
    return (courses + 0.5) / (of + 1)


def order_places(count: int) -> tuple[int, int, int]:
    """Return the places of P10, P50 and P90 among so many sorted values.

    The smallest value that at least that share of all does not exceed.
    """
    low, middle, high = (max(int(np.ceil(q * count)) - 1, 0) for q in QUANTILES)
    return low, middle, high


def three(values: Array) -> Array:
    """Return P10, P50 and P90 over the courses; (courses, ...) becomes (3, ...)."""
    return np.asarray(np.sort(values, axis=0)[list(order_places(len(values)))])


def likely_day(
    days: Whole, start: date, *, until: date, firm_until: date, members: Members
) -> LikelyDay:
    """Return the day of something from its day in each course.

    Parameters
    ----------
    days : array (courses,)
        Days since ``start``; NEVER, or later than ``until``, where it does not come.
    start : datetime.date
    until : datetime.date
        The last day looked at.
    firm_until : datetime.date
        The last day that all courses share.
    members : Members
    """
    reach = (until - start).days
    within = np.where(days > reach, NEVER, days)
    low, middle, high = (
        None if day == NEVER else start + timedelta(days=int(day))
        for day in three(within)
    )
    is_one = bool((within == within[0]).all())
    return LikelyDay(
        low=low,
        middle=middle,
        high=high,
        share=chance(int((within != NEVER).sum()), len(within)),
        is_firm=is_one and low is not None and low <= firm_until,
        until=until,
        members=members,
    )


def likely_amount(
    amounts: Array, *, until: date, firm_until: date, members: Members
) -> LikelyAmount:
    """Return a sum or count from its value in each course; shape (courses,)."""
    low, middle, high = (float(value) for value in three(amounts))
    return LikelyAmount(low, middle, high, until <= firm_until, until, members)


def fan_of(sums: Array, start: date, *, firm_until: date, members: Members) -> Fan:
    """Return the fan of running sums; shape (courses, days)."""
    low, middle, high = three(np.asarray(sums, dtype=np.float64))
    return Fan(start, low, middle, high, firm_until, members)


def soon(days: Sequence[int] | Whole) -> dict[int, float]:
    """Return the chance that something comes within 7, 14 and 30 days of today.

    Parameters
    ----------
    days : array (courses,)
        Days from today on.
    """
    found = np.asarray(days)
    return {
        within: chance(int((found <= within).sum()), len(found)) for within in SOON_DAYS
    }
