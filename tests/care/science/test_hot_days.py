"""Hot days a year on the Seattle record, and years that are not whole."""

from datetime import date

import numpy as np
import pytest

from care.science.hot_days import hot_years
from tests.care.science.reference import SeattleRecord

SEATTLE = SeattleRecord()


def test_seattle_lies_in_heat_zone_three():
    # Days above 30 degC in 2012-2015: 8, 12, 14 and 19; AHS zone 3 is 7 to 14 days
    found = hot_years(SEATTLE.start, SEATTLE.tmax_c, first_month=1)
    assert (found.days_a_year, found.years, found.zone) == (13.25, 4, 3)


def test_only_whole_years_count():
    tmax = SEATTLE.tmax_c.copy()
    tmax[SEATTLE.between(date(2013, 7, 1), date(2013, 7, 11))] = np.nan
    found = hot_years(SEATTLE.start, tmax, first_month=1)
    assert (found.days_a_year, found.years) == (pytest.approx((8 + 14 + 19) / 3), 3)
    tmax[SEATTLE.between(date(2013, 7, 1), date(2013, 7, 1))] = 20.0
    assert hot_years(SEATTLE.start, tmax, first_month=1).years == 4
    assert hot_years(SEATTLE.start, SEATTLE.tmax_c[:300], first_month=1) is None


def test_a_southern_summer_is_kept_whole():
    # Half a year of heat over New Year, as in the south
    tmax = np.full(3 * 365, 20.0)
    for year in (2021, 2022):
        start = (date(year, 12, 1) - date(2021, 1, 1)).days
        tmax[start : start + 60] = 33.0
    found = hot_years(date(2021, 1, 1), tmax, first_month=7)
    assert (found.days_a_year, found.years, found.zone) == (60, 2, 6)
