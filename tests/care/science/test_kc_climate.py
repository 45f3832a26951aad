"""Crop coefficients in wind and dry air, against worked figures."""

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.science.kc_climate import (
    climate_adjusted_kc,
    climate_term,
    minimum_humidity_percent,
)


@pytest.mark.parametrize(
    ("wind_ms", "humidity", "printed", "computed"),
    [(1.3, 75, 1.07, 1.0690), (4.6, 44, 1.30, 1.2956)],
)
def test_maize_of_fao56_example_27(wind_ms, humidity, printed, computed):
    # FAO-56 Example 27: Kc mid 1.20, height 2 m, a calm humid and a windy dry place.
    kc = climate_adjusted_kc(1.20, climate_term(wind_ms, humidity), 2.0)
    assert kc == pytest.approx(printed, abs=0.005)
    assert kc == pytest.approx(computed, abs=1e-4)


@pytest.mark.parametrize(
    ("wind_ms", "humidity", "kc"), [(4, 20, 1.1462), (1, 80, 0.7538), (2, 45, 0.95)]
)
def test_an_apple_of_four_metres(wind_ms, humidity, kc):
    # FAO-56 Table 12: 0.95. The others by a separate transcription of Eq. 62.
    adjusted = climate_adjusted_kc(0.95, climate_term(wind_ms, humidity), 4.0)
    assert adjusted == pytest.approx(kc, abs=1e-4)


def test_a_dry_end_is_left_as_it_is():
    # FAO-56 Eq. 65: only where Kc end is 0.45 or more.
    assert climate_adjusted_kc(0.44, 0.2, 3.0) == 0.44
    assert climate_adjusted_kc(0.45, 0.2, 3.0) == pytest.approx(0.65)


@given(st.floats(0, 60), st.floats(0, 100), st.floats(0, 30))
def test_outside_its_range_the_equation_stands_still(wind_ms, humidity, height_m):
    inside = climate_term(np.clip(wind_ms, 1, 6), np.clip(humidity, 20, 80))
    assert climate_term(wind_ms, humidity) == inside
    low, high = climate_adjusted_kc(0.95, np.array([-0.18, 0.26]), height_m)
    assert 0.6 < low <= 0.95 <= high < 1.35


def test_the_driest_hour_of_a_day():
    # FAO-56 Example 5, the vapour by the mean of both readings: RH 82 % at 18 degC
    # and 54 % at 25 degC are 68 % on average and 1.78 kPa (Eq. 19), of the 3.168 kPa
    # that 25 degC can hold.
    driest = minimum_humidity_percent(np.array(18.0), np.array(25.0), np.array(68.0))
    assert driest == pytest.approx(100 * 1.78 / 3.168, abs=0.2)


def test_an_unknown_reading_stays_unknown():
    driest = minimum_humidity_percent(np.array(10.0), np.array(25.0), np.array(np.nan))
    assert np.isnan(driest)


@given(st.floats(0, 12), st.floats(5, 100), st.floats(0.2, 9), st.floats(0, 6))
def test_wind_and_dry_air_never_draw_less(wind_ms, humidity, height_m, more):
    still, windier, drier = (
        climate_adjusted_kc(0.95, climate_term(*weather), height_m)
        for weather in (
            (wind_ms, humidity),
            (wind_ms + more, humidity),
            (wind_ms, humidity - more),
        )
    )
    assert windier >= still
    assert drier >= still
