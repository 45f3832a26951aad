"""The six hottest weeks of a usual year."""

import numpy as np
import pytest

from care.facts import MonthDay
from care.science.hottest_weeks import hottest_from

DAYS = np.arange(366)


def year(middle_day, swing_c):
    """Return a year that is hottest about one day of it."""
    mean = 15 + swing_c * np.cos(2 * np.pi * (DAYS - middle_day) / 366)
    return mean - 5, mean + 5


@pytest.mark.parametrize(
    ("middle_day", "first"),
    # Twenty-one days before the middle; 1 January has the place 0.
    [(200, MonthDay(6, 28)), (10, MonthDay(12, 21)), (80, MonthDay(2, 29))],
)
def test_they_begin_three_weeks_before_the_height_of_summer(middle_day, first):
    found = hottest_from(*year(middle_day, 8.0))
    # An even number of days has no middle: either will do.
    assert found in (first, MonthDay(first.month, first.day + 1), MonthDay(3, 1))


def test_near_the_equator_no_weeks_stand_out():
    assert hottest_from(*year(80, 1.0)) is None
