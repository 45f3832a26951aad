from datetime import date

import pytest
from hypothesis import given, settings, strategies as st

from orchard.sources.problems import SourceError
from orchard.sources.station_day import StationDay
from orchard.sources.typed_readings import check_reading

DAY = date(2014, 7, 1)


def test_one_reading_is_enough_and_the_others_stay_missing():
    found = check_reading(DAY, rain_mm=12.5, today=DAY)
    assert found == StationDay(DAY, None, None, 12.5)


@pytest.mark.parametrize(
    ("readings", "column", "message"),
    [
        ({}, "", "at least one reading"),
        ({"tmin_c": 9.0, "tmax_c": 2.0}, "tmax", "2.0 °C, is below the low, 9.0 °C"),
        ({"tmin_c": -90.0}, "tmin", "not possible"),
        ({"tmax_c": 99.0}, "tmax", "not possible"),
        ({"rain_mm": -1.0}, "rain", "not possible"),
        ({"rain_mm": 500 * 25.4}, "rain", "12700.0 mm is not possible"),
        ({"rain_mm": float("nan")}, "rain", "not possible"),
        ({"rain_mm": 1.0, "day": date(2014, 7, 2)}, "day", "still to come"),
        ({"rain_mm": 1.0, "day": date(1700, 7, 2)}, "day", "too long ago"),
    ],
)
def test_an_impossible_reading_is_named_by_its_field(readings, column, message):
    with pytest.raises(SourceError, match=message) as caught:
        check_reading(**({"day": DAY, "today": DAY} | readings))
    assert [problem.column for problem in caught.value.problems] == [column]


NUMBERS = st.none() | st.floats()


@given(st.dates(), NUMBERS, NUMBERS, NUMBERS)
@settings(max_examples=100)
def test_any_numbers_are_a_day_or_a_source_error(day, low, high, rain):
    try:
        found = check_reading(day, tmin_c=low, tmax_c=high, rain_mm=rain, today=DAY)
    except SourceError as error:
        told = error.problems
    else:
        assert found == StationDay(day, low, high, rain)
        told = found.day <= DAY
    assert told
