"""What courses of the weather say together: days, amounts, and how sure they are."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.planning.ensemble import (
    NEVER,
    Members,
    chance,
    fan_of,
    likely_amount,
    likely_day,
    soon,
    three,
)

START = date(2015, 3, 1)
REAL = Members(10, 10, 0)


def likely(days, firm_days=0, reach=60):
    return likely_day(
        np.array(days),
        START,
        until=START + timedelta(days=reach),
        firm_until=START + timedelta(days=firm_days - 1),
        members=REAL,
    )


def test_the_chance_of_something_is_never_certain():
    assert chance(10, 10) == pytest.approx(10.5 / 11)
    assert chance(0, 10) == pytest.approx(0.5 / 11)
    assert soon([3, 8, 20, NEVER]) == {7: 1.5 / 5, 14: 2.5 / 5, 30: 3.5 / 5}


def test_eight_of_ten_courses_lie_between_the_ends():
    days = likely(range(10, 20))
    assert days.low == START + timedelta(days=10)
    assert days.middle == START + timedelta(days=14)
    assert days.high == START + timedelta(days=18)
    assert not days.is_firm
    assert days.high is not None


def test_what_more_than_one_course_in_ten_does_not_bring_may_not_come():
    days = likely([10] * 8 + [NEVER] * 2)
    assert days.low == days.middle == START + timedelta(days=10)
    assert days.high is None
    assert days.high is None
    assert days.share == pytest.approx(8.5 / 11)
    assert likely([70] * 10).low is None  # after the last day that was looked at


def test_only_what_all_courses_share_is_firm():
    assert likely([3] * 10, firm_days=5).is_firm
    assert not likely([3] * 10, firm_days=3).is_firm  # all agree, by chance
    assert not likely([3] * 9 + [8], firm_days=5).is_firm
    assert not likely([NEVER] * 10, firm_days=5).is_firm


def test_few_real_years_give_a_coarse_range_and_made_up_ones_say_so():
    assert not Members(10, 10, 0).is_coarse
    assert Members(45, 9, 0).is_coarse
    assert Members(30, 3, 15).is_coarse
    assert Members(30, 3, 15).is_generated
    assert not Members(45, 9, 0).is_generated


def test_an_amount_is_firm_once_its_last_day_is():
    for days, is_firm in ((0, True), (1, False)):
        amount = likely_amount(
            np.array([3.0, 1.0, 2.0]),
            until=START + timedelta(days=days),
            firm_until=START,
            members=REAL,
        )
        assert (amount.low, amount.middle, amount.high) == (1.0, 2.0, 3.0)
        assert amount.is_firm is is_firm


@given(
    st.lists(
        st.lists(st.floats(0, 50), min_size=4, max_size=4), min_size=1, max_size=45
    )
)
def test_a_fan_of_sums_opens_in_order_and_never_falls(daily):
    sums = np.cumsum(np.array(daily), axis=1)
    fan = fan_of(sums, START, firm_until=START, members=REAL)
    assert fan.end == START + timedelta(days=3)
    assert (fan.low <= fan.middle).all()
    assert (fan.middle <= fan.high).all()
    for line in (fan.low, fan.middle, fan.high):
        assert (np.diff(line) >= 0).all()


@given(st.lists(st.integers(0, 99), min_size=1, max_size=45))
def test_the_ends_are_days_of_courses_and_hold_their_share(days):
    low, middle, high = three(np.array(days))
    assert {low, middle, high} <= set(days)
    for value, share in ((low, 0.1), (middle, 0.5), (high, 0.9)):
        assert np.mean(np.array(days) <= value) >= share - 1e-9
        assert np.mean(np.array(days) < value) < share
