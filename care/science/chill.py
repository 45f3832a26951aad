"""Winter chill: how much cold has counted towards breaking a tree's rest.

Every model gives each hour a worth. Hours are summed over a window that the caller
chooses; the Dynamic model also remembers, so its state is carried from one stretch of
hours to the next and never started anew at midnight. An hour without a reading is NaN
and is worth NaN: count the known hours beside the sum.
"""

from dataclasses import dataclass

import numpy as np

from care.facts import Array
from care.science.hourly import NightCurve, hourly_temperatures_c

CHILL_HOUR_LIMIT_C = 7.2  # 45 degF is 7.222: compare in the unit of the record
# Hours computed from a maximum of 7.2 lie on the bound but for the last binary digit.
TIE_C = 1e-9

# Upper bounds of the Utah model's bins, each included, and the worth of an hour.
UTAH_BOUNDS_C = (1.4, 2.4, 9.1, 12.4, 15.9, 18.0)
UTAH_WORTH = (0.0, 0.5, 1.0, 0.5, 0.0, -0.5, -1.0)

# The Dynamic model. Activation energies over the gas constant [K] and rate constants
# [1/h] of making and destroying the intermediate product; then the steepness and the
# midpoint [K] of its turning into a portion.
MAKING_K = 4153.5
DESTROYING_K = 12888.8
MAKING_RATE = 1.395e5
DESTROYING_RATE = 2.567e18
STEEPNESS = 1.6
MIDPOINT_K = 277.0
KELVIN_OFFSET = 273.0  # as fitted, not 273.15: the constants hold only with it


def hours_below(temperature_c: Array, limit_c: float = CHILL_HOUR_LIMIT_C) -> Array:
    """Return 1 for each hour colder than the limit, 0 for others, NaN if unknown.

    Parameters
    ----------
    temperature_c : array of any shape
        Hourly [degC].
    limit_c : float
        Not counted itself.

    Returns
    -------
    array of the same shape
        Source: Weinberger (1950), Proc. Am. Soc. Hort. Sci. 56:122-128.
    """
    temperature = np.asarray(temperature_c, dtype=np.float64)
    return _known(temperature, (temperature < limit_c - TIE_C).astype(np.float64))


def hours_between(
    temperature_c: Array, floor_c: float = 0.0, limit_c: float = CHILL_HOUR_LIMIT_C
) -> Array:
    """Return 1 for each hour from 0 to 7.2 degC, both counted, 0 for others.

    Frozen hours are left out, as nothing happens in a frozen bud. Shapes, units and
    gaps as in :func:`hours_below`, whose bounded form this is.
    """
    temperature = np.asarray(temperature_c, dtype=np.float64)
    counts = (temperature >= floor_c - TIE_C) & (temperature <= limit_c + TIE_C)
    return _known(temperature, counts.astype(np.float64))


def utah_units(temperature_c: Array) -> Array:
    """Return the chill units of each hour, -1 to 1; warm hours take away.

    Parameters
    ----------
    temperature_c : array of any shape
        Hourly [degC].

    Returns
    -------
    array of the same shape
        Bins in degC, upper bounds included.
        Source: Richardson, Seeley and Walker (1974), HortScience 9:331-332. For cold
        winters; in mild ones the sum falls below zero and means nothing.
    """
    temperature = np.asarray(temperature_c, dtype=np.float64)
    places = np.searchsorted(
        np.asarray(UTAH_BOUNDS_C) + TIE_C, temperature, side="left"
    )
    return _known(temperature, np.asarray(UTAH_WORTH)[places])


def positive_utah_units(temperature_c: Array) -> Array:
    """Return the Utah units of each hour without those that take away, 0 to 1.

    Source: Linsley-Noakes, Louw and Allan (1995). For mild winters. Shapes, units and
    gaps as in :func:`utah_units`.
    """
    return np.asarray(np.maximum(utah_units(temperature_c), 0.0))


@dataclass(frozen=True, slots=True)
class DynamicState:
    """What the Dynamic model remembers between hours; arrays of shape (...) [-].

    ``product`` is the intermediate product, which heat destroys; ``conversion`` the
    share of it that the last hour would have fixed.
    """

    product: Array
    conversion: Array


