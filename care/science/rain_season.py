"""When the rains begin and end, and how long it has been dry.

A day's rain that nobody read is NaN and never stands for a dry day: a run of dry days
is counted twice, once without such days and once as if they had been dry, and what
the two disagree on stays undecided.
"""

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from care.facts import Array, Flags, MonthDay
from care.science.season import local_month, next_on

RAIN_DAY_MM = 1.0
SOAKING_RAIN_MM = 6.35  # a quarter of an inch

# Search dates of the northern year.
ONSETS_FROM = MonthDay(5, 1)
ENDS_FROM = MonthDay(9, 1)


@dataclass(frozen=True, slots=True)
class OnsetRule:
    """When a wet spell is the onset of the rains.

    From ``search_from``, the first day with rain on which a window of ``window_days``
    begins that brings ``total_mm``, with no run of more than ``longest_dry_days`` dry
    days in the ``look_days`` after the window. The settings are those of
    Sivakumar (1988), Agric. For. Meteorol. 42:295-305, for West Africa; elsewhere 20
    to 30 mm and dry runs of 7 to 16 days have been used, which moves the onset by
    weeks: state the settings beside the date.
    """

    search_from: MonthDay = ONSETS_FROM
    total_mm: float = 20.0
    window_days: int = 3
    rain_day_mm: float = RAIN_DAY_MM
    longest_dry_days: int = 7
    look_days: int = 30

    def for_south(self) -> "OnsetRule":
        """Return the same rule searched from half a year later."""
        return replace(self, search_from=_half_a_year_on(self.search_from))


@dataclass(frozen=True, slots=True)
class EndRule:
    """When the rains have ended: a day with ``dry_days`` dry days after it.

    Searched from ``search_from``; settings of Sivakumar (1988).
    """

    search_from: MonthDay = ENDS_FROM
    dry_days: int = 20
    rain_day_mm: float = RAIN_DAY_MM

    def for_south(self) -> "EndRule":
        """Return the same rule searched from half a year later."""
        return replace(self, search_from=_half_a_year_on(self.search_from))


@dataclass(frozen=True, slots=True)
class Onset:
    """A wet spell that began the rains, or may have.

    Provisional until the look-ahead has passed, and where days without a reading leave
    a long dry run possible. ``false_starts`` began before it and dried up.
    """

    day: date
    is_confirmed: bool
    days_judged: int
    longest_dry_run: int
    false_starts: tuple[date, ...]


@dataclass(frozen=True, slots=True)
class RainsEnd:
    """The last day of the rains, or what may be; ``dry_days`` have followed so far."""

    day: date
    is_confirmed: bool
    dry_days: int


def dry_runs(is_dry: Flags) -> Array:
    """Return, for each day, how many dry days in a row end with it.

    Parameters
    ----------
    is_dry : bool array, shape (days,)

    Returns
    -------
    array, shape (days,)
        0 on a day that is not dry.
    """
    places = np.arange(1, len(is_dry) + 1, dtype=np.float64)
    broken = np.where(is_dry, 0.0, places)
    return np.asarray(places - np.maximum.accumulate(broken))


def longest_dry_run(
    rain_mm: Array, rain_day_mm: float = RAIN_DAY_MM, *, missing_is_dry: bool = False
) -> int:
    """Return the most days in a row with less rain than a rain day has.

    Parameters
    ----------
    rain_mm : array, shape (days,)
        Daily rain; NaN where nobody read it.
    rain_day_mm : float
        From here on a day is wet.
    missing_is_dry : bool
        Days without a reading end a run, so that the answer is the least it can be;
        or prolong it, for the most it can be.
    """
    runs = dry_runs(_is_dry(rain_mm, rain_day_mm, missing_is_dry=missing_is_dry))
    return int(runs.max(initial=0.0))


def days_since_rain(
    rain_mm: Array, soaking_mm: float = SOAKING_RAIN_MM, *, missing_is_dry: bool = False
) -> Array:
    """Return, for each day, the days since the last good rain; 0 on its own day.

    Counted from the start of the record where it has none before. Shapes, units and
    days without a reading as in :func:`longest_dry_run`: the default says "at least".
    """
    return dry_runs(_is_dry(rain_mm, soaking_mm, missing_is_dry=missing_is_dry))


