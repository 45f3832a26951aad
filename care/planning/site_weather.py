"""A site's weather as the water balance needs it: filled, judged, and continued.

Gaps are never zeros: a missing temperature takes the usual value of that time of
year, missing rain counts as none and is reported. Beyond the last observed or
forecast day the past years of the same record carry on, or, where there are none, the
normals with no rain, their rain and twice their rain.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from care.facts import Array, Flags, SiteFacts, WeatherSeries
from care.science.effective_rain import counted_rain_mm, dependable_rain_mm
from care.science.evapotranspiration import (
    DailyWeather,
    hargreaves_calibration,
    reference_evapotranspiration,
)
from care.science.kc_climate import minimum_humidity_percent
from care.science.water_balance import ROOT_BASE_C

Whole = NDArray[np.int64]

MOST_RAIN_MM = 300.0  # a day above this is a typing error or runs off; no source
SMOOTHING_DAYS = 10  # either side, for the usual value of a time of year
DAY_SHIFTS = (-10, -5, 0, 5, 10)  # few years tell more when also moved by days
ENOUGH_YEARS = 10  # from here on, moving days adds nothing worth its time
MEAN_MONTH_DAYS = 365.25 / 12
COLD_C = 5.0  # 7-day mean; evergreens use about half below it; no source
HARD_WINTER_C = -23.3  # upper end of plant hardiness zone 5


@dataclass(frozen=True, slots=True)
class SiteWeather:
    """One site's daily arrays over the whole series, without gaps."""

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


@dataclass(frozen=True, slots=True)
class Futures:
    """Which day of the series stands for each day ahead; shapes (members, days).

    ``is_ensemble`` tells past years from normals; ``central`` is the member that
    stands for the normal course where there is no ensemble.
    """

    picks: Whole
    rain_factor: Array
    is_ensemble: bool
    central: int

    @property
    def days(self) -> int:
        """How many days ahead there are."""
        return int(self.picks.shape[1])


def _day_numbers(series: WeatherSeries) -> Array:
    first = np.datetime64(series.start, "D")
    days = first + np.arange(len(series))
    years = days.astype("datetime64[Y]")
    return np.asarray((days - years).astype(np.float64) + 1)


def _usual_of_the_year(values: Array, day_number: Array) -> Array:
    """Return the mean of all known values within ten days of each day's date."""
    slots = 366
    place = day_number.astype(int) - 1
    known = ~np.isnan(values)
    total = np.bincount(place[known], values[known], slots)
    count = np.bincount(place[known], minlength=slots).astype(float)
    window = np.ones(2 * SMOOTHING_DAYS + 1)
    wide_total = np.convolve(np.pad(total, SMOOTHING_DAYS, "wrap"), window, "valid")
    wide_count = np.convolve(np.pad(count, SMOOTHING_DAYS, "wrap"), window, "valid")
    overall = float(values[known].mean())
    usual = np.divide(
        wide_total, wide_count, out=np.full(slots, overall), where=wide_count > 0
    )
    return np.asarray(usual[place])


def _filled(values: Array, day_number: Array) -> Array:
    if not np.isnan(values).any():
        return values
    usual = _usual_of_the_year(values, day_number)
    return np.where(np.isnan(values), usual, values)


def _week_means(values: Array) -> Array:
    """Return the mean of each day and the six before it, fewer at the beginning."""
    sums = np.cumsum(np.concatenate([[0.0], values]))
    ends = np.arange(1, len(values) + 1)
    begins = np.maximum(ends - 7, 0)
    return np.asarray((sums[ends] - sums[begins]) / (ends - begins))


def _or_unknown(values: Array | None, length: int) -> Array:
    return np.full(length, np.nan) if values is None else values


def _is_known(values: Array | None, length: int) -> Flags:
    if values is None:
        return np.zeros(length, dtype=bool)
    return ~np.isnan(values)


