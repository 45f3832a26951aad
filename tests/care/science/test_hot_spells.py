"""Hot and dry days ahead against FAO-56, and what makes one spell of them."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.facts import WeatherSeries
from care.science.hot_spells import (
    ALARM_C,
    HotDay,
    afternoon_deficit_kpa,
    hot_day,
    hot_days,
    is_one_spell,
)

DAY = date(2014, 7, 10)


def series(highs, origin="f", humidity=None):
    values = np.array(highs, dtype=float)
    letters = origin if len(origin) == len(values) else origin * len(values)
    return WeatherSeries(
        DAY, values - 15, values, np.zeros(len(values)), letters, humidity
    )


@pytest.mark.parametrize(
    ("low", "high", "humidity", "deficit"),
    [
        # FAO-56 Example 5 (Eq. 12, 17): 15 and 24.5 degC give 1.705 and 3.075 kPa, mean
        # 2.39; Eq. 48: the air holds what saturates it at the low
        (15.0, 24.5, None, 3.075 - 1.705),
        (15.0, 24.5, np.nan, 3.075 - 1.705),
        (15.0, 24.5, 68.0, 3.075 - 0.68 * 2.39),
        (15.0, 24.5, 100.0, 3.075 - 2.39),
        # Reference values of the deficit at one temperature and 20 and 30 % humidity
        (35.0, 35.0, 20.0, 4.498),
        (38.0, 38.0, 30.0, 4.637),
        (30.0, 30.0, 50.0, 2.122),
        (25.0, 25.0, 60.0, 1.267),
    ],
)
def test_the_afternoons_deficit(low, high, humidity, deficit):
    found = afternoon_deficit_kpa(low, high, humidity)
    assert found == pytest.approx(deficit, abs=2e-3)


def test_the_deficit_of_an_unknown_day_is_unknown():
    assert afternoon_deficit_kpa(np.nan, 30.0, 50.0) is None
    assert afternoon_deficit_kpa(10.0, np.nan, 50.0) is None


@settings(max_examples=50)
@given(st.floats(-10, 30), st.floats(0, 20), st.floats(0, 100))
def test_a_deficit_is_never_negative_and_falls_with_humidity(low, swing, humidity):
    dry = afternoon_deficit_kpa(low, low + swing, humidity)
    assert dry >= 0
    assert afternoon_deficit_kpa(low, low + swing, min(humidity + 5, 100)) <= dry


@pytest.mark.parametrize(
    ("maximum", "deficit", "is_dry", "alarms"),
    [
        (ALARM_C, None, False, True),
        (36.0, 5.0, False, True),  # the heat itself alarms
        (34.9, None, False, False),
        (34.0, 4.0, True, True),
        (34.0, 3.9, False, False),
        (31.9, 5.0, False, False),
        (np.nan, None, False, False),
    ],
)
def test_days_that_alarm(maximum, deficit, is_dry, alarms):
    day = HotDay(DAY, maximum, deficit)
    assert (day.is_dry, day.alarms) == (is_dry, alarms)


def test_a_day_is_told_only_where_it_was_read_or_forecast():
    assert hot_day(series([38.0]), DAY).maximum_c == 38.0
    assert hot_day(series([38.0], "n"), DAY) is None
    assert hot_day(series([38.0]), DAY + timedelta(days=1)) is None
    assert hot_day(None, DAY) is None
    assert hot_day(series([31.9]), DAY).deficit_kpa is None
    humid = series([38.0], humidity=np.array([90.0]))
    assert hot_day(humid, DAY).deficit_kpa < hot_day(series([38.0]), DAY).deficit_kpa


def test_a_week_without_heat_ends_a_spell():
    last = DAY + timedelta(days=8)
    week = series([38.0] + [30.0] * 6 + [38.0, 38.0])
    assert is_one_spell(week, DAY, last)
    longer = replace(week, tmax_c=np.array([38.0] + [30.0] * 7 + [38.0]))
    assert not is_one_spell(longer, DAY, last)
    assert [day.day for day in hot_days(longer, DAY, last)] == [DAY, last]
    assert hot_days(None, DAY, last) == []
