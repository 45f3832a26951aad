"""A site's weather as the water balance needs it: filled, judged, and continued.

Gaps are never zeros: missing temperatures come filled with the series, evaporation is
reckoned from them, missing rain counts as none and is reported. Made-up days of futures
may stand behind the series' end.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from care.facts import Array, Flags, SiteFacts, WeatherSeries
from care.science.effective_rain import counted_rain_mm, dependable_rain_mm
from care.science.evapotranspiration import (
    DailyWeather,
    hargreaves_calibration,
    reference_evapotranspiration,
)
from care.science.gap_filling import filled_gaps
from care.science.kc_climate import minimum_humidity_percent
from care.science.usual_climate import mean_around
from care.science.water_balance import ROOT_BASE_C
from care.science.weather_generator import GeneratedDays

Whole = NDArray[np.int64]

MOST_RAIN_MM = 300.0  # a day above this is a typing error or runs off; no source
SMOOTHING_DAYS = 10  # either side, for the usual value of a time of year
MEAN_MONTH_DAYS = 365.25 / 12
COLD_C = 5.0  # 7-day mean; evergreens use about half below it; no source
HARD_WINTER_C = -23.3  # upper end of plant hardiness zone 5


@dataclass(frozen=True, slots=True)
class SiteWeather:
    """One site's daily arrays over the whole series, without gaps.

    Made-up days may follow, several futures one after the other.
    """

    et0_mm: Array
    et0_method: tuple[str, ...]
    rain_mm: Array  # what counts of it
    storm_mm: Array  # what fell or will fall on one day, nothing where only normal
    warmth: Array  # degree days for roots
    is_frozen: Flags
    is_cold: Flags
    is_rain_known: Flags
    day_number: Array
    wind_ms: Array  # NaN where nobody knows
    minimum_humidity_percent: Array  # likewise
    has_hard_winters: bool
    hargreaves_factor: float  # that holds it to better days of the same place


def _day_numbers(series: WeatherSeries) -> Array:
    first = np.datetime64(series.start, "D")
    days = first + np.arange(len(series))
    years = days.astype("datetime64[Y]")
    return np.asarray((days - years).astype(np.float64) + 1)


def _filled(values: Array, slots: Whole) -> Array:
    if not np.isnan(values).any():
        return values
    usual = mean_around(values, slots, SMOOTHING_DAYS)
    return filled_gaps(values, usual[slots]).values


def _week_means(values: Array) -> Array:
    """Return the mean of each day and the six before it, fewer at the beginning.

    Shape (..., days).
    """
    sums = np.cumsum(values, axis=-1)
    sums = np.concatenate([np.zeros_like(sums[..., :1]), sums], axis=-1)
    ends = np.arange(1, values.shape[-1] + 1)
    begins = np.maximum(ends - 7, 0)
    return np.asarray((sums[..., ends] - sums[..., begins]) / (ends - begins))


def _or_unknown(values: Array | None, length: int) -> Array:
    return np.full(length, np.nan) if values is None else values


def _is_known(values: Array | None, length: int) -> Flags:
    if values is None:
        return np.zeros(length, dtype=bool)
    return ~np.isnan(values)


def _low_and_high(series: WeatherSeries) -> tuple[Array, Array]:
    """Return the temperatures with their gaps filled, where the series holds them so."""
    low, high = series.filled_tmin_c, series.filled_tmax_c
    return (
        series.tmin_c if low is None else low,
        series.tmax_c if high is None else high,
    )


def _evapotranspiration(
    site: SiteFacts, series: WeatherSeries, day_number: Array
) -> tuple[Array, tuple[str, ...], float]:
    """Return ET0 with gaps, each day's method, and what Hargreaves is held to."""
    length = len(series)
    is_given = _is_known(series.et0_mm, length)
    is_full = (
        _is_known(series.humidity_percent, length)
        & _is_known(series.wind_ms, length)
        & _is_known(series.radiation_mj, length)
        & ~is_given
    )
    low_c, high_c = _low_and_high(series)
    weather = DailyWeather(
        day_number,
        low_c,
        high_c,
        series.humidity_percent,
        series.wind_ms,
        series.radiation_mj,
        series.et0_mm,
    )

    def evaluate(days: DailyWeather, factor: float) -> Array:
        return reference_evapotranspiration(
            days,
            latitude_deg=site.latitude_deg,
            elevation_m=site.elevation_m,
            hargreaves_calibration=factor,
        )[0]

    simple = evaluate(DailyWeather(day_number, low_c, high_c), 1.0)
    better = np.where(is_given | is_full, evaluate(weather, 1.0), np.nan)
    factor = hargreaves_calibration(better, simple)
    et0 = evaluate(weather, factor)
    names = np.where(
        is_given, "given", np.where(is_full, "penman_monteith", "hargreaves")
    )
    return et0, tuple(str(name) for name in names), factor


