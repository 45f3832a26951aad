"""Which values of daily weather cannot be believed as they came.

Each value is held against what can be, against the days around it, against the time of
year and against what others measured at the place. The bounds are wide: a record must
pass that is only unusual, for a frost that is left out of a frost date costs a tree.
What is doubted is set aside, never mended, and a person may say that it is right.

The kinds of check are those of daily archives: Durre, Menne, Gleason, Houston and Vose
(2010), J. Appl. Meteorol. Climatol. 49, 1615-1633 (their streak of 20 days; from
memory). The bounds themselves are common practice, no source, and tried on the records
named in the tests.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from orchard.sources.normals import DailyNormals
from orchard.sources.quality_hours import Array, Why, fits_in_another_unit
from orchard.sources.station_columns import StationQuantity
from orchard.sources.station_day import BOUNDS

Flags = NDArray[np.bool_]
Values = Mapping[str, float | None]
Days = Sequence[tuple[date, Values]]

CHECKED = {
    "tmin_c": BOUNDS[StationQuantity.TMIN][:2],
    "tmax_c": BOUNDS[StationQuantity.TMAX][:2],
    "rain_mm": BOUNDS[StationQuantity.RAIN][:2],
    "humidity_percent": BOUNDS[StationQuantity.HUMIDITY][:2],
    "wind_ms": BOUNDS[StationQuantity.WIND][:2],
    "gust_ms": (0.0, 113.0),  # the strongest measured: Barrow Island 1996, from memory
    "radiation_mj": BOUNDS[StationQuantity.RADIATION][:2],
    "et0_mm": BOUNDS[StationQuantity.ET0][:2],
}
TEMPERATURES = ("tmin_c", "tmax_c")
AROUND_DAYS = 3
FEWEST_AROUND = 3
#: A day this far from the median of the days around it is a spike, and six times as
#: far as the record's own days usually are; half as far from each day beside it.
SPIKE_STEP_C, SPIKE_SPREADS = 15.0, 6.0
SPREAD_OF_MAD = 1.4826  # makes the median deviation a standard one, for normal ones
#: In a shorter record nobody knows how far its days usually are from one another.
FEWEST_FOR_SPREAD, STEP_WITHOUT_SPREAD_C = 30, 25.0
SEASON_STEP_C = 30.0
WIDEST_SWING_C = 45.0  # the widest known is 57 degC, in Montana in 1916 (from memory)
STUCK_DAYS = {"whole": 20, "tenths": 10}
EQUAL_EXTREMES_DAYS = (
    3  # low and high are one: the sensor, not the weather, stood still
)
STUCK_RAIN_DAYS, STUCK_RAIN_MM = 5, 1.0
#: A gauge that stays dry through such a week where others measured rain is blocked.
DRY_WEEK, WET_WEEK_MM, WET_DAY_MM = 7, 25.0, 5.0
#: A day's rain that is others' in another unit, within this share.
INCH_MM, UNIT_SHARE, LEAST_INCH_MM = 25.4, 0.2, 50.0


@dataclass(frozen=True, slots=True)
class DoubtedDay:
    """One value of one day that is not believed, and why."""

    day: date
    variable: str
    value: float
    why: Why


def doubted_days(
    days: Days, *, others: Days = (), usual: DailyNormals | None = None
) -> tuple[DoubtedDay, ...]:
    """Return what is doubted of daily values, by day.

    Parameters
    ----------
    days : sequence of (date, mapping)
        SI values by name, in any order; ``None`` is missing. No day twice.
    others : sequence of (date, mapping)
        What others measured at the place, if they did.
    usual : DailyNormals, optional
        The usual of the time of year.
    """
    if not days:
        return ()
    record = _Record(days, others)
    for name, (low, high) in CHECKED.items():
        values = record.own[name]
        record.doubt(name, (values < low) | (values > high), Why.BOUNDS)
    for name in TEMPERATURES:
        record.check_spikes(name)
        record.check_season(name, usual)
    record.check_swing()
    record.check_stuck()
    record.check_rain_against_others()
    return record.doubted()


class _Record:
    """The days as columns without holes; NaN is missing or doubted already."""

    def __init__(self, days: Days, others: Days) -> None:
        self.first = min(day for day, _ in days)
        self.length = (max(day for day, _ in days) - self.first).days + 1
        self.own = self._columns(days)
        self.others = self._columns(others)
        self.found: dict[tuple[int, str], DoubtedDay] = {}

    def _columns(self, days: Days) -> dict[str, Array]:
        columns = {name: np.full(self.length, np.nan) for name in CHECKED}
        for day, values in days:
            place = (day - self.first).days
            for name in CHECKED.keys() & values.keys():
                value = values[name]
                if value is not None and 0 <= place < self.length:
                    columns[name][place] = value
        return columns

    def doubt(self, name: str, is_doubted: Flags, why: Why) -> None:
        """Set values aside; later checks no longer see them."""
        for place in np.flatnonzero(is_doubted & ~np.isnan(self.own[name])):
            value = float(self.own[name][place])
            day = self.first + timedelta(days=int(place))
            self.found[int(place), name] = DoubtedDay(day, name, value, why)
            self.own[name][place] = np.nan

    def doubted(self) -> tuple[DoubtedDay, ...]:
        """Return everything set aside, by day."""
        return tuple(self.found[key] for key in sorted(self.found))

    def check_swing(self) -> None:
        """Doubt both of a low and a high that do not fit each other."""
        swing = self.own["tmax_c"] - self.own["tmin_c"]
        is_doubted = (swing < 0) | (swing > WIDEST_SWING_C)
        for name in TEMPERATURES:
            self.doubt(name, is_doubted, Why.SWING)

    def check_spikes(self, name: str) -> None:
        """Doubt a value alone against the days around it."""
        around = _around(self.own[name])
        step = self.own[name] - around
        known = np.abs(step[~np.isnan(step)])
        bound = STEP_WITHOUT_SPREAD_C
        if len(known) >= FEWEST_FOR_SPREAD:
            spread = SPREAD_OF_MAD * float(np.median(known))
            bound = max(SPIKE_STEP_C, SPIKE_SPREADS * spread)
        is_far = (np.abs(step) > bound) & _is_alone(self.own[name], step, bound)
        self._doubt_temperatures(name, is_far, around, Why.SPIKE)

    def check_season(self, name: str, usual: DailyNormals | None) -> None:
        """Doubt a value like nothing at that time of year."""
        if usual is None:
            return
        curve = getattr(usual, name)
        days = [self.first + timedelta(days=number) for number in range(self.length)]
        expected = np.array([curve[usual.index(day)] for day in days])
        is_far = np.abs(self.own[name] - expected) > SEASON_STEP_C
        self._doubt_temperatures(name, is_far, expected, Why.SEASON)

    def _doubt_temperatures(
        self, name: str, is_far: Flags, expected: Array, why: Why
    ) -> None:
        is_unit = np.zeros(self.length, dtype=bool)
        for place in np.flatnonzero(is_far):
            value = float(self.own[name][place])
            is_unit[place] = fits_in_another_unit(value, float(expected[place]))
        self.doubt(name, is_far & is_unit, Why.UNIT)
        self.doubt(name, is_far & ~is_unit, why)

    def check_stuck(self) -> None:
        """Doubt what stays the same for longer than weather does; dry days may."""
        low, high = (self.own[name] for name in TEMPERATURES)
        is_one = low == high
        for run in _runs(is_one, EQUAL_EXTREMES_DAYS):
            for name in TEMPERATURES:
                self.doubt(name, run, Why.STUCK)
        for name in set(CHECKED) - {"rain_mm"}:
            values = self.own[name]
            known = values[~np.isnan(values)]
            is_whole = bool(known.size) and bool((known == np.round(known)).all())
            most = STUCK_DAYS["whole" if is_whole else "tenths"]
            for run in _same_runs(values, most):
                self.doubt(name, run, Why.STUCK)
        rain = np.where(
            self.own["rain_mm"] >= STUCK_RAIN_MM, self.own["rain_mm"], np.nan
        )
        for run in _same_runs(rain, STUCK_RAIN_DAYS):
            self.doubt("rain_mm", run, Why.STUCK)

    def check_rain_against_others(self) -> None:
        """Doubt a gauge that stays dry, or counts in another unit, beside others."""
        own, theirs = self.own["rain_mm"], self.others["rain_mm"]
        if np.isnan(theirs).all():
            return
        is_large = (own >= LEAST_INCH_MM) & (theirs >= 1)
        with np.errstate(divide="ignore", invalid="ignore"):
            share = own / INCH_MM / theirs
        self.doubt("rain_mm", is_large & (np.abs(share - 1) <= UNIT_SHARE), Why.UNIT)
        is_blocked = np.zeros(self.length, dtype=bool)
        for place in range(self.length - DRY_WEEK + 1):
            week = slice(place, place + DRY_WEEK)
            both = ~np.isnan(own[week]) & ~np.isnan(theirs[week])
            fell = theirs[week][both]
            is_wet = fell.sum() >= WET_WEEK_MM and (fell >= WET_DAY_MM).sum() > 1
            if is_wet and not own[week][both].any():
                is_blocked[week] |= both & (theirs[week] >= WET_DAY_MM)
        self.doubt("rain_mm", is_blocked, Why.DRY_GAUGE)


def _around(values: Array) -> Array:
    """Return the median of the three days either side; NaN where too few are known."""
    padded = np.pad(values, AROUND_DAYS, constant_values=np.nan)
    shifts = [n for n in range(2 * AROUND_DAYS + 1) if n != AROUND_DAYS]
    stacked = np.stack([padded[n : n + len(values)] for n in shifts])
    is_enough = (~np.isnan(stacked)).sum(axis=0) >= FEWEST_AROUND
    around = np.full(len(values), np.nan)
    if is_enough.any():
        around[is_enough] = np.nanmedian(stacked[:, is_enough], axis=0)
    return around


def _is_alone(values: Array, step: Array, bound: float) -> Flags:
    """Whether the days before and after are far away too, as far as they are known.

    A front that lasts two days is weather.
    """
    padded = np.pad(values, 1, constant_values=np.nan)
    away = np.stack([values - padded[:-2], values - padded[2:]]) * np.sign(step)
    return np.asarray((np.isnan(away) | (away > bound / 2)).all(axis=0))


def _same_runs(values: Array, most: int) -> Iterable[Flags]:
    """Yield the runs of at least ``most`` days with one and the same value."""
    is_same = np.concatenate([[False], values[1:] == values[:-1]])
    for run in _runs(is_same, most - 1):
        first = int(np.flatnonzero(run)[0])
        run[first - 1] = True
        yield run


def _runs(is_in: Flags, most: int) -> Iterable[Flags]:
    """Yield the runs of at least ``most`` days in a row."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], is_in, [False]])))
    for begin, end in zip(edges[::2], edges[1::2], strict=True):
        if end - begin >= most:
            run = np.zeros(len(is_in), dtype=bool)
            run[begin:end] = True
            yield run
