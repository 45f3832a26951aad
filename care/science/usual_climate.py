"""The climate of a place as a series of its weather tells it, well or poorly known.

Usual days, typed or reckoned from the record, give its means. What they cannot tell,
how often it rains and how far days depart from the usual, comes from observed days;
where those are few it leans on what other places have.
"""

import numpy as np
from numpy.typing import NDArray

from care.facts import Array, Flags, WeatherSeries
from care.science.weather_generator import (
    DEPARTURE_C,
    LEAP_PLACE,
    PERSISTENCE,
    WET_MM,
    WET_PERSISTENCE,
    YEAR_SLOTS,
    Climate,
    usual_wet_share,
)

Places = NDArray[np.int64]

AROUND_DAYS = 15  # either side of a date, for what is usual about it; ours
# How many observed days weigh as much as what other places have; ours. Of those about
# a date, and of all.
LIKE_OTHERS_DAYS, LIKE_OTHERS_ALL_DAYS = 15.0, 365.0
LEAST_PERSISTENCE, MOST_PERSISTENCE = 0.3, 0.9  # of warmth; ours
MOST_WET_PERSISTENCE = 0.6  # ours


def slots_of(series: WeatherSeries) -> Places:
    """Return the place of each day of a series in an array of a leap year, 0 to 365."""
    days = np.datetime64(series.start, "D") + np.arange(len(series))
    months = days.astype("datetime64[M]")
    years = days.astype("datetime64[Y]")
    number = (days - years).astype(np.int64)
    is_leap = (years + 1).astype("datetime64[D]") - years.astype("datetime64[D]")
    is_common = is_leap.astype(np.int64) < YEAR_SLOTS
    is_after = months.astype(np.int64) % 12 >= 2  # noqa: PLR2004 (from March on)
    return np.asarray(number + (is_common & is_after))


def mean_around(values: Array, slots: Places, days: int) -> Array:
    """Return the mean of known values about each date of a leap year.

    Parameters
    ----------
    values : array (days,)
        NaN where unknown; at least one is known.
    slots : array (days,)
        Place of each day in the year, 0 to 365.
    days : int
        How many either side of a date count.

    Returns
    -------
    array (366,)
        The mean of all where no value lies about a date.
    """
    total, count = _sums_around(values, slots, days)
    overall = float(np.nanmean(values))
    full = np.full(YEAR_SLOTS, overall)
    return np.asarray(np.divide(total, count, out=full, where=count > 0))


def usual_climate(series: WeatherSeries) -> Climate | None:
    """Return what is usual at the place of a series, ``None`` without temperatures.

    Parameters
    ----------
    series : WeatherSeries
        Usual days (``n``) give the means of their dates; other dates take the mean of
        the observed days about them. Forecasts are not looked at. Rain that nobody
        ever measured, nor knows as usual, counts as none.
    """
    slots = slots_of(series)
    is_sound = series.tmin_c <= series.tmax_c
    is_usual, is_observed = (
        np.array([each == letter for each in series.origin], dtype=bool) & is_sound
        for letter in "no"
    )
    if not (is_usual | is_observed).any():
        return None
    tmin_c, tmax_c, rain_mm = (
        _usual(values, slots, is_usual, is_observed)
        for values in (series.tmin_c, series.tmax_c, series.rain_mm)
    )
    mean_c = np.where(is_observed, (series.tmin_c + series.tmax_c) / 2, np.nan)
    departure_c = mean_c - ((tmin_c + tmax_c) / 2)[slots]
    sd_c = np.sqrt(_leaning(departure_c**2, slots, np.full(YEAR_SLOTS, DEPARTURE_C**2)))
    is_wet = np.where(
        is_observed & ~np.isnan(series.rain_mm), series.rain_mm >= WET_MM, np.nan
    )
    wet_share = _leaning(is_wet, slots, usual_wet_share(rain_mm))
    return Climate(
        tmin_c=tmin_c,
        tmax_c=tmax_c,
        rain_mm=rain_mm,
        wet_share=np.where(rain_mm > 0, wet_share, 0.0),
        departure_sd_c=sd_c,
        persistence=_carried_over(
            departure_c / sd_c[slots], PERSISTENCE, LEAST_PERSISTENCE, MOST_PERSISTENCE
        ),
        wet_persistence=_carried_over(
            _standard(is_wet, wet_share[slots]),
            WET_PERSISTENCE,
            0.0,
            MOST_WET_PERSISTENCE,
        ),
    )


def _sums_around(values: Array, slots: Places, days: int) -> tuple[Array, Array]:
    """Return the sum and the number of known values about each date; (366,)."""
    known = ~np.isnan(values)
    window = np.ones(2 * days + 1)
    total = np.bincount(slots[known], values[known], YEAR_SLOTS)
    count = np.bincount(slots[known], minlength=YEAR_SLOTS).astype(np.float64)
    wide = (
        np.convolve(np.pad(sums, days, "wrap"), window, "valid")
        for sums in (total, count)
    )
    summed, counted = wide
    return np.asarray(summed), np.asarray(counted)


def _usual(values: Array, slots: Places, is_usual: Flags, is_observed: Flags) -> Array:
    """Return the usual value of each date: as told, or from the days about it."""
    told, count = _sums_around(np.where(is_usual, values, np.nan), slots, 0)
    known = np.where(is_usual | is_observed, values, np.nan)
    if np.isnan(known).all():
        return np.zeros(YEAR_SLOTS)
    about = mean_around(known, slots, AROUND_DAYS)
    usual = np.divide(told, count, out=about, where=count > 0)
    if not count[LEAP_PLACE]:  # no leap year among the usual days
        usual[LEAP_PLACE] = (usual[LEAP_PLACE - 1] + usual[LEAP_PLACE + 1]) / 2
    return np.asarray(usual)


def _leaning(values: Array, slots: Places, elsewhere: Array) -> Array:
    """Return means about each date that lean on other places where days are few."""
    total, count = _sums_around(values, slots, AROUND_DAYS)
    return np.asarray(
        (total + LIKE_OTHERS_DAYS * elsewhere) / (count + LIKE_OTHERS_DAYS)
    )


def _standard(is_wet: Array, share: Array) -> Array:
    """Return wet days as departures with mean 0 and variance 1."""
    spread = np.sqrt(np.maximum(share * (1 - share), 1e-6))
    return np.asarray((is_wet - share) / spread)


def _carried_over(
    departures: Array, elsewhere: float, least: float, most: float
) -> float:
    """Return the correlation of standard departures with those of the day before."""
    products = departures[1:] * departures[:-1]
    known = products[~np.isnan(products)]
    total = float(known.sum()) + LIKE_OTHERS_ALL_DAYS * elsewhere
    found = total / (known.size + LIKE_OTHERS_ALL_DAYS)
    return min(max(found, least), most)
