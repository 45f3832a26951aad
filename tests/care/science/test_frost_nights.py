"""Radiation-frost nights against FAO's printed example, and what must hold."""

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st
from hypothesis.extra.numpy import arrays

from care.facts import ColdPocket
from care.science.evapotranspiration import saturation_vapour_pressure_kpa
from care.science.frost import fahrenheit_to_c
from care.science.frost_nights import (
    cold_pocket,
    dew_point_c,
    fit_radiation_frost,
    hours_at_or_below,
    night_course_c,
)
from tests.care.science.reference import reference_rows

NIGHTS = reference_rows("radiation_frost_nights.csv")
AIR, DEW, MINIMUM = (
    np.array([float(row[name]) for row in NIGHTS])
    for name in ("air_c", "dew_point_c", "minimum_c")
)


def test_fit_of_the_published_nights():
    fit = fit_radiation_frost(AIR, DEW, MINIMUM)
    # FAO (2005), Frost Protection, volume 1: printed forecast for 10 and 2 degC
    assert fit.minimum_c(10.0, 2.0) == pytest.approx(-0.7409219, abs=1e-6)
    assert fit.air_slope == pytest.approx(0.502812, abs=1e-6)
    assert fit.dew_slope == pytest.approx(0.026472, abs=1e-6)
    assert fit.intercept_c == pytest.approx(-5.908549 + 0.086562, abs=2e-6)
    forecast = fit.minimum_c(AIR, DEW)
    # Squared correlation of the reference computation; the explained share of two steps is a bit less
    correlation = np.corrcoef(forecast, MINIMUM)[0, 1]
    assert correlation**2 == pytest.approx(0.675, abs=6e-4)
    assert 0.6656 < fit.explained_share < correlation**2
    assert fit.rmse_c == pytest.approx(0.631, abs=6e-4)
    assert fit.nights == 10


def test_both_at_once_would_give_another_forecast():
    columns = np.column_stack([AIR, DEW, np.ones(10)])
    joint, *_ = np.linalg.lstsq(columns, MINIMUM)
    # -1.0293 by ordinary least squares on both; the published method stands
    assert joint @ [10.0, 2.0, 1.0] == pytest.approx(-1.0293, abs=6e-5)


def test_nights_that_are_not_enough():
    assert fit_radiation_frost(AIR[:9], DEW[:9], MINIMUM[:9]) is None
    unread = DEW.copy()
    unread[3] = np.nan
    assert fit_radiation_frost(AIR, unread, MINIMUM) is None
    assert fit_radiation_frost(np.full(10, 3.0), DEW, MINIMUM) is None
    with pytest.raises(ValueError, match="differ in number"):
        fit_radiation_frost(AIR, DEW[:9], MINIMUM)


def test_evenings_with_one_dew_point_rest_on_air_alone():
    fit = fit_radiation_frost(AIR, np.full(10, -3.0), MINIMUM)
    # The first step's published coefficients
    assert (fit.dew_slope, fit.air_slope) == (0, pytest.approx(0.502812, abs=1e-6))
    assert fit.intercept_c == pytest.approx(-5.908549, abs=1e-6)
    assert fit.explained_share == pytest.approx(0.6656, abs=6e-5)


def test_equal_minima_are_forecast_as_they_are():
    fit = fit_radiation_frost(AIR, DEW, np.full(10, -3.0))
    assert fit.minimum_c(10.0, 2.0) == pytest.approx(-3.0)
    assert fit.explained_share == 1.0


@pytest.mark.parametrize(
    ("evening", "lowest", "course"),
    # FAO (2005), volume 1, temperature trend: nights of 15 h, in degF and in degC
    [
        (33.7, 22.2, [30.51047, 29.18933, 28.17558]),
        (0.95, -5.45, [-0.8250, -1.5603, -2.1245]),
    ],
)
def test_course_of_a_night(evening, lowest, course):
    found = night_course_c(evening, lowest, 15)
    assert len(found) == 14
    assert found[0] == evening
    assert found[1:4] == pytest.approx(course, abs=6e-5)
    assert found[-1] == pytest.approx(lowest)


