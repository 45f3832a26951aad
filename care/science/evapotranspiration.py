"""Reference evapotranspiration: what a short, well-watered grass would use in a day.

Two published models, one function each: Penman-Monteith where humidity, wind and
radiation are known, Hargreaves where only temperatures are. Wind is at 2 m unless a
name says otherwise.
"""

from typing import NamedTuple

import numpy as np

from care.facts import Array
from care.science.sun import MJ_TO_MM, extraterrestrial_radiation_mj

STEFAN_BOLTZMANN_MJ = 4.903e-9  # MJ/K4/m2/day; FAO-56 p. 52
ALBEDO = 0.23  # of the grass reference; FAO-56 Eq. 38
KELVIN = 273.16  # as FAO-56 Eq. 39 prints it
CALM_WIND_MS = 0.5  # floor, for the exchange that never stops; FAO-56 p. 63
INLAND_ADJUSTMENT = 0.16  # kRs of Eq. 50; 0.19 on coasts; FAO-56 p. 60


def atmospheric_pressure_kpa(elevation_m: Array | float) -> Array:
    """Return the mean pressure of the air at a height above the sea [kPa].

    Source: Allen et al. (1998), FAO-56, Eq. 7.
    """
    height = np.asarray(elevation_m, dtype=np.float64)
    return np.asarray(101.3 * ((293 - 0.0065 * height) / 293) ** 5.26)


def psychrometric_constant_kpa(pressure_kpa: Array | float) -> Array:
    """Return the psychrometric constant [kPa/degC].

    Source: Allen et al. (1998), FAO-56, Eq. 8.
    """
    return np.asarray(0.665e-3 * np.asarray(pressure_kpa, dtype=np.float64))


def saturation_vapour_pressure_kpa(temperature_c: Array | float) -> Array:
    """Return the vapour pressure of saturated air at one temperature [kPa].

    Source: Allen et al. (1998), FAO-56, Eq. 11.
    """
    t = np.asarray(temperature_c, dtype=np.float64)
    return np.asarray(0.6108 * np.exp(17.27 * t / (t + 237.3)))


def mean_saturation_vapour_pressure_kpa(
    tmin_c: Array | float, tmax_c: Array | float
) -> Array:
    """Return a day's mean saturation vapour pressure [kPa].

    The mean of both ends, since the curve bends: the pressure at the mean
    temperature would be too low. Source: Allen et al. (1998), FAO-56, Eq. 12.
    """
    return np.asarray(
        (
            saturation_vapour_pressure_kpa(tmin_c)
            + saturation_vapour_pressure_kpa(tmax_c)
        )
        / 2
    )


def vapour_pressure_slope_kpa(temperature_c: Array | float) -> Array:
    """Return the slope of the saturation vapour pressure curve [kPa/degC].

    Source: Allen et al. (1998), FAO-56, Eq. 13.
    """
    t = np.asarray(temperature_c, dtype=np.float64)
    return np.asarray(4098 * saturation_vapour_pressure_kpa(t) / (t + 237.3) ** 2)


def vapour_pressure_from_mean_humidity_kpa(
    *, tmin_c: Array | float, tmax_c: Array | float, humidity_percent: Array | float
) -> Array:
    """Return the actual vapour pressure where only the mean humidity is known [kPa].

    Source: Allen et al. (1998), FAO-56, Eq. 19.
    """
    share = np.clip(np.asarray(humidity_percent, dtype=np.float64), 0.0, 100.0) / 100
    return np.asarray(share * mean_saturation_vapour_pressure_kpa(tmin_c, tmax_c))


