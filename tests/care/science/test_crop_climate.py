"""Checks against FAO-56 Examples 27 and 43 and the bounds of its Eq. 62 and 65."""

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.science.crop_climate import (
    climate_adjusted_kc_end,
    climate_adjusted_kc_mid,
    full_cover_kcb,
    stomatal_factor,
)
from care.science.evapotranspiration import (
    atmospheric_pressure_kpa,
    psychrometric_constant_kpa,
)

APPLE_END, BEAN_END = 0.70, 0.25


@pytest.mark.parametrize(
    ("wind", "humidity", "expected"), [(1.3, 75, 1.0690), (4.6, 44, 1.2956)]
)
def test_example_27_maize_in_two_climates(wind, humidity, expected):
    # Printed 1.07 and 1.30; more digits from a plain transcription of Eq. 62.
    found = climate_adjusted_kc_mid(
        1.20, wind_ms=wind, humidity_min_percent=humidity, height_m=2.0
    )
    assert found == pytest.approx(expected, abs=0.0001)


@pytest.mark.parametrize(
    ("wind", "humidity", "expected"), [(4, 20, 1.1462), (1, 80, 0.7538)]
)
def test_an_apple_at_both_ends_of_the_range(wind, humidity, expected):
    # A plain transcription of Eq. 62 for Table 12's apple, 4 m.
    found = climate_adjusted_kc_mid(
        0.95, wind_ms=wind, humidity_min_percent=humidity, height_m=4.0
    )
    assert found == pytest.approx(expected, abs=0.0001)


def test_the_table_s_own_climate_changes_nothing():
    found = climate_adjusted_kc_mid(
        0.95, wind_ms=2.0, humidity_min_percent=45.0, height_m=4.0
    )
    assert found == pytest.approx(0.95)


@pytest.mark.parametrize(
    ("outside", "edge"),
    [
        ((0.2, 45, 4), (1, 45, 4)),
        ((9, 45, 4), (6, 45, 4)),
        ((2, 5, 4), (2, 20, 4)),
        ((2, 99, 4), (2, 80, 4)),
        ((4, 45, 25), (4, 45, 10)),
        ((4, 45, 0.05), (4, 45, 0.1)),
    ],
)
def test_weather_beyond_the_range_counts_as_its_edge(outside, edge):
    both = [
        climate_adjusted_kc_mid(
            0.95, wind_ms=wind, humidity_min_percent=humidity, height_m=height
        )
        for wind, humidity, height in (outside, edge)
    ]
    assert both[0] == pytest.approx(float(both[1]))


def test_a_season_s_end_is_adjusted_only_if_leaves_are_still_green():
    # Eq. 65: only where the table has 0.45 or more.
    desert = {"wind_ms": 4.0, "humidity_min_percent": 20.0, "height_m": 4.0}
    assert climate_adjusted_kc_end(BEAN_END, **desert) == BEAN_END
    assert climate_adjusted_kc_end(APPLE_END, **desert) == pytest.approx(
        APPLE_END + 1.1462 - 0.95, abs=0.0001
    )
    assert climate_adjusted_kc_end(0.45, **desert) > 0.45


def test_full_cover_of_example_41_and_43():
    # 2 m high, 1.5 m/s, 55 %: 1.20 before and 1.15 after the climate; a tree of 5 m
    # at 25 % humidity 1.29.
    low = full_cover_kcb(wind_ms=1.5, humidity_min_percent=55, height_m=2.0)
    tall = full_cover_kcb(wind_ms=2.0, humidity_min_percent=25, height_m=5.0)
    assert low == pytest.approx(1.15, abs=0.005)
    assert tall == pytest.approx(1.29, abs=0.005)


@pytest.mark.parametrize(("height", "expected"), [(0.4, 1.04), (2, 1.2), (9, 1.2)])
def test_full_cover_grows_with_height_up_to_a_ceiling(height, expected):
    found = full_cover_kcb(wind_ms=2.0, humidity_min_percent=45, height_m=height)
    assert found == pytest.approx(expected)


def test_stomata_of_example_43():
    # Olive leaves of 420 s/m at 25 degC, wind of 2 m/s: 0.67.
    gamma = float(psychrometric_constant_kpa(atmospheric_pressure_kpa(0.0)))
    factor = stomatal_factor(
        leaf_resistance_s_m=420, temperature_c=25, wind_ms=2.0, psychrometric_kpa=gamma
    )
    assert factor == pytest.approx(0.67, abs=0.01)
    grass = stomatal_factor(
        leaf_resistance_s_m=100, temperature_c=25, wind_ms=2.0, psychrometric_kpa=gamma
    )
    assert grass == pytest.approx(1.0)


@given(st.floats(0, 12), st.floats(5, 100), st.floats(0.2, 9), st.floats(0, 6))
def test_wind_and_dry_air_never_draw_less(wind, humidity, height, more):
    kc = climate_adjusted_kc_mid(
        0.95,
        wind_ms=np.array([wind, wind + more, wind]),
        humidity_min_percent=np.array([humidity, humidity, humidity - more]),
        height_m=height,
    )
    assert kc[1] >= kc[0]
    assert kc[2] >= kc[0]
