"""The nights ahead: what was told, the cold pocket, the evening's own forecast."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.facts import ColdPocket, FrostNights, WeatherSeries
from care.science.cold_nights import (
    Night,
    hours_below,
    is_radiation_night,
    nights_ahead,
)
from care.science.frost import fahrenheit_to_c
from tests.care.rules.cases import MILD, minima, morning
from tests.care.science.reference import reference_rows

TODAY = date(2014, 11, 12)
TOMORROW = TODAY + timedelta(days=1)
NIGHTS = reference_rows("radiation_frost_nights.csv")
LOGGED = FrostNights(
    *(
        tuple(float(row[name]) for row in NIGHTS)
        for name in ("air_c", "dew_point_c", "minimum_c")
    )
)
FROSTY = replace(MILD, frost_nights=LOGGED)
POCKET = replace(MILD, cold_pocket=ColdPocket(offset_c=2.5, nights=9))


def lows(situation, nights=3):
    return [(night.day, night.minimum_c) for night in nights_ahead(situation, nights)]


def test_only_forecast_nights_count_and_gaps_do_not():
    series = minima(TODAY, [1.0, np.nan, 3.0, 4.0], "offn")
    assert lows(morning(TODAY, weather=series)) == [
        (TODAY, 1.0),
        (date(2014, 11, 14), 3.0),
    ]
    normals = minima(TODAY, [-9.0, -9.0], "nn")
    assert lows(morning(TODAY, weather=normals)) == []
    later = minima(TODAY, [1.0, 2.0], "oo")  # a reading of tomorrow is none
    assert lows(morning(TODAY, weather=later)) == [(TODAY, 1.0)]
    assert lows(morning(TODAY)) == []


def test_a_typed_minimum_takes_the_place_of_tonights():
    series = minima(TODAY, [1.0, 3.0])
    found = nights_ahead(morning(TODAY, weather=series, typed_minimum_c=-2.0), 1)
    assert [(night.minimum_c, night.basis) for night in found] == [
        (-2.0, "typed"),
        (3.0, "forecast"),
    ]


def test_the_cold_pocket_lowers_forecasts_and_no_thermometer_of_the_place():
    series = minima(TODAY, [1.0, 3.0], "of")
    read, told = nights_ahead(morning(TODAY, site=POCKET, weather=series), 1)
    assert (read.minimum_c, read.basis, read.pocket_c) == (1.0, "reading", 0.0)
    assert (told.minimum_c, told.told_c, told.pocket_c) == (0.5, 3.0, 2.5)
    typed = morning(TODAY, site=POCKET, weather=series, typed_minimum_c=-2.0)
    assert nights_ahead(typed, 1)[0].minimum_c == -2.0


def evening(air_c, dew_c, site=FROSTY, **more):
    return morning(
        TODAY, site=site, tonight_evening_c=air_c, tonight_dew_point_c=dew_c, **more
    )


def test_ten_logged_evenings_forecast_tonight_by_themselves():
    # FAO (2005), Frost Protection, volume 1: printed forecast for 10 and 2 degC
    (night,) = nights_ahead(evening(10.0, 2.0), 1)
    assert (night.day, night.basis, night.told_c) == (TOMORROW, "evening", None)
    assert night.minimum_c == pytest.approx(-0.7409219, abs=1e-6)
    assert nights_ahead(evening(10.0, 2.0), 0) == ()


@pytest.mark.parametrize(
    ("forecast_c", "lowest", "basis"),
    [(2.0, -0.7409219, "evening"), (-3.0, -3.0, "forecast")],
)
def test_the_lower_of_forecast_and_evening_counts_and_both_are_told(
    forecast_c, lowest, basis
):
    weather = minima(TODAY, [5.0, forecast_c])
    night = nights_ahead(evening(10.0, 2.0, weather=weather), 1)[1]
    assert night.minimum_c == pytest.approx(lowest, abs=1e-6)
    assert (night.basis, night.told_c) == (basis, forecast_c)
    assert night.evening_c == pytest.approx(-0.7409219, abs=1e-6)


def test_an_evening_says_nothing_without_ten_nights_or_both_readings():
    few = FrostNights(
        *(each[:9] for each in (LOGGED.evening_c, LOGGED.dew_point_c, LOGGED.minimum_c))
    )
    assert nights_ahead(evening(10.0, 2.0, replace(MILD, frost_nights=few)), 1) == ()
    assert nights_ahead(evening(10.0, None), 1) == ()
    assert nights_ahead(evening(None, 2.0), 1) == ()
    assert nights_ahead(evening(10.0, 2.0, MILD), 1) == ()


def test_a_night_never_ends_warmer_than_its_evening():
    # Equal minima make a flat line, which would promise a warming to -1
    flat = FrostNights(tuple(-float(n) for n in range(10)), (-10.0,) * 10, (-1.0,) * 10)
    site = replace(MILD, frost_nights=flat)
    (night,) = nights_ahead(evening(-9.0, -12.0, site), 1)
    assert night.minimum_c == -9.0


@pytest.mark.parametrize(
    ("air_c", "is_told"), [(10.6, True), (10.7, False), (-4.8, True), (-4.9, False)]
)
def test_an_evening_far_from_those_logged_says_nothing(air_c, is_told):
    # The logged evenings lie between 0.2 and 5.6 degC
    assert bool(nights_ahead(evening(air_c, -5.0), 1)) is is_told


def test_hours_follow_the_evenings_trend_where_the_evening_tells():
    # FAO (2005), temperature trend, T2 0.95 and minimum -5.45 over a night of 15 h:
    # by hand, at or below 28 degF from its fourth hour on
    course = tuple(0.95 - 6.4 * np.sqrt(np.arange(14) / 13))
    night = Night(TOMORROW, -5.45, "evening", evening_c=-5.45, course_c=course)
    situation = morning(TODAY)
    assert hours_below(situation, night, fahrenheit_to_c(28)) == 10
    (tonight,) = nights_ahead(evening(0.95, -5.0), 1)
    # Seattle's latitude in mid November: about 14.7 h from sunset to sunrise
    assert len(tonight.course_c) == 14
    assert tonight.course_c[0] == 0.95
    assert tonight.course_c[-1] == pytest.approx(tonight.minimum_c)


def test_hours_of_a_night_between_two_days():
    series = minima(TODAY, [0.0, 0.0, 0.0], tmax_c=10.0)
    situation = morning(TODAY, weather=series)
    night = nights_ahead(situation, 1)[1]
    assert hours_below(situation, night, -0.1) == 0
    # The coldest half hour lies at the minimum itself, everything below the high
    assert 0.3 <= hours_below(situation, night, 0.1) <= 1.5
    assert hours_below(situation, night, 9.9) > 20
    assert hours_below(situation, night, 10.0) == pytest.approx(24 + 1 / 6)


def test_half_an_hour_can_be_told_from_an_hour():
    series = minima(TODAY, [-4.0, -4.0, -4.0], tmax_c=12.0)
    situation = morning(TODAY, weather=series)
    night = nights_ahead(situation, 1)[1]
    hours = [hours_below(situation, night, -4.0 + 0.1 * step) for step in range(12)]
    assert hours == sorted(hours)
    assert any(0 < hour < 1 for hour in hours)
    assert all((6 * hour) == pytest.approx(round(6 * hour)) for hour in hours)


def test_a_pocket_makes_the_cold_last_longer():
    series = minima(TODAY, [0.0, 0.0, 0.0], tmax_c=10.0)
    plain, sunk = (morning(TODAY, site=site, weather=series) for site in (MILD, POCKET))
    nights = [nights_ahead(each, 1)[1] for each in (plain, sunk)]
    assert hours_below(sunk, nights[1], 0.0) > hours_below(plain, nights[0], 0.0)


@pytest.mark.parametrize(
    ("first", "lows_c", "highs_c"),
    [
        (TODAY, [-3.0], [5.0]),  # the day before is not in the series
        (TODAY - timedelta(days=1), [-3.0, -3.0], [np.nan, 5.0]),
    ],
)
def test_hours_are_unknown_without_the_high_of_the_day_before(first, lows_c, highs_c):
    series = WeatherSeries(
        first,
        np.array(lows_c),
        np.array(highs_c),
        np.zeros(len(lows_c)),
        "f" * len(lows_c),
    )
    situation = morning(TODAY, weather=series)
    assert hours_below(situation, nights_ahead(situation, 0)[0], -2.0) is None
    typed = morning(TODAY, typed_minimum_c=-3.0)
    assert hours_below(typed, nights_ahead(typed, 0)[0], -2.0) is None


@pytest.mark.parametrize("low_before", [np.nan, 9.0])
@pytest.mark.parametrize("high_of_day", [np.nan, -5.0, 4.0])
def test_odd_days_around_a_night_still_tell_its_hours(low_before, high_of_day):
    series = WeatherSeries(
        TODAY - timedelta(days=1),
        np.array([low_before, -3.0]),
        np.array([5.0, high_of_day]),
        np.zeros(2),
        "ff",
    )
    situation = morning(TODAY, weather=series)
    night = nights_ahead(situation, 0)[0]
    assert hours_below(situation, night, -2.0) > 0


def test_the_frost_of_a_windy_night_is_no_radiation_frost():
    series = replace(
        minima(TODAY, [0.0, 0.0, 0.0]), wind_ms=np.array([1.0, 5.0, np.nan])
    )
    days = [TODAY + timedelta(days=step) for step in range(4)]
    assert [is_radiation_night(series, day) for day in days] == [
        True,
        False,
        True,
        True,
    ]
    assert is_radiation_night(minima(TODAY, [0.0]), TODAY)
    assert is_radiation_night(None, TODAY)


@settings(max_examples=40)
@given(
    low=st.floats(-15, 10),
    swing=st.floats(0, 25),
    threshold=st.floats(-20, 12),
    latitude=st.sampled_from([-34.0, 0.5, 47.6, 65.0]),
)
def test_a_warmer_threshold_is_met_for_no_shorter_time(low, swing, threshold, latitude):
    series = minima(TODAY - timedelta(days=1), [low] * 3, tmax_c=low + swing)
    site = replace(MILD, latitude_deg=latitude)
    situation = morning(TODAY, site=site, weather=series)
    night = nights_ahead(situation, 0)[0]
    hours = hours_below(situation, night, threshold)
    assert hours_below(situation, night, threshold + 1) >= hours
    assert hours == 0 or night.minimum_c <= threshold + 0.06