def vapour_pressure_from_extreme_humidity_kpa(
    *,
    tmin_c: Array | float,
    tmax_c: Array | float,
    humidity_max_percent: Array | float,
    humidity_min_percent: Array | float,
) -> Array:
    """Return the actual vapour pressure from a day's two extremes of humidity [kPa].

    The moist end belongs to the cold one. Source: Allen et al. (1998), FAO-56, Eq. 17
    (some printings drop its division by two).
    """
    dawn = saturation_vapour_pressure_kpa(tmin_c) * np.asarray(humidity_max_percent)
    noon = saturation_vapour_pressure_kpa(tmax_c) * np.asarray(humidity_min_percent)
    return np.asarray((dawn + noon) / 200)


def wind_at_two_metres(wind_ms: Array | float, height_m: float) -> Array:
    """Return the wind speed at 2 m from one measured at another height [m/s].

    Source: Allen et al. (1998), FAO-56, Eq. 47.
    """
    return np.asarray(
        np.asarray(wind_ms, dtype=np.float64) * 4.87 / np.log(67.8 * height_m - 5.42)
    )


def clear_sky_radiation_mj(
    extraterrestrial_mj: Array | float, elevation_m: float
) -> Array:
    """Return the radiation that a cloudless day would bring, Rso [MJ/m2/day].

    Source: Allen et al. (1998), FAO-56, Eq. 37.
    """
    return np.asarray((0.75 + 2e-5 * elevation_m) * np.asarray(extraterrestrial_mj))


def radiation_from_sunshine_mj(
    extraterrestrial_mj: Array | float,
    sunshine_hours: Array | float,
    daylight_hours: Array | float,
) -> Array:
    """Return solar radiation from the hours of sunshine, Rs [MJ/m2/day].

    Source: Allen et al. (1998), FAO-56, Eq. 35 (Angstrom, as 0.25, bs 0.50).
    """
    share = np.asarray(sunshine_hours) / np.asarray(daylight_hours)
    return np.asarray((0.25 + 0.50 * share) * np.asarray(extraterrestrial_mj))


def radiation_from_temperatures_mj(
    *,
    tmin_c: Array | float,
    tmax_c: Array | float,
    extraterrestrial_mj: Array | float,
    elevation_m: float,
    adjustment: float = INLAND_ADJUSTMENT,
) -> Array:
    """Return solar radiation from the daily range of temperature, Rs [MJ/m2/day].

    For days without a radiation reading; not for islands. Never above a clear sky.
    ``adjustment`` is 0.16 inland, 0.19 on coasts.
    Source: Allen et al. (1998), FAO-56, Eq. 50.
    """
    span = np.maximum(np.asarray(tmax_c) - np.asarray(tmin_c), 0.0)
    radiation = adjustment * np.sqrt(span) * np.asarray(extraterrestrial_mj)
    clear = clear_sky_radiation_mj(extraterrestrial_mj, elevation_m)
    return np.asarray(np.minimum(radiation, clear))


def net_radiation_mj(
    *,
    tmin_c: Array | float,
    tmax_c: Array | float,
    vapour_pressure_kpa: Array | float,
    radiation_mj: Array | float,
    clear_sky_mj: Array | float,
) -> Array:
    """Return the net radiation at the grass, Rn [MJ/m2/day].

    Short waves kept (Eq. 38) less long waves sent out (Eq. 39); the cloudiness ratio
    Rs/Rso is held within [0.3, 1], the span for which it is meant, and taken as 1
    where there is no sun at all.

    Source: Allen et al. (1998), FAO-56, Eq. 38-40.
    """
    radiation = np.asarray(radiation_mj, dtype=np.float64)
    clear = np.broadcast_to(np.asarray(clear_sky_mj, dtype=np.float64), radiation.shape)
    ratio = np.divide(radiation, clear, out=np.ones_like(radiation), where=clear > 0)
    kelvin4 = (
        (np.asarray(tmin_c) + KELVIN) ** 4 + (np.asarray(tmax_c) + KELVIN) ** 4
    ) / 2
    long_waves = (
        STEFAN_BOLTZMANN_MJ
        * kelvin4
        * (0.34 - 0.14 * np.sqrt(np.asarray(vapour_pressure_kpa)))
        * (1.35 * np.clip(ratio, 0.3, 1.0) - 0.35)
    )
    return np.asarray((1 - ALBEDO) * radiation - long_waves)


