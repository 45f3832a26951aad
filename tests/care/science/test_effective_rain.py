"""Checks of the rules for rain that counts, each against its source."""

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.science.effective_rain import (
    MM_PER_INCH,
    counted_rain_mm,
    dependable_rain_mm,
    landscape_rain_mm,
    monthly_linear_scs_rain_mm,
    monthly_scs_rain_mm,
)


def a_year_of(inches):
    return np.full(12, inches * MM_PER_INCH)


def test_a_shower_below_a_fifth_of_et0_does_not_count():
    # FAO-56 p. 170.
    counted = counted_rain_mm(np.array([0.9, 1.0, 8.0]), np.array([5.0, 5.0, 5.0]))
    assert counted.tolist() == [0.0, 1.0, 8.0]


@pytest.mark.parametrize(
    ("rain_in", "usable_in"),
    [(0.05, 0), (0.5, 0.4), (1, 0.9), (1.5, 1.233), (2, 1.567), (3, 1.567)],
)
def test_daily_rule_of_texas_agrilife(rain_in, usable_in):
    found = landscape_rain_mm(rain_in * MM_PER_INCH) / MM_PER_INCH
    assert found == pytest.approx(usable_in, abs=0.0006)


def test_a_day_of_unknown_rain_stays_unknown():
    assert np.isnan(landscape_rain_mm(np.nan))


@pytest.mark.parametrize(
    ("rain_in", "use_in", "effective_in"),
    [(1, 3, 0.702), (2, 5, 1.508), (3, 6, 2.292), (6, 8, 4.677), (0.1, 3, 0.0)],
)
def test_monthly_rule_of_scs_at_three_inches_of_storage(rain_in, use_in, effective_in):
    # NEH 623, chapter 2, computed outside this package.
    found = monthly_scs_rain_mm(a_year_of(rain_in), a_year_of(use_in), 76.2)
    assert found / MM_PER_INCH == pytest.approx(np.full(12, effective_in), abs=0.0006)


def test_a_deep_store_keeps_more_of_the_same_month():
    rain, use = a_year_of(3), a_year_of(6)
    shallow = monthly_scs_rain_mm(rain, use, 25.4)
    assert (shallow < monthly_scs_rain_mm(rain, use, 101.6)).all()


@pytest.mark.parametrize(
    ("rain", "effective"),
    [(25, 24), (50, 46), (100, 84), (200, 136), (250, 150), (300, 155)],
)
def test_linear_monthly_rule_of_scs(rain, effective):
    # R package FAO56 1.0, whose rule it is.
    found = monthly_linear_scs_rain_mm(np.full(12, float(rain)))
    assert found == pytest.approx(np.full(12, float(effective)))


@pytest.mark.parametrize("values", [np.zeros(365), np.zeros((12, 31)), np.float64(9)])
def test_monthly_rules_refuse_days(values):
    with pytest.raises(ValueError, match="twelve months, never days"):
        monthly_linear_scs_rain_mm(values)
    with pytest.raises(ValueError, match="twelve months, never days"):
        monthly_scs_rain_mm(values, np.zeros(12), 75.0)


def test_days_fed_one_by_one_would_count_more_than_their_month():
    # Why days are refused: ten storms of 20 mm, each as if it were a whole month.
    month = monthly_linear_scs_rain_mm(np.full(12, 200.0))[0]
    by_storms = 10 * monthly_linear_scs_rain_mm(np.full(12, 20.0))[0]
    assert month == pytest.approx(136)
    assert by_storms == pytest.approx(193.6)


@pytest.mark.parametrize(
    ("month_mm", "dependable_mm"), [(10, 0), (60, 26), (75, 35), (100, 55)]
)
def test_dependable_rain_of_fao_training_manual_3_from_memory(month_mm, dependable_mm):
    assert dependable_rain_mm(np.array(float(month_mm))) == pytest.approx(dependable_mm)


@given(st.floats(0, 500), st.floats(0, 300))
def test_no_rule_counts_more_than_fell_and_more_never_counts_less(rain, more):
    year, wetter = np.full(12, rain), np.full(12, rain + more)
    use = np.full(12, 150.0)
    for rule in (
        landscape_rain_mm,
        dependable_rain_mm,
        monthly_linear_scs_rain_mm,
        lambda months: monthly_scs_rain_mm(months, use, 75.0),
    ):
        counted = rule(year)
        assert ((counted >= 0) & (counted <= year + 1e-9)).all()
        assert (rule(wetter) >= counted - 1e-9).all()
