"""Which equation a day gets: a given value, Penman-Monteith or Hargreaves."""

import numpy as np
import pandas as pd
import pyet
import pytest

from care.science.evapotranspiration import (
    DailyWeather,
    hargreaves_calibration,
    reference_evapotranspiration,
)


def a_few_days(**changes):
    values = {
        "day_number": np.array([196.0, 197.0, 198.0]),
        "tmin_c": np.array([14.8, 15.0, 13.0]),
        "tmax_c": np.array([26.6, 27.0, 24.0]),
    }
    return DailyWeather(**{**values, **changes})


def reference(days):
    return reference_evapotranspiration(days, latitude_deg=45.72, elevation_m=200)


def test_temperatures_alone_choose_hargreaves():
    et0, method = reference(a_few_days())
    assert method == "hargreaves"
    assert et0[0] == pytest.approx(5.0330, abs=0.0005)


def test_full_weather_chooses_penman_monteith():
    full = {
        "humidity_percent": np.array([65.0, 60.0, 70.0]),
        "wind_ms": np.array([2.0, 2.0, 2.0]),
        "radiation_mj": np.array([22.0, 24.0, 18.0]),
    }
    et0, method = reference(a_few_days(**full))
    assert method == "penman_monteith"
    index = pd.DatetimeIndex(["2013-07-15"])
    theirs = pyet.pm_fao56(
        pd.Series([20.7], index=index),
        pd.Series([2.0], index=index),
        rs=pd.Series([22.0], index=index),
        tmax=pd.Series([26.6], index=index),
        tmin=pd.Series([14.8], index=index),
        rh=pd.Series([65.0], index=index),
        elevation=200,
        lat=np.radians(45.72),
    )
    assert et0[0] == pytest.approx(theirs.iloc[0], abs=0.01)


def test_a_given_value_wins_and_gaps_fall_back_day_by_day():
    et0, method = reference(a_few_days(et0_mm=np.array([6.5, np.nan, -0.2])))
    assert method == "mixed"
    assert et0[0] == 6.5
    assert et0[1] > 4
    assert et0[2] == 0


@pytest.mark.parametrize("missing", ["humidity_percent", "wind_ms", "radiation_mj"])
def test_one_reading_never_taken_leaves_hargreaves(missing):
    full = dict.fromkeys(
        ("humidity_percent", "wind_ms", "radiation_mj"), np.full(3, 20.0)
    )
    _et0, method = reference(a_few_days(**{**full, missing: None}))
    assert method == "hargreaves"


def test_missing_temperatures_stay_missing():
    gap = np.array([np.nan, 15.0, 13.0])
    et0, _method = reference(a_few_days(tmin_c=gap))
    assert np.isnan(et0[0])
    assert not np.isnan(et0[1:]).any()


def test_nothing_known_says_so():
    none = np.full(3, np.nan)
    _et0, method = reference(a_few_days(tmin_c=none, tmax_c=none))
    assert method == "none"


def test_calibration_needs_a_month_and_stays_in_bounds():
    simple = np.full(40, 4.0)
    assert hargreaves_calibration(simple * 1.25, simple) == pytest.approx(1.25)
    assert hargreaves_calibration(simple * 3, simple) == 1.5
    few = np.where(np.arange(40) < 20, 5.0, np.nan)
    assert hargreaves_calibration(few, simple) == 1.0