def dynamic_portions(
    temperature_c: Array, state: DynamicState | None = None
) -> tuple[Array, DynamicState]:
    """Return the chill portions that each hour fixed, and the state after the last.

    Parameters
    ----------
    temperature_c : array, shape (hours, ...)
        Hours that follow each other, for any number of places [degC].
    state : DynamicState or None
        After the hour before the first, arrays of shape (...); ``None`` starts anew.

    Returns
    -------
    portions : array, shape (hours, ...)
        Mostly 0; near 1 when a portion is fixed. An hour without a reading gives NaN
        and leaves the state as it was.
    state : DynamicState
        To hand in with the hours that follow.

    Notes
    -----
    The product nears its steady state exponentially; once it has reached 1, the share
    that the temperature allows is fixed as a portion, and the next hour begins with
    what is left.
    Source: Fishman, Erez and Couvillon (1987), J. Theor. Biol. 124:473-483; constants
    of Erez et al. (1990), Acta Hort. 276:165-174.
    """
    temperature = np.asarray(temperature_c, dtype=np.float64)
    kelvin = temperature + KELVIN_OFFSET
    conversion = _conversion(kelvin)
    steady = MAKING_RATE / DESTROYING_RATE * np.exp((DESTROYING_K - MAKING_K) / kelvin)
    left = np.exp(-DESTROYING_RATE * np.exp(-DESTROYING_K / kelvin))
    place_shape = temperature.shape[1:]
    product = np.zeros(place_shape) if state is None else state.product
    previous = np.zeros(place_shape) if state is None else state.conversion
    portions = np.empty_like(temperature)
    for hour in range(len(temperature)):
        is_known = ~np.isnan(temperature[hour])
        start = np.where(product < 1, product, product * (1 - previous))
        grown = steady[hour] - (steady[hour] - start) * left[hour]
        portions[hour] = np.where(grown < 1, 0.0, conversion[hour] * grown)
        product = np.where(is_known, grown, product)
        previous = np.where(is_known, conversion[hour], previous)
    return _known(temperature, portions), DynamicState(product, previous)


def _conversion(kelvin: Array) -> Array:
    """Return the share of a ripe product that an hour fixes, 0 to 1."""
    power = STEEPNESS * MIDPOINT_K * (kelvin - MIDPOINT_K) / kelvin
    return np.asarray(1 / (1 + np.exp(-power)))


def _known(temperature: Array, worth: Array) -> Array:
    return np.asarray(np.where(np.isnan(temperature), np.nan, worth))


@dataclass(frozen=True, slots=True)
class ChillSums:
    """One stretch of hours by every model; arrays of shape (...), one value a place.

    ``known_hours`` of ``hours`` had a reading; the others are in no sum.
    """

    hours_below: Array
    hours_between: Array
    utah: Array
    positive_utah: Array
    portions: Array
    known_hours: Array
    hours: int


def chill_sums(temperature_c: Array) -> ChillSums:
    """Return what a stretch of hours is worth by every model.

    Parameters
    ----------
    temperature_c : array, shape (hours, ...)
        The whole winter so far [degC]; the Dynamic model starts anew in its first hour.
    """
    temperature = np.asarray(temperature_c, dtype=np.float64)
    portions, _ = dynamic_portions(temperature)
    return ChillSums(
        hours_below=_total(hours_below(temperature)),
        hours_between=_total(hours_between(temperature)),
        utah=_total(utah_units(temperature)),
        positive_utah=_total(positive_utah_units(temperature)),
        portions=_total(portions),
        known_hours=_total((~np.isnan(temperature)).astype(np.float64)),
        hours=len(temperature),
    )


def winter_chill(
    tmin_c: Array,
    tmax_c: Array,
    latitude_deg: float,
    day_numbers: Array,
    *,
    first: int,
    last: int,
) -> dict[NightCurve, ChillSums]:
    """Return the chill of some days of a daily record, once for each night curve.

    The two results are the ends of a range: neither curve is better known than the
    other, and where chill is scarce they lie far apart.

    Parameters
    ----------
    tmin_c, tmax_c : arrays, shape (days,)
        Of days that follow each other [degC]; a missing day is NaN.
    latitude_deg : float
        Latitude, south negative [deg].
    day_numbers : array, shape (days,), 1-366
        Day of the year of each day.
    first, last : int
        Places of the first and last day that count, both included; the days around
        them only shape their nights.

    Raises
    ------
    ValueError
        If a day's minimum lies above its maximum, or the shapes differ.
    """
    sums = {}
    for night in NightCurve:
        hours = hourly_temperatures_c(tmin_c, tmax_c, latitude_deg, day_numbers, night)
        sums[night] = chill_sums(hours[first : last + 1].ravel())
    return sums


def day_reached(worth_by_day: Array, need: float) -> int | None:
    """Return the first day by whose end the need is met, or ``None``.

    Parameters
    ----------
    worth_by_day : array, shape (days,)
        Portions, units or hours of each day; NaN counts for nothing.
    need : float
        What the cultivar asks for, in the same model's unit.
    """
    is_met = np.nancumsum(np.asarray(worth_by_day, dtype=np.float64)) >= need
    return int(np.argmax(is_met)) if np.any(is_met) else None


def _total(worth: Array) -> Array:
    return np.asarray(np.nansum(worth, axis=0))
