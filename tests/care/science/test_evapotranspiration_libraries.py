"""Random places and days against refet and pyet: sun, air and evapotranspiration."""

import numpy as np
import pandas as pd
import pyet
import pytest
import refet
from refet import calcs

from care.science.evapotranspiration import (
    atmospheric_pressure_kpa,
    clear_sky_radiation_mj,
    hargreaves_mm,
    net_radiation_mj,
    penman_monteith_mm,
    psychrometric_constant_kpa,
    saturation_vapour_pressure_kpa,
    vapour_pressure_from_extreme_humidity_kpa,
    vapour_pressure_slope_kpa,
    wind_at_two_metres,
)
from care.science.sun import daylight_hours, extraterrestrial_radiation_mj

DAYS = pd.date_range("2013-01-01", periods=365)
NUMBERS = np.arange(1.0, 366.0)
CHANCE = np.random.default_rng(1998)
PLACES = [
    (float(latitude), float(height))
    for latitude, height in zip(
        CHANCE.uniform(-55, 55, 8), CHANCE.uniform(0, 2500, 8), strict=True
    )
]


def a_year_at(latitude):
    """Draw a year of weather: temperatures, humidities, wind and a share of the sun."""
    chance = np.random.default_rng(abs(int(1000 * latitude)))
    season = np.cos(2 * np.pi * (NUMBERS - (15 if latitude < 0 else 197)) / 365)
    tmin = (
        12 - abs(latitude) / 6 + abs(latitude) / 6 * season + chance.normal(0, 3, 365)
    )
    tmax = tmin + chance.uniform(3, 16, 365)
    wettest = chance.uniform(60, 98, 365)
    driest = wettest * chance.uniform(0.4, 0.9, 365)
    wind = chance.uniform(0.6, 7, 365)
    light = extraterrestrial_radiation_mj(latitude, NUMBERS)
    return tmin, tmax, wettest, driest, wind, light * chance.uniform(0.3, 0.74, 365)


@pytest.mark.parametrize(("latitude", "_height"), PLACES)
def test_the_sun_s_radiation_and_hours(latitude, _height):
    ours = extraterrestrial_radiation_mj(latitude, NUMBERS)
    by_pyet = pyet.extraterrestrial_r(DAYS, np.radians(latitude))
    by_refet = calcs.ra_daily(np.radians(latitude), NUMBERS, method="asce")
    assert ours == pytest.approx(np.asarray(by_pyet), abs=0.002)
    assert ours == pytest.approx(np.asarray(by_refet), abs=0.002)
    hours = pyet.daylight_hours(DAYS, np.radians(latitude))
    assert daylight_hours(latitude, NUMBERS) == pytest.approx(
        np.asarray(hours), abs=1e-6
    )


def test_the_air():
    heights, heats = np.linspace(0, 3000, 31), np.linspace(-25, 45, 71)
    pressure = atmospheric_pressure_kpa(heights)
    assert pressure == pytest.approx(
        calcs.air_pressure(heights, method="asce"), abs=0.001
    )
    assert psychrometric_constant_kpa(pressure) == pytest.approx(
        pyet.calc_psy(pressure), abs=1e-6
    )
    assert saturation_vapour_pressure_kpa(heats) == pytest.approx(
        calcs.sat_vapor_pressure(heats), abs=1e-6
    )
    assert vapour_pressure_slope_kpa(heats) == pytest.approx(
        calcs.es_slope(heats, method="refet"), abs=1e-5
    )


@pytest.mark.parametrize("height", [1.5, 3.0, 7.0, 10.0])
def test_wind_brought_down_to_two_metres(height):
    winds = np.linspace(0.0, 12.0, 25)
    theirs = calcs.wind_height_adjust(winds, height)
    assert wind_at_two_metres(winds, height) == pytest.approx(theirs, abs=1e-9)


@pytest.mark.parametrize(("latitude", "height"), PLACES)
def test_penman_monteith_of_a_year(latitude, height):
    tmin, tmax, wettest, driest, wind, light = a_year_at(latitude)
    pressure = vapour_pressure_from_extreme_humidity_kpa(
        tmin_c=tmin,
        tmax_c=tmax,
        humidity_max_percent=wettest,
        humidity_min_percent=driest,
    )
    outside = extraterrestrial_radiation_mj(latitude, NUMBERS)
    net = net_radiation_mj(
        tmin_c=tmin,
        tmax_c=tmax,
        vapour_pressure_kpa=pressure,
        radiation_mj=light,
        clear_sky_mj=clear_sky_radiation_mj(outside, height),
    )
    ours = penman_monteith_mm(
        tmin_c=tmin,
        tmax_c=tmax,
        vapour_pressure_kpa=pressure,
        wind_ms=wind,
        net_radiation_mj=net,
        elevation_m=height,
    )
    columns = [
        pd.Series(each, index=DAYS) for each in (tmin, tmax, wind, light, pressure)
    ]
    low, high, breeze, sun, held = columns
    by_pyet = pyet.pm_fao56(
        (low + high) / 2,
        breeze,
        rs=sun,
        tmax=high,
        tmin=low,
        ea=held,
        elevation=height,
        lat=np.radians(latitude),
    )
    by_refet = refet.Daily(
        tmin=tmin,
        tmax=tmax,
        ea=pressure,
        rs=light,
        uz=wind,
        zw=2,
        elev=height,
        lat=latitude,
        doy=NUMBERS,
        method="refet",
        rso_type="simple",
    ).eto()
    assert ours == pytest.approx(by_pyet.to_numpy(), abs=0.01)
    assert ours == pytest.approx(by_refet, abs=0.02)


@pytest.mark.parametrize(("latitude", "_height"), PLACES)
def test_hargreaves_of_a_year(latitude, _height):
    tmin, tmax, *_others = a_year_at(latitude)
    low, high = (pd.Series(each, index=DAYS) for each in (tmin, tmax))
    middle = (low + high) / 2
    theirs = pyet.hargreaves(middle, high, low, np.radians(latitude)).to_numpy()
    ours = hargreaves_mm(
        tmin_c=tmin,
        tmax_c=tmax,
        extraterrestrial_mj=extraterrestrial_radiation_mj(latitude, NUMBERS),
    )
    # pyet's latent heat falls with temperature, FAO-56's 0.408 does not.
    latent = (2.501 - 0.002361 * middle).to_numpy()
    assert ours == pytest.approx(theirs * latent * 0.408, abs=0.005)
