"""Two typical years, hour by hour: what the equations make of a coast and of inland.

The files (NREL TMY2 Miami, TMY3 Greensboro) come with pvlib; the expected sums were
computed from them outside this package.
"""

from pathlib import Path

import numpy as np
import pvlib
import pytest

from care.science.evapotranspiration import (
    clear_sky_radiation_mj,
    hargreaves_calibration,
    hargreaves_mm,
    net_radiation_mj,
    penman_monteith_mm,
    vapour_pressure_from_extreme_humidity_kpa,
    wind_at_two_metres,
)
from care.science.sun import extraterrestrial_radiation_mj

FILES = Path(pvlib.__file__).parent / "data"
ANEMOMETER_M = 10.0
MONTH_ENDS = np.cumsum([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30])
APRIL = slice(90, 120)


def both_equations(meta, temperature, humidity, wind, light):
    """Return a year by Penman-Monteith and by Hargreaves [mm/day]."""
    temperature, humidity, wind, light = (
        np.asarray(column, dtype=float).reshape(365, 24)
        for column in (temperature, humidity, wind, light)
    )
    tmin, tmax = temperature.min(axis=1), temperature.max(axis=1)
    outside = extraterrestrial_radiation_mj(meta["latitude"], np.arange(1.0, 366.0))
    pressure = vapour_pressure_from_extreme_humidity_kpa(
        tmin_c=tmin,
        tmax_c=tmax,
        humidity_max_percent=humidity.max(axis=1),
        humidity_min_percent=humidity.min(axis=1),
    )
    net = net_radiation_mj(
        tmin_c=tmin,
        tmax_c=tmax,
        vapour_pressure_kpa=pressure,
        radiation_mj=light.sum(axis=1) * 3600 / 1e6,
        clear_sky_mj=clear_sky_radiation_mj(outside, meta["altitude"]),
    )
    full = penman_monteith_mm(
        tmin_c=tmin,
        tmax_c=tmax,
        vapour_pressure_kpa=pressure,
        wind_ms=wind_at_two_metres(wind.mean(axis=1), ANEMOMETER_M),
        net_radiation_mj=net,
        elevation_m=meta["altitude"],
    )
    simple = hargreaves_mm(tmin_c=tmin, tmax_c=tmax, extraterrestrial_mj=outside)
    return full, simple


@pytest.fixture(scope="module")
def miami():
    hours, meta = pvlib.iotools.read_tmy2(FILES / "12839.tm2")
    # Temperature and wind are in tenths.
    return both_equations(
        meta, hours["DryBulb"] / 10, hours["RHum"], hours["Wspd"] / 10, hours["GHI"]
    )


@pytest.fixture(scope="module")
def greensboro():
    hours, meta = pvlib.iotools.read_tmy3(
        FILES / "723170TYA.CSV", map_variables=False, coerce_year=2001
    )
    columns = ("Dry-bulb (C)", "RHum (%)", "Wspd (m/s)", "GHI (W/m^2)")
    return both_equations(meta, *(hours[column] for column in columns))


def test_miami_s_year_month_by_month(miami):
    full, _simple = miami
    months = [month.mean() for month in np.split(full, MONTH_ENDS)]
    expected = [3.01, 3.72, 4.58, 5.79, 5.15, 5.25, 5.29, 5.18, 4.24, 3.69, 3.63, 3.13]
    assert months == pytest.approx(expected, abs=0.006)
    assert full.sum() == pytest.approx(1602, abs=1)


def test_hargreaves_runs_a_quarter_low_on_a_humid_coast(miami):
    full, simple = miami
    # 1196 mm computed with the mean of all hours instead of both extremes.
    assert simple.sum() == pytest.approx(1196, rel=0.005)
    assert simple.sum() / full.sum() == pytest.approx(0.75, abs=0.01)
    assert simple[APRIL].mean() == pytest.approx(3.77, abs=0.02)
    assert full[APRIL].mean() == pytest.approx(5.79, abs=0.006)


def test_hargreaves_is_right_inland(greensboro):
    full, simple = greensboro
    assert full.sum() == pytest.approx(1150, abs=1)
    assert simple.sum() == pytest.approx(1127, rel=0.005)
    assert simple.sum() / full.sum() == pytest.approx(0.98, abs=0.01)


def test_a_place_s_own_days_calibrate_hargreaves(miami, greensboro):
    assert hargreaves_calibration(*miami) == pytest.approx(1.34, abs=0.01)
    assert hargreaves_calibration(*greensboro) == pytest.approx(1.02, abs=0.01)