def onset(start: date, rain_mm: Array, rule: OnsetRule) -> Onset | None:
    """Return the onset of the rains after one search date, or ``None`` so far.

    Parameters
    ----------
    start : datetime.date
        First day of the record; searched from the rule's date on or after it.
    rain_mm : array, shape (days,)
        Daily rain that fell, never forecast; NaN where nobody read it.
    rule : OnsetRule
        With the search date of the hemisphere.

    Notes
    -----
    The day is the first of the window; dry runs are counted in the days after the
    window, and rain after those changes nothing. The rain of a window with days unread
    is what was read.
    Source: Sivakumar (1988), Agric. For. Meteorol. 42:295-305.
    """
    rain = np.asarray(rain_mm, dtype=np.float64)
    first = (next_on(rule.search_from, start) - start).days
    false_starts: list[date] = []
    for place in _wet_spells(rain, rule):
        if place < first:
            continue
        after = place + rule.window_days
        ahead = rain[after : after + rule.look_days]
        day = start + timedelta(days=place)
        sure = longest_dry_run(ahead, rule.rain_day_mm)
        if sure > rule.longest_dry_days:
            false_starts.append(day)
            continue
        possible = longest_dry_run(ahead, rule.rain_day_mm, missing_is_dry=True)
        return Onset(
            day=day,
            is_confirmed=len(ahead) == rule.look_days
            and possible <= rule.longest_dry_days,
            days_judged=len(ahead),
            longest_dry_run=sure,
            false_starts=tuple(false_starts),
        )
    return None


def rains_end(start: date, rain_mm: Array, rule: EndRule) -> RainsEnd | None:
    """Return the end of the rains after one search date, or ``None`` so far.

    Parameters
    ----------
    start : datetime.date
        First day of the record; searched from the rule's date on or after it.
    rain_mm : array, shape (days,)
        Daily rain that fell, never forecast; NaN where nobody read it.
    rule : EndRule
        With the search date of the hemisphere.

    Returns
    -------
    RainsEnd or None
        Provisional while fewer dry days in a row were read than the rule asks for;
        after a day that nobody read, the end is confirmed as the latest it can be.
        ``None`` also while rain still falls.
        Source: Sivakumar (1988), Agric. For. Meteorol. 42:295-305.
    """
    rain = np.asarray(rain_mm, dtype=np.float64)
    first = (next_on(rule.search_from, start) - start).days
    is_wet = rain >= rule.rain_day_mm
    provisional = None
    for place in range(first, len(rain) - 1):
        after = slice(place + 1, place + 1 + rule.dry_days)
        if np.any(is_wet[after]):
            continue
        dry_days = int(np.sum(~np.isnan(rain[after])))
        day = start + timedelta(days=place)
        if dry_days == rule.dry_days:
            return RainsEnd(day, is_confirmed=True, dry_days=dry_days)
        if provisional is None:
            provisional = RainsEnd(day, is_confirmed=False, dry_days=dry_days)
    return provisional


def day_store_empties(
    rain_mm: Array, et_mm: Array | float, capacity_mm: float
) -> int | None:
    """Return the first day on which a soil filled by the rains is empty again.

    Parameters
    ----------
    rain_mm : array, shape (days,)
        From the onset on; a day that nobody read makes the answer unknown from there.
    et_mm : array, shape (days,), or float
        What plants and soil use [mm/day]; 5 mm and a capacity of 60 to 100 mm are
        usual (from memory).
    capacity_mm : float
        What the soil holds.

    Returns
    -------
    int or None
        Place in the record; a store that never held anything is not emptied.
    """
    stored = 0.0
    use = np.broadcast_to(np.asarray(et_mm, dtype=np.float64), np.shape(rain_mm))
    for place, (rain, used) in enumerate(zip(rain_mm, use, strict=True)):
        if np.isnan(rain):
            return None
        before = stored
        stored = min(max(before + float(rain) - float(used), 0.0), capacity_mm)
        if before > 0 and stored == 0:
            return place
    return None


def _wet_spells(rain: Array, rule: OnsetRule) -> list[int]:
    """Return the places of wet days whose window brings enough."""
    read = np.append(np.nan_to_num(rain), np.zeros(rule.window_days))
    totals = np.convolve(read, np.ones(rule.window_days))[rule.window_days - 1 :]
    # Sums of tenths of a millimetre fall short of 20 by the last binary digit
    is_enough = totals[: len(rain)] >= rule.total_mm - 1e-9
    places = np.flatnonzero(is_enough & (rain >= rule.rain_day_mm))
    return [int(place) for place in places]


def _is_dry(rain_mm: Array, limit_mm: float, *, missing_is_dry: bool) -> Flags:
    rain = np.asarray(rain_mm, dtype=np.float64)
    return np.asarray((rain < limit_mm) | (np.isnan(rain) & missing_is_dry))


def _half_a_year_on(day: MonthDay) -> MonthDay:
    return replace(day, month=local_month(day.month, southern=True))