def _is_normal(origin: str) -> Flags:
    return np.array([letter == "n" for letter in origin], dtype=bool)


def _counted(rain_mm: Array, et0_mm: Array, origin: str) -> Array:
    """Return the rain that counts: showers by their size, normals by the month.

    Normals spread a month's storms over all its days; counting that drizzle whole
    would keep every root zone full, so only the dependable part of it counts.
    """
    return np.where(
        _is_normal(origin),
        dependable_rain_mm(rain_mm * MEAN_MONTH_DAYS) / MEAN_MONTH_DAYS,
        counted_rain_mm(rain_mm, et0_mm),
    )


def judge_weather(site: SiteFacts, series: WeatherSeries) -> SiteWeather | None:
    """Return the site's arrays, or ``None`` if no day has any temperature or ET0.

    Parameters
    ----------
    site : SiteFacts
        For its latitude and elevation.
    series : WeatherSeries
        Contiguous days; gaps are NaN.

    Returns
    -------
    SiteWeather or None
        Arrays of the series' length.
    """
    day_number = _day_numbers(series)
    et0, methods, factor = _evapotranspiration(site, series, day_number)
    low_c, high_c = _low_and_high(series)
    mean_c = (low_c + high_c) / 2
    if np.isnan(et0).all() or np.isnan(mean_c).all():
        return None
    slots = day_number.astype(np.int64) - 1
    et0 = _filled(et0, slots)
    mean_c = _filled(mean_c, slots)
    week_c = _week_means(mean_c)
    rain = np.clip(np.nan_to_num(series.rain_mm, nan=0.0), 0.0, MOST_RAIN_MM)
    return SiteWeather(
        et0_mm=et0,
        et0_method=methods,
        rain_mm=_counted(rain, et0, series.origin),
        storm_mm=np.where(_is_normal(series.origin), 0.0, rain),
        warmth=np.maximum(mean_c - ROOT_BASE_C, 0.0),
        is_frozen=(week_c < 0) | (np.nan_to_num(high_c, nan=1.0) <= 0),
        is_cold=week_c < COLD_C,
        is_rain_known=~np.isnan(series.rain_mm) & ~_is_normal(series.origin),
        day_number=day_number,
        wind_ms=_or_unknown(series.wind_ms, len(series)),
        minimum_humidity_percent=minimum_humidity_percent(
            series.tmin_c,
            series.tmax_c,
            _or_unknown(series.humidity_percent, len(series)),
        ),
        has_hard_winters=bool((series.tmin_c < HARD_WINTER_C).any()),
        hargreaves_factor=factor,
    )


def with_generated(
    site: SiteFacts, weather: SiteWeather, made: GeneratedDays, day_number: Array
) -> SiteWeather:
    """Return a site's weather with made-up days behind it, one course after another.

    Parameters
    ----------
    site : SiteFacts
    weather : SiteWeather
        Of its series.
    made : GeneratedDays
        Shape (courses, days). The weeks' means begin anew with each course.
    day_number : array (days,)
        Of the year, from 1.
    """
    numbers = np.tile(day_number, len(made.tmin_c))
    et0 = reference_evapotranspiration(
        DailyWeather(numbers, made.tmin_c.ravel(), made.tmax_c.ravel()),
        latitude_deg=site.latitude_deg,
        elevation_m=site.elevation_m,
        hargreaves_calibration=weather.hargreaves_factor,
    )[0]
    mean_c = (made.tmin_c + made.tmax_c) / 2
    week_c = _week_means(mean_c)
    rain = np.minimum(made.rain_mm.ravel(), MOST_RAIN_MM)
    unknown = np.full(len(rain), np.nan)

    def then(known: Array, ahead: Array) -> Array:
        return np.concatenate([known, ahead.ravel()])

    return replace(
        weather,
        et0_mm=then(weather.et0_mm, et0),
        et0_method=(*weather.et0_method, *["hargreaves"] * len(rain)),
        rain_mm=then(weather.rain_mm, counted_rain_mm(rain, et0)),
        storm_mm=then(weather.storm_mm, rain),
        warmth=then(weather.warmth, np.maximum(mean_c - ROOT_BASE_C, 0.0)),
        is_frozen=np.append(weather.is_frozen, (week_c < 0) | (made.tmax_c <= 0)),
        is_cold=np.append(weather.is_cold, week_c < COLD_C),
        is_rain_known=np.append(weather.is_rain_known, np.zeros(len(rain), bool)),
        day_number=then(weather.day_number, numbers),
        wind_ms=then(weather.wind_ms, unknown),
        minimum_humidity_percent=then(weather.minimum_humidity_percent, unknown),
    )