def penman_monteith_mm(
    *,
    tmin_c: Array | float,
    tmax_c: Array | float,
    vapour_pressure_kpa: Array | float,
    wind_ms: Array | float,
    net_radiation_mj: Array | float,
    elevation_m: float,
    soil_heat_mj: Array | float = 0.0,
) -> Array:
    """Return reference evapotranspiration by Penman-Monteith [mm/day].

    Parameters
    ----------
    tmin_c, tmax_c, vapour_pressure_kpa, wind_ms, net_radiation_mj : arrays, one shape
        Daily values; wind at 2 m, never taken below 0.5 m/s.
    elevation_m : float
        Height above the sea [m].
    soil_heat_mj : array, optional
        Heat going into the soil; nothing over a single day (Eq. 42).

    Returns
    -------
    array of that shape, never negative; NaN where an input is NaN
        Source: Allen et al. (1998), FAO-56, Eq. 6.
    """
    mean_c = (np.asarray(tmin_c) + np.asarray(tmax_c)) / 2
    wind = np.maximum(np.asarray(wind_ms, dtype=np.float64), CALM_WIND_MS)
    gamma = psychrometric_constant_kpa(atmospheric_pressure_kpa(elevation_m))
    slope = vapour_pressure_slope_kpa(mean_c)
    deficit = np.maximum(
        mean_saturation_vapour_pressure_kpa(tmin_c, tmax_c)
        - np.asarray(vapour_pressure_kpa),
        0.0,
    )
    energy = np.asarray(net_radiation_mj) - np.asarray(soil_heat_mj)
    pull = MJ_TO_MM * slope * energy + gamma * 900 / (mean_c + 273) * wind * deficit
    et0 = pull / (slope + gamma * (1 + 0.34 * wind))
    return np.asarray(np.maximum(et0, 0.0))


def hargreaves_mm(
    *,
    tmin_c: Array | float,
    tmax_c: Array | float,
    extraterrestrial_mj: Array | float,
    calibration: float = 1.0,
) -> Array:
    """Return reference evapotranspiration from temperatures alone [mm/day].

    Parameters
    ----------
    tmin_c, tmax_c, extraterrestrial_mj : arrays of one shape
        Daily values; the radiation is turned into mm here, as Eq. 52 wants it.
    calibration : float
        Local factor, 1 unless Penman-Monteith days of the place gave another; the
        equation runs about a quarter low on humid coasts.

    Returns
    -------
    array of that shape, never negative; NaN where an input is NaN
        Source: Allen et al. (1998), FAO-56, Eq. 52.
    """
    tmin, tmax = np.asarray(tmin_c), np.asarray(tmax_c)
    span = np.sqrt(np.maximum(tmax - tmin, 0.0))
    warmth = (tmin + tmax) / 2 + 17.8
    evaporable_mm = MJ_TO_MM * np.asarray(extraterrestrial_mj)
    et0 = calibration * 0.0023 * warmth * span * evaporable_mm
    return np.asarray(np.maximum(et0, 0.0))


class DailyWeather(NamedTuple):
    """Daily arrays of one length; what was never measured is ``None``, a gap NaN."""

    day_number: Array
    tmin_c: Array
    tmax_c: Array
    humidity_percent: Array | None = None
    wind_ms: Array | None = None
    radiation_mj: Array | None = None
    et0_mm: Array | None = None


