"""Warmth: degree days and degree hours that drive growth, and heat that harms.

A threshold in degree days holds only with the method it was fitted with; a
:class:`HeatNeed` therefore carries its method, base and cut-off.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from care.facts import Array
from care.science.evapotranspiration import saturation_vapour_pressure_kpa

HOT_DAY_C = 30.0  # 86 degF; American Horticultural Society heat zones
# Days a year above 30 degC with which the zones 2 to 11 end.
HEAT_ZONE_DAYS = (7, 14, 30, 45, 60, 90, 120, 150, 180, 210)

# Growing degree hours: base, optimum and critical temperature of the ASYMCUR model.
GROWTH_BASE_C = 4.0
GROWTH_OPTIMUM_C = 25.0
GROWTH_CRITICAL_C = 36.0


class DegreeDays(StrEnum):
    """How a day's warmth above a base is reckoned."""

    AVERAGE = "average"
    MODIFIED = "modified"
    SINGLE_SINE = "single_sine"


@dataclass(frozen=True, slots=True)
class HeatNeed:
    """An amount of warmth after which something happens, with its own reckoning."""

    amount: float  # degC d
    base_c: float
    method: DegreeDays
    upper_c: float | None = None

    def __post_init__(self) -> None:
        """Refuse a cut-off below the base, or one the method does not know."""
        if self.upper_c is None:
            return
        if self.method is DegreeDays.AVERAGE:
            message = "the average of two temperatures has no cut-off"
            raise ValueError(message)
        if self.upper_c <= self.base_c:
            message = f"cut-off {self.upper_c} is not above base {self.base_c}"
            raise ValueError(message)

    def degree_days(self, tmin_c: Array, tmax_c: Array) -> Array:
        """Return the degree days of each day by this need's reckoning [degC d].

        Arrays of one shape in and out; a missing day is NaN.
        """
        if self.method is DegreeDays.AVERAGE:
            return average_degree_days(tmin_c, tmax_c, self.base_c)
        if self.method is DegreeDays.MODIFIED:
            return modified_degree_days(tmin_c, tmax_c, self.base_c, self.upper_c)
        return single_sine_degree_days(tmin_c, tmax_c, self.base_c, self.upper_c)

    def day_met(self, tmin_c: Array, tmax_c: Array) -> int | None:
        """Return the first day by whose end the need is met, or ``None``.

        Arrays of shape (days,) from the day on which counting starts; a missing day
        adds nothing, so the answer is then the latest it can be.
        """
        is_met = np.nancumsum(self.degree_days(tmin_c, tmax_c)) >= self.amount
        return int(np.argmax(is_met)) if np.any(is_met) else None


def average_degree_days(tmin_c: Array, tmax_c: Array, base_c: float) -> Array:
    """Return the degree days of the mean of two temperatures, never below 0 [degC d].

    Parameters
    ----------
    tmin_c, tmax_c : arrays of one shape
        A day's extremes [degC]; NaN where missing.
    base_c : float
        Below it nothing counts.

    Returns
    -------
    array of that shape
        Source: Arnold (1960), Proc. Am. Soc. Hort. Sci. 76:682-692. Misses the warm
        hours of a day whose mean lies below the base.
    """
    mean = (np.asarray(tmin_c, dtype=np.float64) + np.asarray(tmax_c)) / 2
    return np.asarray(np.maximum(mean - base_c, 0.0))


def modified_degree_days(
    tmin_c: Array, tmax_c: Array, base_c: float, upper_c: float | None = None
) -> Array:
    """Return the degree days of temperatures first clipped to the bounds [degC d].

    As :func:`average_degree_days`, but the minimum counts as no less than the base and
    the maximum as no more than the cut-off; with 10 and 30 degC the method of maize,
    "50/86" in degF.
    """
    return average_degree_days(
        np.clip(np.asarray(tmin_c, dtype=np.float64), base_c, upper_c),
        np.clip(np.asarray(tmax_c, dtype=np.float64), base_c, upper_c),
        base_c,
    )


