"""Chill from two temperatures a day against the hours they were taken from.

The file (NREL TMY2 Miami) comes with pvlib; the expected sums were computed from it
outside this package. A place with hardly any chill shows best how far the hours drawn
from a day's extremes may lie off. The last test does the same for smooth normals.
"""

from pathlib import Path

import numpy as np
import pvlib
import pytest

from care.science.chill import chill_sums, hours_below, hours_between, winter_chill
from care.science.hourly import NightCurve, hourly_temperatures_c
from orchard.sources.normals import mean_preserving_curve
from tests.care.science.reference import SEATTLE_LATITUDE_DEG, SeattleRecord

FILE = Path(pvlib.__file__).parent / "data" / "12839.tm2"
YEAR = np.arange(1, 366)
OCTOBER_TO_MARCH = np.r_[273:365, 0:90]
MONTH_DAYS = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31], dtype=float)


@pytest.fixture(scope="module")
def hours():
    """Temperatures of a typical year, (365, 24), and the latitude."""
    table, meta = pvlib.iotools.read_tmy2(FILE)
    # In tenths of a degree
    return np.asarray(table["DryBulb"], dtype=float).reshape(365, 24) / 10, meta[
        "latitude"
    ]


def test_hours_on_the_bound_count_with_one_definition_only(hours):
    winter = hours[0][OCTOBER_TO_MARCH].ravel()
    assert hours_below(winter).sum() == 17
    assert hours_between(winter).sum() == 18


def test_chill_of_the_measured_hours(hours):
    sums = chill_sums(hours[0][OCTOBER_TO_MARCH].ravel())
    assert sums.portions == pytest.approx(4.01, abs=0.006)
    # Far below zero: the Utah model is made for cold winters
    assert sums.utah == -3682.5


@pytest.mark.parametrize(
    ("night", "error_c", "portions", "utah", "below"),
    [
        (NightCurve.LITERAL, 1.46, 2.69, -3599.5, 19),
        (NightCurve.CONTINUOUS, 1.45, 3.81, -3551.0, 20),
    ],
)
def test_chill_of_hours_drawn_from_the_same_days(
    hours, night, error_c, portions, utah, below
):
    measured, latitude = hours
    drawn = hourly_temperatures_c(
        measured.min(axis=1), measured.max(axis=1), latitude, YEAR, night
    )
    error = np.sqrt(np.mean((drawn - measured) ** 2))
    assert error == pytest.approx(error_c, abs=0.006)
    sums = chill_sums(drawn[OCTOBER_TO_MARCH].ravel())
    assert sums.portions == pytest.approx(portions, abs=0.006)
    assert (sums.utah, sums.hours_below) == (utah, below)


def test_smooth_normals_overstate_chill_by_a_twentieth():
    # Monthly means of the Seattle record: 129.9 portions, October to March, where the
    # mean of its three winters is 123.0 (seattle_winters.csv)
    record = SeattleRecord()
    months = np.array([day.month for day in record.days])
    low, high = (
        mean_preserving_curve(
            np.array([values[months == month].mean() for month in range(1, 13)]),
            MONTH_DAYS,
        )
        for values in (record.tmin_c, record.tmax_c)
    )
    found = winter_chill(
        np.tile(low, 2),
        np.tile(high, 2),
        SEATTLE_LATITUDE_DEG,
        np.tile(YEAR, 2),
        first=273,
        last=273 + 181,
    )[NightCurve.LITERAL]
    assert found.hours == 4368
    assert found.portions == pytest.approx(129.9, abs=0.06)
    assert found.portions / np.mean([125.927, 130.616, 112.596]) == pytest.approx(
        1.056, abs=0.001
    )
