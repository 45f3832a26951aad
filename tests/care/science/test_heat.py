"""Degree days, degree hours and heat against published and reference values."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.science.heat import (
    DegreeDays,
    HeatNeed,
    average_degree_days,
    growing_degree_hours,
    heat_zone,
    is_hot_day,
    modified_degree_days,
    single_sine_degree_days,
    vapour_pressure_deficit_kpa,
)
from care.science.hourly import NightCurve, hourly_temperatures_c
from tests.care.science.reference import (
    SEATTLE_LATITUDE_DEG,
    SeattleRecord,
    reference_rows,
)

SEATTLE = SeattleRecord()
YEARS = reference_rows("seattle_years.csv")
TEMPERATURES = st.floats(-20, 45)
SPREADS = st.floats(0, 25)


def day(low, high):
    return np.array([float(low)]), np.array([float(high)])


def test_single_sine_as_printed():
    # TrenchR documentation: 7 to 14 degC above 12, cut off at 33, is 0.47 degC d
    found = single_sine_degree_days(*day(7, 14), 12.0, 33.0)[0]
    assert found == pytest.approx(0.47, abs=0.005)


@pytest.mark.parametrize("row", reference_rows("degree_days.csv"), ids=str)
def test_degree_days_of_one_day(row):
    extremes = day(row["tmin_c"], row["tmax_c"])
    base, upper = float(row["base_c"]), float(row["upper_c"] or "nan")
    cut_off = None if np.isnan(upper) else upper
    sine = single_sine_degree_days(*extremes, base, cut_off)[0]
    assert sine == pytest.approx(float(row["single_sine"]), abs=6e-5)
    if row["average"]:
        average = average_degree_days(*extremes, base)[0]
        assert average == pytest.approx(float(row["average"]))
        modified = modified_degree_days(*extremes, base, cut_off)[0]
        assert modified == pytest.approx(float(row["modified"]))


@pytest.mark.parametrize("row", reference_rows("growing_degree_hours.csv"), ids=str)
def test_growing_degree_hours(row):
    found = growing_degree_hours(np.array([float(row["temperature_c"])]))[0]
    assert found == pytest.approx(float(row["worth"]), abs=6e-6)


@pytest.mark.parametrize(
    ("hours", "expected"),
    [
        # Reference sums of 30 cosine days and ten saw days, as for chill
        (10 + 8 * np.cos(2 * np.pi * (np.arange(24) - 15) / 24), 4348.066 / 30),
        (5 + 5 * np.cos(2 * np.pi * (np.arange(24) - 15) / 24), 800.992 / 30),
        (np.array([*range(3, 13), *range(11, -1, -1), 1.0, 2.0]), 375.7271 / 10),
    ],
)
def test_growing_degree_hours_of_days(hours, expected):
    assert growing_degree_hours(hours).sum() == pytest.approx(expected, rel=1e-6)


def test_stress_takes_its_share_and_gaps_stay_gaps():
    worth = growing_degree_hours(np.array([25.0, np.nan, 14.5]), stress=0.5)
    assert worth[[0, 2]].tolist() == pytest.approx([10.5, 5.25])
    assert np.isnan(worth[1])


@pytest.mark.parametrize("row", YEARS, ids=lambda row: row["year"])
def test_seattle_degree_days_and_hot_days(row):
    year = SEATTLE.year(int(row["year"]))
    tmin, tmax = SEATTLE.tmin_c[year], SEATTLE.tmax_c[year]
    # The file is rounded to one decimal
    average = average_degree_days(tmin, tmax, 10.0).sum()
    assert average == pytest.approx(float(row["average"]), abs=0.06)
    sine = single_sine_degree_days(tmin, tmax, 10.0).sum()
    assert sine == pytest.approx(float(row["single_sine"]), abs=0.06)
    modified = 1.8 * modified_degree_days(tmin, tmax, 10.0, 30.0).sum()
    assert modified == pytest.approx(float(row["modified_f"]), abs=0.06)
    assert is_hot_day(tmax).sum() == int(row["hot_days"])
    assert tmax.max() == float(row["hottest_c"])


@pytest.mark.parametrize("night", NightCurve)
@pytest.mark.parametrize("row", YEARS[1:], ids=lambda row: row["year"])
def test_seattle_growing_degree_hours(row, night):
    hours = hourly_temperatures_c(
        SEATTLE.tmin_c, SEATTLE.tmax_c, SEATTLE_LATITUDE_DEG, SEATTLE.day_numbers, night
    )
    year = int(row["year"])
    spring = hours[SEATTLE.between(date(year, 1, 1), date(year, 4, 30))]
    # The file is rounded to whole degree hours
    found = growing_degree_hours(spring).sum()
    assert found == pytest.approx(float(row[f"gdh_{night}"]), abs=0.6)


def test_seattle_heat_zone():
    mean_days = np.mean([float(row["hot_days"]) for row in YEARS])
    assert mean_days == 13.25
    assert heat_zone(mean_days) == 3


@pytest.mark.parametrize(
    ("days", "zone"),
    # American Horticultural Society, Plant Heat Zone Map
    [
        (0, 1),
        (0.9, 1),
        (1, 2),
        (7, 2),
        (7.1, 3),
        (14, 3),
        (30, 4),
        (45, 5),
        (60, 6),
        (90, 7),
        (120, 8),
        (150, 9),
        (180, 10),
        (210, 11),
        (211, 12),
    ],
)
def test_heat_zones(days, zone):
    assert heat_zone(days) == zone


def test_heat_zone_of_nonsense():
    with pytest.raises(ValueError, match="negative"):
        heat_zone(-1)


def test_hot_days_of_a_record_with_a_gap():
    flags = is_hot_day(np.array([30.0, 30.1, np.nan]))
    assert flags[:2].tolist() == [0, 1]
    assert np.isnan(flags[2])


@pytest.mark.parametrize(
    ("temperature", "humidity", "deficit"),
    # FAO-56 Eq. 11 by hand
    [(35, 20, 4.498), (38, 30, 4.637), (30, 50, 2.122), (25, 60, 1.267), (25, 103, 0)],
)
def test_vapour_pressure_deficit(temperature, humidity, deficit):
    found = vapour_pressure_deficit_kpa(temperature, humidity)
    assert found == pytest.approx(deficit, abs=6e-4)


@pytest.mark.parametrize(
    ("method", "upper", "amount"),
    # One day of 4 to 20 degC above 10: degree_days.csv
    [
        (DegreeDays.AVERAGE, None, 2.0),
        (DegreeDays.MODIFIED, None, 5.0),
        (DegreeDays.MODIFIED, 15.0, 2.5),
        (DegreeDays.SINGLE_SINE, None, 3.6265),
    ],
)
def test_a_need_is_reckoned_by_its_own_method(method, upper, amount):
    need = HeatNeed(2.5 * amount, 10.0, method, upper)
    lows, highs = np.full(4, 4.0), np.full(4, 20.0)
    assert need.degree_days(lows, highs) == pytest.approx(np.full(4, amount), abs=6e-5)
    assert need.day_met(lows, highs) == 2
    assert need.day_met(lows[:2], highs[:2]) is None
    assert need.day_met(lows[:0], highs[:0]) is None
    lows[0] = np.nan
    assert need.day_met(lows, highs) == 3


def test_needs_that_make_no_sense():
    with pytest.raises(ValueError, match="no cut-off"):
        HeatNeed(100.0, 10.0, DegreeDays.AVERAGE, 30.0)
    with pytest.raises(ValueError, match="not above base"):
        HeatNeed(100.0, 10.0, DegreeDays.SINGLE_SINE, 10.0)


def test_sine_refuses_a_day_upside_down_and_keeps_gaps():
    with pytest.raises(ValueError, match="above its maximum"):
        single_sine_degree_days(*day(14, 7), 10.0)
    assert np.isnan(single_sine_degree_days(*day("nan", 7), 10.0, 30.0)[0])


@settings(max_examples=80)
@given(TEMPERATURES, SPREADS, st.floats(0, 5), st.floats(0, 5), st.floats(0, 15))
def test_degree_days_never_fall_with_warmth(low, spread, warmer_low, warmer_high, base):
    high = low + spread
    warm_low = min(low + warmer_low, high + warmer_high)
    for upper in (None, base + 20):
        cool = single_sine_degree_days(*day(low, high), base, upper)
        warm = single_sine_degree_days(*day(warm_low, high + warmer_high), base, upper)
        assert warm >= cool - 1e-9
        cool = modified_degree_days(*day(low, high), base, upper)
        assert (
            modified_degree_days(*day(warm_low, high + 5), base, upper) >= cool - 1e-9
        )


@settings(max_examples=80)
@given(TEMPERATURES, SPREADS, st.floats(-5, 15))
def test_methods_stand_in_order(low, spread, base):
    # The mean misses warm hours; clipping to the base counts cold ones as mild
    extremes = day(low, low + spread)
    average = average_degree_days(*extremes, base)[0]
    sine = single_sine_degree_days(*extremes, base)[0]
    modified = modified_degree_days(*extremes, base)[0]
    assert average - 1e-9 <= sine <= modified + 1e-9
    assert (
        single_sine_degree_days(*extremes, base, base + 15)[0] <= min(sine, 15) + 1e-9
    )


@settings(max_examples=60)
@given(st.floats(-30, 60))
def test_growing_degree_hours_stay_in_bounds_and_rise_to_the_optimum(temperature):
    worth = growing_degree_hours(np.array([temperature, temperature + 0.5]))
    assert ((worth >= 0) & (worth <= 21)).all()
    if temperature + 0.5 <= 25:
        assert worth[1] >= worth[0]
    if temperature >= 25:
        assert worth[1] <= worth[0]
