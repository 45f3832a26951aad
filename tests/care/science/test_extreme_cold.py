"""Extreme minima and the zone they make, on the Seattle record."""

from datetime import date

import numpy as np
import pytest

from care.science.extreme_cold import estimate_zone, extreme_minima_c
from tests.care.science.reference import SeattleRecord, reference_rows

SEATTLE = SeattleRecord()


def test_seattle_zone():
    minima = extreme_minima_c(SEATTLE.start, SEATTLE.tmin_c, first_month=1)
    rows = reference_rows("seattle_years.csv")
    assert minima.tolist() == [float(row["coldest_c"]) for row in rows]
    found = estimate_zone(minima)
    assert found.mean_c == pytest.approx(-5.05)
    # USDA map 2023 around the airport: 9a, with pockets of 8b
    assert (found.zone, found.colder_zone) == ("9a", "8b")
    assert found.is_indicative


def test_whole_winters_only():
    minima = extreme_minima_c(SEATTLE.start, SEATTLE.tmin_c, first_month=7)
    # Winters of 2012/13, 2013/14 and 2014/15; December 2013 held the coldest night
    coldest = [
        SEATTLE.tmin_c[SEATTLE.between(date(y, 7, 1), date(y + 1, 6, 30))].min()
        for y in (2012, 2013, 2014)
    ]
    assert minima.tolist() == coldest
    assert minima[1] == -7.1


def test_years_with_gaps_are_left_out():
    tmin = SEATTLE.tmin_c.copy()
    tmin[SEATTLE.between(date(2013, 6, 1), date(2013, 6, 10))] = np.nan
    assert len(extreme_minima_c(SEATTLE.start, tmin, first_month=1)) == 4
    tmin[SEATTLE.at(date(2013, 6, 11))] = np.nan
    minima = extreme_minima_c(SEATTLE.start, tmin, first_month=1)
    assert minima.tolist() == [-3.3, -6.0, -3.8]


def test_more_years_narrow_the_range():
    few, many = estimate_zone(np.full(4, -16.0)), estimate_zone(np.full(30, -16.0))
    # Two standard errors of a spread of 2.5 degC: 2.5 degC after four years
    assert (few.colder_zone, few.zone, few.warmer_zone) == ("6b", "7a", "7b")
    assert (many.colder_zone, many.zone, many.warmer_zone) == ("7a", "7a", "7a")
    assert not many.is_indicative
    assert estimate_zone(np.zeros(0)) is None