def _evapotranspiration(
    site: SiteFacts, series: WeatherSeries, day_number: Array
) -> tuple[Array, tuple[str, ...]]:
    """Return ET0 with gaps, and each day's method, Hargreaves held to better days."""
    length = len(series)
    is_given = _is_known(series.et0_mm, length)
    is_full = (
        _is_known(series.humidity_percent, length)
        & _is_known(series.wind_ms, length)
        & _is_known(series.radiation_mj, length)
        & ~is_given
    )
    weather = DailyWeather(
        day_number,
        series.tmin_c,
        series.tmax_c,
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

    simple = evaluate(DailyWeather(day_number, series.tmin_c, series.tmax_c), 1.0)
    better = np.where(is_given | is_full, evaluate(weather, 1.0), np.nan)
    et0 = evaluate(weather, hargreaves_calibration(better, simple))
    names = np.where(
        is_given, "given", np.where(is_full, "penman_monteith", "hargreaves")
    )
    return et0, tuple(str(name) for name in names)


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
    et0, methods = _evapotranspiration(site, series, day_number)
    mean_c = (series.tmin_c + series.tmax_c) / 2
    if np.isnan(et0).all() or np.isnan(mean_c).all():
        return None
    et0 = _filled(et0, day_number)
    mean_c = _filled(mean_c, day_number)
    week_c = _week_means(mean_c)
    rain = np.clip(np.nan_to_num(series.rain_mm, nan=0.0), 0.0, MOST_RAIN_MM)
    return SiteWeather(
        et0_mm=et0,
        et0_method=methods,
        rain_mm=_counted(rain, et0, series.origin),
        storm_mm=np.where(_is_normal(series.origin), 0.0, rain),
        warmth=np.maximum(mean_c - ROOT_BASE_C, 0.0),
        is_frozen=(week_c < 0) | (np.nan_to_num(series.tmax_c, nan=1.0) <= 0),
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
    )


def _past_years(
    series: WeatherSeries, beyond: Whole, today_index: int, shifts: tuple[int, ...]
) -> list[Whole]:
    """Return the days of each fully observed earlier year that stand for ``beyond``."""
    observed = np.array([letter == "o" for letter in series.origin])
    usable = observed & ~np.isnan(series.rain_mm + series.tmin_c + series.tmax_c)
    found = []
    for years in range(1, len(series) // 365 + 2):
        for shift in shifts:
            picks = beyond - round(365.25 * years) + shift
            is_inside = picks[0] >= 0 and picks[-1] < today_index
            if is_inside and usable[picks].all():
                found.append(picks)
    return found


def imagine_futures(
    series: WeatherSeries, today_index: int, horizon_days: int
) -> Futures:
    """Return how the weather may go on from today, today included.

    The forecast is the same for every member. After it each earlier year of the
    record that was fully observed is one member; with fewer than ten years each is
    also taken five and ten days earlier and later. Without any such year the normals
    of the series go on in three ways: dry, as usual and with twice the rain. The
    series' end is the horizon's.
    """
    stop = min(today_index + horizon_days + 1, len(series))
    days = np.arange(today_index, stop)
    known = [i for i, letter in enumerate(series.origin[:stop]) if letter in "of"]
    last_known = max(known, default=-1)
    beyond = days[days > last_known]
    if not len(beyond):
        return Futures(
            days[None, :], np.ones((1, len(days))), is_ensemble=False, central=0
        )
    years = _past_years(series, beyond, today_index, (0,))
    if years and len(years) < ENOUGH_YEARS:
        years = _past_years(series, beyond, today_index, DAY_SHIFTS)
    if years:
        near = np.broadcast_to(
            days[days <= last_known], (len(years), len(days) - len(beyond))
        )
        picks = np.concatenate([near, np.array(years)], axis=1)
        return Futures(picks, np.ones(picks.shape), is_ensemble=True, central=0)
    factor = np.ones((3, len(days)))
    factor[0, days > last_known] = 0.0
    factor[2, days > last_known] = 2.0
    return Futures(
        np.broadcast_to(days, (3, len(days))), factor, is_ensemble=False, central=1
    )