def _full_weather_et0_mm(
    days: DailyWeather, latitude_deg: float, elevation_m: float, wind_height_m: float
) -> Array:
    """Return Penman-Monteith where everything was measured, NaN elsewhere."""
    if days.humidity_percent is None or days.wind_ms is None:
        return np.full(len(days.tmin_c), np.nan)
    if days.radiation_mj is None:
        return np.full(len(days.tmin_c), np.nan)
    pressure = vapour_pressure_from_mean_humidity_kpa(
        tmin_c=days.tmin_c,
        tmax_c=days.tmax_c,
        humidity_percent=days.humidity_percent,
    )
    outside = extraterrestrial_radiation_mj(latitude_deg, days.day_number)
    net = net_radiation_mj(
        tmin_c=days.tmin_c,
        tmax_c=days.tmax_c,
        vapour_pressure_kpa=pressure,
        radiation_mj=days.radiation_mj,
        clear_sky_mj=clear_sky_radiation_mj(outside, elevation_m),
    )
    return penman_monteith_mm(
        tmin_c=days.tmin_c,
        tmax_c=days.tmax_c,
        vapour_pressure_kpa=pressure,
        wind_ms=wind_at_two_metres(days.wind_ms, wind_height_m),
        net_radiation_mj=net,
        elevation_m=elevation_m,
    )


def reference_evapotranspiration(
    days: DailyWeather,
    *,
    latitude_deg: float,
    elevation_m: float,
    wind_height_m: float = 2.0,
    hargreaves_calibration: float = 1.0,
) -> tuple[Array, str]:
    """Return each day's reference evapotranspiration by the best way open to it.

    A given value wins; then Penman-Monteith where humidity, wind and radiation are
    all known; else Hargreaves. The choice is made day by day.

    Parameters
    ----------
    days : DailyWeather
        Arrays of one length.
    latitude_deg, elevation_m : float
        Of the place [deg, m].
    wind_height_m : float
        Height at which the wind was measured [m].
    hargreaves_calibration : float
        Local factor for the days that only have temperatures.

    Returns
    -------
    et0_mm : array of that length
        mm/day, never negative; NaN where the temperatures are missing as well.
    method : str
        ``given``, ``penman_monteith``, ``hargreaves``; ``mixed`` where days differ
        and ``none`` where no day has a value.
    """
    given = np.full(len(days.tmin_c), np.nan) if days.et0_mm is None else days.et0_mm
    full = _full_weather_et0_mm(days, latitude_deg, elevation_m, wind_height_m)
    simple = hargreaves_mm(
        tmin_c=days.tmin_c,
        tmax_c=days.tmax_c,
        extraterrestrial_mj=extraterrestrial_radiation_mj(
            latitude_deg, days.day_number
        ),
        calibration=hargreaves_calibration,
    )
    has_given, has_full = ~np.isnan(given), ~np.isnan(full)
    chosen = np.where(has_given, given, np.where(has_full, full, simple))
    used = {
        "given": bool(has_given.any()),
        "penman_monteith": bool((has_full & ~has_given).any()),
        "hargreaves": bool((~np.isnan(simple) & ~has_full & ~has_given).any()),
    }
    names = [name for name, is_used in used.items() if is_used]
    label = "mixed" if len(names) > 1 else "".join(names) or "none"
    return np.maximum(chosen, 0.0), label


def hargreaves_calibration(et0_mm: Array, hargreaves_et0_mm: Array) -> float:
    """Return the factor that brings Hargreaves to better days of the same place [-].

    Parameters
    ----------
    et0_mm, hargreaves_et0_mm : arrays of one length
        The better value and Hargreaves on the same days; NaN where either is missing.

    Returns
    -------
    float
        Ratio of sums, held within [0.7, 1.5]; 1 with fewer than thirty common days.
        FAO-56 p. 64 asks for such a check; the bounds are this program's own.
    """
    common = ~np.isnan(et0_mm) & ~np.isnan(hargreaves_et0_mm)
    total = float(np.sum(hargreaves_et0_mm[common]))
    enough_days = 30
    if np.count_nonzero(common) < enough_days or total <= 0:
        return 1.0
    return float(np.clip(np.sum(et0_mm[common]) / total, 0.7, 1.5))
