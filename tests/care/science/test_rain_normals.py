"""The usual wet season, against worked monsoon normals."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.science.rain_normals import moist_periods, wet_season

# Worked case: monsoon normals, 953 mm a year
RAIN = np.array([5, 8, 20, 60, 140, 160, 120, 130, 150, 110, 40, 10], dtype=float)
ET0 = np.array(
    [120, 125, 150, 145, 135, 120, 115, 118, 120, 125, 115, 112], dtype=float
)


def test_monsoon_by_accumulated_departure():
    found = wet_season(RAIN)
    assert (found.first_day, found.last_day) == (121, 304)
    # May to October
    assert found.rain_share == pytest.approx(810 / 953)


def test_monsoon_by_half_of_evapotranspiration():
    (period,) = moist_periods(RAIN, ET0)
    assert period == pytest.approx((109.22, 310.28), abs=0.006)


def test_a_season_over_new_year():
    found = wet_season(np.roll(RAIN, 6))
    # November to April
    assert (found.first_day, found.last_day) == (305, 120)
    assert found.rain_share == pytest.approx(810 / 953)
    (period,) = moist_periods(np.roll(RAIN, 6), np.roll(ET0, 6))
    assert period.begin > 270
    assert 90 < period.end < 150


def test_rains_that_come_twice():
    twice = np.array([10, 10, 80, 90, 80, 10, 10, 10, 90, 90, 10, 10], dtype=float)
    first, second = moist_periods(twice, np.full(12, 100.0))
    assert 45 < first.begin < 75 < first.end < 166
    assert 227 < second.begin < 258 < second.end < 320


def test_places_without_a_season():
    assert moist_periods(np.full(12, 90.0), np.full(12, 100.0)) == ()
    assert moist_periods(np.full(12, 5.0), np.full(12, 100.0)) == ()
    days = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    assert wet_season(2.0 * days) is None
    assert wet_season(np.zeros(12)) is None


def test_tables_that_are_no_year():
    with pytest.raises(ValueError, match="not twelve months"):
        wet_season(np.ones(11))
    with pytest.raises(ValueError, match="without evapotranspiration"):
        moist_periods(RAIN, np.zeros(12))


@settings(max_examples=60)
@given(st.lists(st.integers(0, 400), min_size=12, max_size=12))
def test_no_other_season_holds_more_above_its_share(amounts):
    rain = np.array(amounts, dtype=float)
    found = wet_season(rain)
    if found is not None:
        length = (found.last_day - found.first_day) % 365 + 1
        gained = found.rain_share - length / 365
        for month in range(12):
            for months in range(1, 12):
                places = (month + np.arange(months)) % 12
                days = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
                share = rain[places].sum() / rain.sum()
                assert gained >= share - days[places].sum() / 365 - 1e-9


@settings(max_examples=60)
@given(st.lists(st.integers(0, 400), min_size=12, max_size=12))
def test_moist_periods_take_turns_with_dry_ones(amounts):
    periods = moist_periods(np.array(amounts, dtype=float), ET0)
    for period, following in pairwise(periods):
        assert period.begin < period.end < following.begin