def single_sine_degree_days(
    tmin_c: Array, tmax_c: Array, base_c: float, upper_c: float | None = None
) -> Array:
    """Return the degree days under a sine through a day's two extremes [degC d].

    Parameters
    ----------
    tmin_c, tmax_c : arrays of one shape
        A day's extremes [degC]; NaN where missing.
    base_c : float
        Below it nothing counts.
    upper_c : float or None
        Horizontal cut-off: warmth above it counts as if it were at it.

    Returns
    -------
    array of that shape
        Source: Baskerville and Emin (1969), Ecology 50:514-517.

    Raises
    ------
    ValueError
        If a minimum lies above its maximum.
    """
    low = np.asarray(tmin_c, dtype=np.float64)
    high = np.asarray(tmax_c, dtype=np.float64)
    if np.any(low > high):
        message = "a day's minimum lies above its maximum"
        raise ValueError(message)
    above_base = _sine_above(low, high, base_c)
    if upper_c is None:
        return above_base
    return np.asarray(above_base - _sine_above(low, high, upper_c))


def _sine_above(low: Array, high: Array, limit_c: float) -> Array:
    mean, half = (low + high) / 2, (high - low) / 2
    reached = np.clip(limit_c, low, high)
    share = np.divide(reached - mean, half, out=np.ones_like(mean), where=half > 0)
    crossing = np.arcsin(np.clip(share, -1.0, 1.0))
    crossed = (mean - limit_c) * (np.pi / 2 - crossing) + half * np.cos(crossing)
    lies_above = np.where(low >= limit_c, mean - limit_c, crossed / np.pi)
    area = np.where(high <= limit_c, 0.0, lies_above)
    return np.asarray(np.where(np.isnan(mean), np.nan, area))


def growing_degree_hours(temperature_c: Array, stress: float = 1.0) -> Array:
    """Return the growing degree hours of each hour, 0 to 21.

    Parameters
    ----------
    temperature_c : array of any shape
        Hourly [degC]; NaN where missing.
    stress : float, 0-1
        Share of growth that drought or other stress leaves.

    Returns
    -------
    array of the same shape
        Two cosines: up from 4 to 25 degC, down from there to 36 degC.
        Source: Anderson, Richardson and Kesner (1986), Acta Hort. 184:71-78 (ASYMCUR).
    """
    temperature = np.asarray(temperature_c, dtype=np.float64)
    height = GROWTH_OPTIMUM_C - GROWTH_BASE_C
    rise = (temperature - GROWTH_BASE_C) / height
    fall = (temperature - GROWTH_OPTIMUM_C) / (GROWTH_CRITICAL_C - GROWTH_OPTIMUM_C)
    rising = height / 2 * (1 + np.cos(np.pi + np.pi * np.clip(rise, 0, 1)))
    falling = height * (1 + np.cos(np.pi / 2 + np.pi / 2 * np.clip(fall, 0, 1)))
    worth = np.where(temperature <= GROWTH_OPTIMUM_C, rising, falling)
    return np.asarray(stress * np.where(np.isnan(temperature), np.nan, worth))


def is_hot_day(tmax_c: Array, limit_c: float = HOT_DAY_C) -> Array:
    """Return 1 for each day hotter than the limit, 0 for others, NaN if unknown.

    ``tmax_c`` is an array of any shape [degC]; the limit itself is not hot.
    """
    tmax = np.asarray(tmax_c, dtype=np.float64)
    return np.asarray(np.where(np.isnan(tmax), np.nan, tmax > limit_c))


def heat_zone(hot_days_a_year: float) -> int:
    """Return the heat zone, 1 to 12, of a mean number of days above 30 degC a year.

    Source: American Horticultural Society, Plant Heat Zone Map (1997): zone 1 below
    one day, 2 to 7 days, 3 to 14 ... 11 to 210, 12 beyond.

    Raises
    ------
    ValueError
        If the number is negative.
    """
    if hot_days_a_year < 0:
        message = f"negative number of days: {hot_days_a_year}"
        raise ValueError(message)
    if hot_days_a_year < 1:
        return 1
    return 2 + sum(hot_days_a_year > bound for bound in HEAT_ZONE_DAYS)


def vapour_pressure_deficit_kpa(
    temperature_c: Array | float, humidity_percent: Array | float
) -> Array:
    """Return how much more vapour the air could hold [kPa].

    Parameters
    ----------
    temperature_c, humidity_percent : arrays of one shape
        Of the same moment: a day's mean humidity with its maximum overstates it.

    Returns
    -------
    array of that shape, 0 in saturated air
        Source: Allen et al. (1998), FAO-56, Eq. 10, 11 and 17.
    """
    humidity = np.clip(np.asarray(humidity_percent, dtype=np.float64), 0.0, 100.0)
    return np.asarray(
        saturation_vapour_pressure_kpa(temperature_c) * (1 - humidity / 100)
    )
