"""Which of a station's readings within the day cannot be believed.

A reading is held against those around it: air warms and cools by the hour, not by the
minute. What is doubted is set aside, never mended; a person may say that it is right.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

HOUR_S = 3600.0
#: Air this far from the median of the three hours either side of it is a spike: the
#: bound of the notes this program was made by, common practice without a source. The
#: strongest front lasts, so that its own readings move the median with it.
SPIKE_STEP_C = 12.0
SPIKE_SPAN_S = 3 * HOUR_S
FEWEST_AROUND = 4
#: A value that comes this near to its neighbours in another unit was of that unit.
UNIT_FIT_C = 6.0
#: Air keeps one tenth of a degree through fog for some hours; not for half a day
#: (common practice, no source).
STUCK_S = 12 * HOUR_S
FEWEST_STUCK = 12


class Why(StrEnum):
    """Why a value is doubted; each has its words on the page."""

    BOUNDS = "bounds"  # no weather anywhere is like that
    SWING = "swing"  # low and high of a day do not fit each other
    SPIKE = "spike"  # alone against the values around it
    SEASON = "season"  # far from anything of that time of year
    STUCK = "stuck"  # the same again and again
    UNIT = "unit"  # fits its neighbours in another unit
    DRY_GAUGE = "dry_gauge"  # no rain where others measured much


@dataclass(frozen=True, slots=True)
class DoubtedMoments:
    """Which moments are doubted and why; both of one length."""

    is_doubted: NDArray[np.bool_]
    why: tuple[Why, ...]


def fits_in_another_unit(value_c: float, around_c: float) -> bool:
    """Whether degF taken for degC, or degC taken for degF, explains a temperature.

    Parameters
    ----------
    value_c, around_c : float
        As stored, and what its neighbours are [degC].
    """
    meant = ((value_c - 32) / 1.8, value_c * 1.8 + 32)
    return any(abs(one - around_c) <= UNIT_FIT_C for one in meant)


def doubted_temperatures(
    at_s: Array, temp_c: Array, bounds_c: tuple[float, float]
) -> DoubtedMoments:
    """Return which temperatures of a run of readings are doubted.

    Parameters
    ----------
    at_s : array, shape (readings,)
        Seconds, growing.
    temp_c : array, shape (readings,)
        Temperatures [degC]; NaN is missing and never doubted.
    bounds_c : tuple of float
        Lowest and highest that can be.
    """
    why: list[Why | None] = [None] * len(temp_c)
    known = np.flatnonzero(~np.isnan(temp_c))
    for place in known:
        if not bounds_c[0] <= temp_c[place] <= bounds_c[1]:
            why[place] = Why.BOUNDS
    _mark_stuck(at_s, temp_c, known, why)
    good = np.array([place for place in known if why[place] is None], dtype=int)
    _mark_spikes(at_s, temp_c, good, why)
    return DoubtedMoments(
        np.array([each is not None for each in why], dtype=bool),
        tuple(each or Why.SPIKE for each in why),
    )


def _mark_stuck(
    at_s: Array, temp_c: Array, known: NDArray[np.intp], why: list[Why | None]
) -> None:
    """Doubt runs of one and the same value that last half a day."""
    if not known.size:
        return
    values = temp_c[known]
    breaks = np.flatnonzero(np.abs(np.diff(values)) > 1e-6) + 1  # noqa: PLR2004
    for run in np.split(known, breaks):
        is_long = at_s[run[-1]] - at_s[run[0]] >= STUCK_S
        if is_long and len(run) >= FEWEST_STUCK:
            for place in run:
                why[place] = Why.STUCK


def _mark_spikes(
    at_s: Array, temp_c: Array, good: NDArray[np.intp], why: list[Why | None]
) -> None:
    times, values = at_s[good], temp_c[good]
    suspects = np.flatnonzero(_may_be_alone(times, values))
    first = np.searchsorted(times, times - SPIKE_SPAN_S, "left")
    last = np.searchsorted(times, times + SPIKE_SPAN_S, "right")
    for number in suspects:
        place = good[number]
        if last[number] - first[number] <= FEWEST_AROUND:
            continue
        around = float(np.median(values[first[number] : last[number]]))
        if abs(values[number] - around) > SPIKE_STEP_C:
            is_unit = fits_in_another_unit(float(values[number]), around)
            why[place] = Why.UNIT if is_unit else Why.SPIKE


def _may_be_alone(times: Array, values: Array) -> NDArray[np.bool_]:
    """Whether anything within the span is a spike's step away: few readings at most.

    Looked at in whole blocks of the span and the two beside each, which hold it.
    """
    if not times.size:
        return np.zeros(0, dtype=bool)
    block = ((times - times[0]) // SPIKE_SPAN_S).astype(np.int64) + 1
    low = np.full(int(block[-1]) + 2, np.inf)
    high = np.full(len(low), -np.inf)
    np.minimum.at(low, block, values)
    np.maximum.at(high, block, values)
    near_low = np.minimum(np.minimum(low[block - 1], low[block]), low[block + 1])
    near_high = np.maximum(np.maximum(high[block - 1], high[block]), high[block + 1])
    return np.asarray(np.maximum(near_high - values, values - near_low) > SPIKE_STEP_C)
