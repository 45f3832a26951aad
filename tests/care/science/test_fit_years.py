"""Years to try kinds in: how cold thirty of them get, and made-up ones."""

from datetime import date

import numpy as np
import pytest

from care.facts.fit import FitBasis
from care.science.fit_years import (
    YearsOfDays,
    colder_in_thirty_years_c,
    daily_worths,
    made_up_minima_c,
    months_of,
    winter_days,
)
from tests.care.science.fit_cases import years


@pytest.mark.parametrize(
    ("count", "highest"),
    # Mean of the largest of n standard normal values, tables of order statistics
    # (Teichroew 1956; from memory): 0 of 1, 1.029 of 4, 1.539 of 10, 2.043 of 30.
    [(1, 0.0), (4, 1.0294), (10, 1.5388), (30, 2.0428)],
)
def test_few_years_hide_the_coldest_nights(count, highest):
    expected = (2.0428 - highest) * 2.5
    assert colder_in_thirty_years_c(count) == pytest.approx(expected, abs=0.06)


def test_more_than_thirty_years_hide_nothing():
    assert colder_in_thirty_years_c(40) == 0
    assert colder_in_thirty_years_c(0) == colder_in_thirty_years_c(1)


def test_coldest_to_reckon_with():
    known = years(minima=[-7.0] + [-3.0] * 29)
    assert known.reckoned_c == known.coldest_c == -7.0
    assert years(minima=[-7.0]).reckoned_c < -11.5


def test_made_up_years_are_lowered_unless_there_is_no_frost():
    lows = np.array([[5.0, 0.5], [4.0, 2.0]])
    assert made_up_minima_c(lows, is_frost_free=False) == pytest.approx([-1.2, 0.3])
    assert made_up_minima_c(lows, is_frost_free=True) == pytest.approx([0.1, 0.3])


def test_winters_are_whole_in_both_hemispheres():
    assert winter_days(southern=False) == 151
    assert winter_days(southern=True) == 153
    assert months_of([date(2012, 5, 1)])[[0, 152, 153]].tolist() == [5, 9, 10]


def test_a_day_whose_low_lies_above_its_high_counts_as_unknown():
    tmin, tmax = np.full((1, 367), 3.0), np.full((1, 367), 8.0)
    tmin[0, 10] = 9.0
    worths = daily_worths(YearsOfDays(tmin, tmax, (date(2012, 11, 1),)), 47.0)
    assert np.isnan(worths.warmth[0]).any()
    assert not np.isnan(worths.portions).any()
    assert worths.chill_hours.shape == (2, 1, 365)


def test_a_basis_counts_what_it_has():
    assert FitBasis(seasons=(2013, 2014)).winters == 2
    assert FitBasis(made_up=30, is_from_months=True).winters == 30
    assert (
        years(hours=[[100.0, 300.0], [200.0, 400.0]], minima=[0.0, 0.0]).usual_hours
        == 250
    )
