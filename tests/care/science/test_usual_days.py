"""What usual days are worth: exact where the mean is known, and only for usual days."""

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st
from hypothesis.extra.numpy import arrays

from care.science.usual_days import DEPARTURE_C, worth_with_departures

DAYS = arrays(np.float64, 12, elements=st.floats(-20, 40))
FLAGS = arrays(np.bool_, 12)


@settings(max_examples=60)
@given(DAYS, FLAGS)
def test_what_is_proportional_stays(days, is_usual):
    found = worth_with_departures(lambda span, more: 2 * (days[span] + more), is_usual)
    assert found == pytest.approx(2 * days, abs=1e-9)


@settings(max_examples=60)
@given(DAYS, FLAGS)
def test_a_square_gains_the_variance_on_usual_days_only(days, is_usual):
    # The mean of x squared is the square of the mean and the variance
    found = worth_with_departures(lambda span, more: (days[span] + more) ** 2, is_usual)
    assert found == pytest.approx(days**2 + DEPARTURE_C**2 * is_usual, abs=1e-6)


def test_several_worths_are_reckoned_at_once():
    days = np.array([5.0, 5.0])
    is_usual = np.array([True, False])
    found = worth_with_departures(
        lambda span, more: np.array([days[span] + more, (days[span] + more) ** 2]),
        is_usual,
    )
    assert found == pytest.approx(np.array([[5, 5], [34, 25]]))


def test_unknown_days_stay_unknown():
    days = np.array([np.nan, 5.0])
    found = worth_with_departures(
        lambda span, more: days[span] + more, np.array([True, True])
    )
    assert np.isnan(found[0])