def test_hours_below_a_critical_temperature():
    course = night_course_c(0.95, -5.45, 15)
    # By hand: below -2.2 from the fourth hour on, -5.45 at the thirteenth
    assert hours_at_or_below(course, fahrenheit_to_c(28)) == 10
    assert hours_at_or_below(course, -6.0) == 0
    assert hours_at_or_below(np.array([-2.2, np.nan]), fahrenheit_to_c(28)) == 1
    places = np.column_stack([course, course - 10])
    assert hours_at_or_below(places, -2.0).tolist() == [11, 14]


def test_there_is_no_course_of_a_white_night():
    assert night_course_c(5.0, 1.0, 3).tolist() == [5.0, 1.0]
    with pytest.raises(ValueError, match="no night"):
        night_course_c(5.0, 1.0, 2)


def test_cold_pocket_from_pairs_of_minima():
    reference = np.array([0.0, -2.0, 3.0, 4.0, -5.0, 12.0, 1.0])
    spot = reference - np.array([2.0, 2.5, 1.5, 2.0, 3.0, 0.0, 2.0])
    # By hand: the mild night is left out; sorted, colder by 1.5 2 2 2 2.5 3
    assert cold_pocket(spot, reference) == ColdPocket(offset_c=2.0, nights=6)
    spot[:2] = np.nan
    assert cold_pocket(spot, reference) is None
    with pytest.raises(ValueError, match="differ in number"):
        cold_pocket(spot, reference[:3])


def test_a_misread_night_does_not_move_the_offset():
    reference = np.linspace(-4, 4, 9)
    spot = reference - 1.5
    spot[4] = -31.0
    assert cold_pocket(spot, reference).offset_c == pytest.approx(1.5)


@pytest.mark.parametrize(("colder_by", "offset"), [(-2.0, 0.0), (15.0, 6.0)])
def test_an_offset_neither_puts_off_an_alarm_nor_believes_a_broken_reading(
    colder_by, offset
):
    reference = np.linspace(-4, 4, 9)
    assert cold_pocket(reference - colder_by, reference).offset_c == offset


@pytest.mark.parametrize(
    ("temperature", "humidity", "dew_point"),
    # FAO-56 Eq. 11 turned round, by hand; saturated air is at its dew point
    [(10, 50, 0.071), (20, 60, 12.004), (5, 80, 1.845), (7, 100, 7), (7, 102, 7)],
)
def test_dew_point(temperature, humidity, dew_point):
    assert dew_point_c(temperature, humidity) == pytest.approx(dew_point, abs=6e-4)


def test_dew_point_of_dry_air_is_unknown():
    assert np.isnan(dew_point_c(10.0, 0.0))


@settings(max_examples=50)
@given(st.floats(-10, 40), st.floats(5, 99))
def test_dew_point_is_where_the_air_is_saturated(temperature, humidity):
    dew = dew_point_c(temperature, humidity)
    vapour = humidity / 100 * saturation_vapour_pressure_kpa(temperature)
    assert saturation_vapour_pressure_kpa(dew) == pytest.approx(vapour, rel=1e-9)
    assert dew <= temperature + 1e-9


@settings(max_examples=50)
@given(st.floats(-10, 15), st.floats(0, 20), st.integers(3, 20), st.floats(-30, 15))
def test_a_night_falls_to_its_minimum(evening, fall, hours, threshold):
    course = night_course_c(evening, evening - fall, hours)
    assert (np.diff(course) <= 0).all()
    assert course[-1] == pytest.approx(evening - fall)
    colder = hours_at_or_below(course, threshold)
    assert hours_at_or_below(course, threshold + 1) >= colder


@settings(max_examples=40)
@given(
    arrays(np.float64, 12, elements=st.floats(-8, 10, width=16)),
    arrays(np.float64, 12, elements=st.floats(-10, 8, width=16)),
    st.floats(0.1, 1.5),
    st.floats(-8, 0),
)
def test_a_straight_line_is_learned_exactly(air, dew, slope, intercept):
    fit = fit_radiation_frost(air, dew, slope * air + intercept)
    if np.ptp(air) == 0:
        assert fit is None
    else:
        assert fit.air_slope == pytest.approx(slope, rel=1e-6)
        assert fit.rmse_c == pytest.approx(0, abs=1e-6)
        assert fit.minimum_c(0.0, 0.0) == pytest.approx(intercept, abs=1e-6)
