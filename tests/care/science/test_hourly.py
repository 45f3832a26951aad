"""Hours of the day, against reference values and what must hold of any day."""

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.science.hourly import (
    NightCurve,
    hourly_temperatures_c,
    sunrise_to_sunset_hours,
)
from tests.care.science.reference import reference_rows

MINIMA, MAXIMA = np.array([2.0, 3.0, 1.0]), np.array([10.0, 12.0, 9.0])
JANUARY = np.array([15, 16, 17])


@pytest.mark.parametrize(
    "row",
    reference_rows("day_length.csv"),
    ids=lambda row: f"{row['latitude_deg']} on {row['day_number']}",
)
def test_day_length(row):
    # The file is rounded to 4 decimals
    hours = sunrise_to_sunset_hours(float(row["latitude_deg"]), int(row["day_number"]))
    assert hours == pytest.approx(float(row["hours"]), abs=6e-5)


@pytest.mark.parametrize(
    ("latitude", "day_number", "hours"),
    # astral 3.2, sunrise to sunset; polar day from 66.6 degrees in June
    [(47.45, 172, 15.954), (47.45, 355, 8.436), (-33.9, 172, 9.886), (66.6, 172, 24.0)],
)
def test_day_length_of_an_astronomical_library(latitude, day_number, hours):
    found = sunrise_to_sunset_hours(latitude, day_number)
    assert found == pytest.approx(hours, abs=0.02)


def test_sunrise_and_sunset_of_the_worked_day():
    # The day of linvill_middle_day.csv: 16 January at 47.45 N
    length = float(sunrise_to_sunset_hours(47.45, 16))
    assert length == pytest.approx(8.8801, abs=6e-5)
    assert 12 - length / 2 == pytest.approx(7.5600, abs=6e-5)
    assert 12 + length / 2 == pytest.approx(16.4400, abs=6e-5)


@pytest.mark.parametrize("latitude", [0, 40, 60, -33.9])
def test_the_366th_day_is_a_day_like_its_neighbours(latitude):
    lengths = sunrise_to_sunset_hours(latitude, np.array([365, 366, 1]))
    assert np.ptp(lengths) < 0.05


@pytest.mark.parametrize("night", NightCurve)
def test_hours_of_a_day_between_two_others(night):
    hours = hourly_temperatures_c(MINIMA, MAXIMA, 47.45, JANUARY, night)
    expected = [
        float(row[f"{night}_c"]) for row in reference_rows("linvill_middle_day.csv")
    ]
    assert hours[1] == pytest.approx(expected, abs=6e-5)


def test_the_afternoon_is_warmest_two_hours_after_noon():
    hours = hourly_temperatures_c(MINIMA, MAXIMA, 47.45, JANUARY)
    assert hours.argmax(axis=1).tolist() == [14, 14, 14]
    assert hours.max(axis=1) == pytest.approx(MAXIMA)


def test_ends_of_the_record_use_their_own_day():
    alone = hourly_temperatures_c(MINIMA[1:2], MAXIMA[1:2], 47.45, JANUARY[1:2])
    same = hourly_temperatures_c(
        np.repeat(MINIMA[1], 3), np.repeat(MAXIMA[1], 3), 47.45, np.repeat(16, 3)
    )
    assert alone[0] == pytest.approx(same[1])


@pytest.mark.parametrize("night", NightCurve)
def test_a_missing_day_stays_missing_and_takes_no_neighbour_with_it(night):
    minima, maxima = MINIMA.copy(), MAXIMA.copy()
    minima[1] = np.nan
    hours = hourly_temperatures_c(minima, maxima, 47.45, JANUARY, night)
    assert np.isnan(hours[1]).all()
    first = hourly_temperatures_c(MINIMA[:1], MAXIMA[:1], 47.45, JANUARY[:1], night)
    last = hourly_temperatures_c(MINIMA[2:], MAXIMA[2:], 47.45, JANUARY[2:], night)
    assert hours[0] == pytest.approx(first[0])
    assert hours[2] == pytest.approx(last[0])


@pytest.mark.parametrize("day_number", [15, 172])  # polar night and polar day
@pytest.mark.parametrize("night", NightCurve)
def test_days_without_a_night_or_a_day_get_their_mean(day_number, night):
    days = np.repeat(day_number, 3)
    hours = hourly_temperatures_c(MINIMA, MAXIMA, 75.0, days, night)
    assert hours == pytest.approx(np.repeat([[6.0], [7.5], [5.0]], 24, axis=1))


def test_wrong_records_are_refused():
    with pytest.raises(ValueError, match="above its maximum"):
        hourly_temperatures_c(MAXIMA, MINIMA, 47.45, JANUARY)
    with pytest.raises(ValueError, match="differ in number"):
        hourly_temperatures_c(MINIMA, MAXIMA, 47.45, JANUARY[:2])


@settings(max_examples=60)
@given(
    st.lists(st.tuples(st.floats(-30, 30), st.floats(0, 25)), min_size=1, max_size=6),
    st.floats(-89, 89),
    st.integers(1, 360),
    st.sampled_from(NightCurve),
)
def test_hours_lie_between_the_extremes_of_the_days_around(days, latitude, day, night):
    tmin = np.array([low for low, _ in days])
    tmax = np.array([low + spread for low, spread in days])
    numbers = day + np.arange(len(days))
    hours = hourly_temperatures_c(tmin, tmax, latitude, numbers, night)
    assert (hours >= tmin.min() - 1e-9).all()
    assert (hours <= tmax.max() + 1e-9).all()


@settings(max_examples=40)
@given(st.floats(-65, 65), st.integers(1, 365))
def test_a_continuous_night_meets_the_minimum_at_sunrise(latitude, day_number):
    days = np.repeat(day_number, 2)
    length = float(sunrise_to_sunset_hours(latitude, day_number))
    hours = hourly_temperatures_c(
        np.array([3.0, 3.0]), np.array([12.0, 12.0]), latitude, days
    )
    sunrise = 12 - length / 2
    before = hours[1][: int(np.floor(sunrise)) + 1]
    # The night falls to its minimum, and never faster than it fell at first
    assert (np.diff(before) < 0).all()
    assert (np.diff(before, 2) > -1e-9).all()
    assert before[-1] - 3.0 < (12.0 - 3.0) / (24 - length)
