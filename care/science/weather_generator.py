"""Years of daily weather made up from what is usual at a place: seeded, repeatable.

Usual weather has no dry spells, no storms and no cold nights. Generated years have
them, with the usual means and totals in the long run: whether a day is wet follows
from the day before, how much falls is skewed, and warmth departs from the usual and
comes back over some days.

Seasons differ as a whole, too: some are warm or wet for months. How far was measured
on two records of four years each.

Limits: the coldest outbreaks of real years reach further than a normal distribution.
In generated years of Seattle and New York the coldest night of the year is some 1.7
degrees too mild. Wet days differ from dry ones in their range alone; that they are mild
in winter and cool in summer is left out.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from care.facts import Array, Flags

Places = NDArray[np.int64]

YEAR_SLOTS = 366  # days of a leap year; 29 February has the place 59
LEAP_PLACE = 59
WET_MM = 0.2  # from here on a day counts as wet: a hundredth of an inch is 0.25

# Correlation of a day's departure with the day before: 0.75 in Seattle, 0.66 in New
# York (records of 2012-2015).
PERSISTENCE = 0.65
DEPARTURE_C = 3.0  # 2.7 in Seattle, 3.6 in New York
# How much likelier rain is after a wet day than after a dry one. Geng, Penning de
# Vries and Supit (1986), Agric. For. Meteorol. 36:363-376: p(W|D) = 0.75 f and
# p(W|W) = 0.25 + p(W|D), from memory. Seattle 0.33, New York 0.13.
WET_PERSISTENCE = 0.25
# Scale of the gamma distribution of wet days, from their mean in mm: beta = -2.16 +
# 1.83 mean, the same source, from memory. The line falls below nothing for drizzle;
# the shape is held to 1, a plain exponential distribution.
SCALE_OFFSET_MM, SCALE_SLOPE = -2.16, 1.83
MOST_SHAPE = 1.0
SHAPE_STEP = 0.05  # so that a growing record leaves the years it made alone; ours
# Daily range of a dry day less that of a wet one, over the usual range: 0.40 in
# Seattle, 0.20 in New York (the same records); between them.
WET_RANGE_SHARE = 0.3
# Seasons depart as a whole: of the variance of a day's warmth a quarter lasts for
# months. The mean of 90 days has a standard deviation of 1.06 in Seattle and 1.62 in
# New York (the same records); without this share 0.66 and 0.76 come out.
SEASONS_SHARE = 0.25
# By how much seasons are wetter and drier, as the standard deviation of the logarithm,
# and how much narrower [degC] the daily range is in a season so much wetter. Rain of 90
# days varies by 0.39 of its mean in Seattle and 0.35 in New York; without, 0.25 and
# 0.29. Their daily range by 0.46 and 0.43; without, 0.15 and 0.13.
SEASONS_RAIN, SEASONS_RANGE_C = 0.3, 0.6
SEASON_POINTS = 6  # a year, between which departures run straight; ours
LEAST_RANGE_C = 1.0
# Ours, between Seattle and New York: of so much usual rain a day, the share of days
# that are wet is 1 - exp(-1).
WET_SHARE_MM = 7.0


@dataclass(frozen=True, slots=True, eq=False)
class Climate:
    """What is usual at a place; arrays of 366, one value for each day of a leap year.

    ``rain_mm`` is the mean over wet and dry days, ``wet_share`` the chance of rain on
    a day, above 0 where rain is; ``departure_sd_c`` is the standard deviation of a
    day's mean temperature from the usual one.
    """

    tmin_c: Array
    tmax_c: Array
    rain_mm: Array
    wet_share: Array
    departure_sd_c: Array
    persistence: float = PERSISTENCE
    wet_persistence: float = WET_PERSISTENCE


@dataclass(frozen=True, slots=True, eq=False)
class GeneratedDays:
    """Days that follow each other in several courses; arrays (courses, days)."""

    tmin_c: Array
    tmax_c: Array
    rain_mm: Array


def usual_wet_share(rain_mm: Array) -> Array:
    """Return the share of days with rain where only the usual rain is known.

    ``1 - exp(-r / 7 mm)`` for ``r`` of usual rain a day [mm]; ours, for want of rain
    days: Seattle's Januaries come out as 0.41 instead of 0.53 and New York's Junes as
    0.49 instead of 0.38.
    """
    return np.asarray(1 - np.exp(-np.asarray(rain_mm) / WET_SHARE_MM))


def wet_chances(
    wet_share: Array | float, wet_persistence: float = WET_PERSISTENCE
) -> tuple[Array, Array]:
    """Return the chance of rain after a dry and after a wet day, p(W|D) and p(W|W).

    Parameters
    ----------
    wet_share : array of any shape
        Of days with rain, 0 to 1.
    wet_persistence : float
        By how much they differ, 0 to 1.

    Returns
    -------
    pair of arrays of that shape
        With the default those of Geng and others (1986).
    """
    share = np.asarray(wet_share, dtype=np.float64)
    after_dry = (1 - wet_persistence) * share
    return after_dry, after_dry + wet_persistence


def amount_shape(mean_mm: float) -> float:
    """Return the shape of the gamma distribution of rain on wet days [-].

    Parameters
    ----------
    mean_mm : float
        Of a wet day, above nothing. The scale is the mean over the shape.
        Source: Geng and others (1986), as named above, from memory.
    """
    scale_mm = max(SCALE_OFFSET_MM + SCALE_SLOPE * mean_mm, mean_mm / MOST_SHAPE)
    return round(mean_mm / scale_mm / SHAPE_STEP) * SHAPE_STEP


def slots_of_year(year: int) -> Places:
    """Return the place of each day of a calendar year in an array of a leap year."""
    days = (date(year + 1, 1, 1) - date(year, 1, 1)).days
    slots = np.arange(YEAR_SLOTS)
    return slots if days == YEAR_SLOTS else np.delete(slots, LEAP_PLACE)


def generate_days(
    climate: Climate, first: date, days: int, *, courses: int, seed: int
) -> GeneratedDays:
    """Return made-up weather of some days of the calendar, the same for the same place.

    Each calendar year is made by itself, as wet and as warm on 1 January as is usual;
    so a day has the same weather whichever day is asked for first, and a plan made
    tomorrow sees the futures of today. A climate that changes a little changes the
    weather little.

    Parameters
    ----------
    climate : Climate
    first : datetime.date
    days : int
        At least one.
    courses : int
        How many to make; the first ones are the same however many there are.
    seed : int
        Of the place, not below zero.

    Returns
    -------
    GeneratedDays
        Arrays (courses, days). Rain is not below nothing, and exactly nothing on a dry
        day; no high lies below its low. Means over many years are the climate's.

    Notes
    -----
    Occurrence is a Markov chain of two states and warmth a first-order autoregression:
    Richardson (1981), Water Resour. Res. 17:182-190, less its radiation and with one
    departure for both temperatures. Beside it seasons depart as a whole, New Year or not.
    """
    last = first + timedelta(days=days - 1)
    years = [
        _generate_year(climate, year, courses, seed)
        for year in range(first.year, last.year + 1)
    ]
    offset = first.timetuple().tm_yday - 1
    span = slice(offset, offset + days)
    return GeneratedDays(
        *(np.concatenate(parts, axis=1)[:, span] for parts in zip(*years, strict=True))
    )


def _generate_year(
    climate: Climate, year: int, courses: int, seed: int
) -> tuple[Array, Array, Array]:
    """Return lows, highs and rain of one calendar year; (courses, 365 or 366)."""
    slots = slots_of_year(year)
    draws = [np.random.default_rng([seed, year, course]) for course in range(courses)]
    shape = _usual_shape(climate)
    # In this order, and for all days: what one needs does not move the others.
    noise = np.array([rng.standard_normal(len(slots)) for rng in draws])
    chance = np.array([rng.random(len(slots)) for rng in draws])
    amounts = np.array([rng.standard_gamma(shape, len(slots)) for rng in draws])

    share = climate.wet_share[slots]
    is_wet = _wet_days(share, climate.wet_persistence, chance)
    mean_mm = climate.rain_mm[slots] / np.where(share > 0, share, 1.0)
    warmth, wetness = (each[:, slots] for each in _of_seasons(year, courses, seed))
    # What lasts for months lasts from day to day; the rest carries over so much less.
    carried = max((climate.persistence - SEASONS_SHARE) / (1 - SEASONS_SHARE), 0.0)
    departure = np.sqrt(1 - SEASONS_SHARE) * _persisting(noise, carried)
    departure += np.sqrt(SEASONS_SHARE) * warmth
    tmin_c, tmax_c = climate.tmin_c[slots], climate.tmax_c[slots]
    mean_c = (tmin_c + tmax_c) / 2 + climate.departure_sd_c[slots] * departure
    # Wider on dry days and narrower on wet ones, by as much as keeps the mean.
    range_c = (tmax_c - tmin_c) * (1 + WET_RANGE_SHARE * (share - is_wet))
    least_c = np.minimum(range_c, LEAST_RANGE_C)
    half_range_c = np.maximum(range_c - SEASONS_RANGE_C * wetness, least_c) / 2
    wetter = np.exp(SEASONS_RAIN * wetness - SEASONS_RAIN**2 / 2)
    rain_mm = np.where(is_wet, mean_mm / shape * amounts * wetter, 0.0)
    return mean_c - half_range_c, mean_c + half_range_c, rain_mm


def _of_seasons(year: int, courses: int, seed: int) -> Array:
    """Return how warm and how wet the seasons are, as standard normal departures.

    Shape (2, courses, 366): points every two months, the neighbouring years' included,
    and straight lines between them, stretched so that no day varies less than another.
    Every second course departs as the one before it, the other way round: so a few
    courses have the usual mean already.
    """
    pairs = (courses + 1) // 2
    drawn = [
        np.random.default_rng([seed, each, pair, 1]).standard_normal((2, SEASON_POINTS))
        for pair in range(pairs)
        for each in (year - 1, year, year + 1)
    ]
    of_pairs = np.array(drawn).reshape(pairs, 3, 2, SEASON_POINTS)
    points = np.stack([of_pairs, -of_pairs], axis=1).reshape(-1, 3, 2, SEASON_POINTS)
    points = points[:courses]
    in_order = np.moveaxis(points, 2, 0).reshape(2, courses, 3 * SEASON_POINTS)
    apart = YEAR_SLOTS / SEASON_POINTS
    place = np.arange(YEAR_SLOTS) / apart + SEASON_POINTS - 0.5
    before = place.astype(np.int64)
    share = place - before
    between = (1 - share) * in_order[..., before] + share * in_order[..., before + 1]
    return np.asarray(between / np.sqrt(share**2 + (1 - share) ** 2))


def _usual_shape(climate: Climate) -> float:
    rain_mm = float(climate.rain_mm.sum())
    is_rainy = rain_mm > 0
    return amount_shape(rain_mm / climate.wet_share.sum()) if is_rainy else MOST_SHAPE


def _wet_days(share: Array, wet_persistence: float, chance: Array) -> Flags:
    """Return which days are wet, from a chance drawn for each; (courses, days)."""
    after_dry, after_wet = wet_chances(share, wet_persistence)
    is_wet = np.zeros(chance.shape, dtype=bool)
    is_wet[:, 0] = chance[:, 0] < share[0]
    for day in range(1, len(share)):
        limit = np.where(is_wet[:, day - 1], after_wet[day], after_dry[day])
        is_wet[:, day] = chance[:, day] < limit
    return is_wet


def _persisting(noise: Array, persistence: float) -> Array:
    """Return standard normal departures that carry over from day to day."""
    departures = noise.copy()
    fresh = np.sqrt(1 - persistence**2)
    for day in range(1, noise.shape[1]):
        departures[:, day] *= fresh
        departures[:, day] += persistence * departures[:, day - 1]
    return departures
