import calendar
import math
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from orchard.sources.normals import (
    DailyNormals,
    NormalsError,
    NormalsTable,
    daily_normals,
    mean_preserving_curve,
)
from orchard.sources.problems import SourceError

LENGTHS = np.array([calendar.monthrange(2000, m)[1] for m in range(1, 13)], dtype=float)
COMMON = np.array([calendar.monthrange(2001, m)[1] for m in range(1, 13)], dtype=float)
STARTS = np.concatenate([[0], np.cumsum(LENGTHS)[:-1]]).astype(int)

LOWS = (2.0, 2.5, 4.0, 6.0, 9.0, 12.0, 14.0, 14.0, 11.5, 8.0, 4.5, 2.5)
HIGHS = (8.0, 10.0, 12.5, 15.5, 19.5, 22.0, 25.5, 25.5, 22.0, 16.0, 11.0, 8.5)
RAINS = (140.0, 100.0, 95.0, 70.0, 50.0, 40.0, 18.0, 25.0, 40.0, 90.0, 165.0, 150.0)


def changed(values: tuple[float, ...], month: int, value: float) -> tuple[float, ...]:
    return (*values[: month - 1], value, *values[month:])


def test_the_curve_is_the_one_computed_by_repeated_correction():
    # Linear interpolation between mid-months, corrected by v <- v + (target - mean)
    # until the monthly means are right within 0.002 degC: an independent computation
    # gave 3.977 degC for 1 January and 18.456 for 15 July.
    means = np.array([4.1, 5.4, 7.1, 9.6, 13, 15.6, 18.2, 18.4, 15.7, 11.3, 7, 4.4])
    curve = mean_preserving_curve(means, COMMON)
    assert len(curve) == 365
    assert curve[0] == pytest.approx(3.977, abs=0.002)
    assert curve[195] == pytest.approx(18.456, abs=0.002)
    assert np.abs(np.diff(curve)).max() < 0.2


@given(st.lists(st.floats(-40, 40), min_size=12, max_size=12))
@settings(max_examples=60)
def test_every_monthly_mean_is_kept(means):
    curve = mean_preserving_curve(np.array(means), COMMON)
    starts = np.concatenate([[0], np.cumsum(COMMON)[:-1]]).astype(int)
    found = np.add.reduceat(curve, starts) / COMMON
    assert found == pytest.approx(means, abs=1e-9)


def test_a_month_that_never_changes_is_flat():
    assert mean_preserving_curve(np.full(12, 21.0), LENGTHS) == pytest.approx(21.0)


def test_a_normal_year_has_a_place_for_every_day():
    year = daily_normals(NormalsTable(LOWS, HIGHS, RAINS))
    assert len(year.tmin_c) == len(year.tmax_c) == len(year.rain_mm) == 366
    assert DailyNormals.index(date(2013, 1, 1)) == 0
    assert DailyNormals.index(date(2012, 2, 29)) == 59
    assert DailyNormals.index(date(2013, 3, 1)) == DailyNormals.index(date(2012, 3, 1))
    assert DailyNormals.index(date(2013, 12, 31)) == 365


def test_daily_means_and_sums_are_those_of_the_table():
    year = daily_normals(NormalsTable(LOWS, HIGHS, RAINS))
    assert np.add.reduceat(year.tmin_c, STARTS) / LENGTHS == pytest.approx(LOWS)
    assert np.add.reduceat(year.tmax_c, STARTS) / LENGTHS == pytest.approx(HIGHS)
    assert np.add.reduceat(year.rain_mm, STARTS) == pytest.approx(RAINS)


@given(
    st.lists(st.floats(-30, 25), min_size=12, max_size=12),
    st.lists(st.floats(0, 20), min_size=12, max_size=12),
    st.lists(st.floats(0, 900), min_size=12, max_size=12),
)
@settings(max_examples=60)
def test_rain_is_never_negative_and_no_high_is_below_its_low(lows, swings, rains):
    highs = [low + swing for low, swing in zip(lows, swings, strict=True)]
    year = daily_normals(NormalsTable(tuple(lows), tuple(highs), tuple(rains)))
    assert (year.rain_mm >= 0).all()
    assert (year.tmin_c <= year.tmax_c + 1e-9).all()
    assert np.add.reduceat(year.rain_mm, STARTS) == pytest.approx(rains, abs=1e-6)


@pytest.mark.parametrize(
    ("values", "month", "field", "message"),
    [
        (
            {"tmax_c": changed(HIGHS, 3, 1.0)},
            3,
            "tmax",
            "1.0 °C, is below the low, 4.0",
        ),
        ({"tmin_c": changed(LOWS, 7, 59.0)}, 7, "tmin", "is it °C or °F"),
        ({"tmin_c": changed(LOWS, 1, -75.0)}, 1, "tmin", "not possible"),
        ({"tmin_c": changed(LOWS, 1, -35.0)}, 1, "tmax", "too far for a mean day"),
        ({"tmin_c": changed(LOWS, 5, math.nan)}, 5, "tmin", "is missing"),
        ({"rain_mm": changed(RAINS, 5, math.nan)}, 5, "rain", "write 0"),
        ({"rain_mm": changed(RAINS, 2, -1.0)}, 2, "rain", "cannot be below 0"),
        # 500 mm typed where inches were asked for.
        ({"rain_mm": changed(RAINS, 2, 500 * 25.4)}, 2, "rain", "read as inches"),
    ],
)
def test_a_broken_month_is_named(values, month, field, message):
    table = {"tmin_c": LOWS, "tmax_c": HIGHS, "rain_mm": RAINS} | values
    with pytest.raises(NormalsError, match=message) as caught:
        NormalsTable(**table)
    assert [(p.month, p.field) for p in caught.value.months] == [(month, field)]
    assert calendar.month_name[month] in str(caught.value)


def test_a_whole_year_of_millimetres_read_as_inches_is_noticed():
    rains = (60 * 25.4,) * 12
    with pytest.raises(SourceError, match="of rain in a year is not possible"):
        NormalsTable(LOWS, HIGHS, rains)


def test_eleven_months_are_not_enough():
    with pytest.raises(NormalsError, match="12 rains, not 12, 12 and 11"):
        NormalsTable(LOWS, HIGHS, RAINS[:-1])


def test_all_mistakes_are_named_at_once():
    with pytest.raises(NormalsError) as caught:
        NormalsTable(changed(LOWS, 1, math.nan), HIGHS, changed(RAINS, 12, -3.0))
    assert [str(problem) for problem in caught.value.problems] == [
        "January low: is missing",
        "December rain: rain cannot be below 0",
    ]
