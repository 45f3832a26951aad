"""Axes: round steps, months, labels that keep apart."""

from datetime import date
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.charts.axes import (
    Scale,
    between,
    from_zero,
    kept_apart,
    month_ticks,
    points,
    round_step,
)


@pytest.mark.parametrize(
    ("largest", "step"),
    [(1.0, 0.2), (9.9, 2.0), (16.0, 5.0), (40.0, 10.0), (80.0, 20.0), (0.3, 0.1)],
)
def test_steps_are_round(largest, step):
    assert round_step(largest) == pytest.approx(step)


@given(st.floats(1e-3, 1e5))
def test_at_most_five_steps_reach_any_amount(largest):
    step = round_step(largest)
    assert largest <= 5 * step * (1 + 1e-6)
    assert step <= largest  # and never so large that one step says nothing


def test_an_axis_ends_on_a_round_number_and_names_its_steps():
    scale, ticks = from_zero(1640.0, 200.0, 100.0)
    assert scale.high == 2000
    assert [tick.label for tick in ticks] == ["0", "500", "1,000", "1,500", "2,000"]
    assert (ticks[0].at, ticks[-1].at) == (200.0, 100.0)
    assert [tick.label for tick in from_zero(0.9, 0, 1)[1]][:2] == ["0.0", "0.2"]


def test_an_axis_of_nothing_ends_at_one_step():
    scale, ticks = from_zero(0.0, 200.0, 100.0)
    assert len(ticks) == 2
    assert scale.high == pytest.approx(0.2)


def test_months_of_a_winter_are_all_named_and_of_a_year_every_other():
    winter = month_ticks(date(2014, 11, 1), date(2015, 3, 31), Scale(0, 151, 0, 240))
    assert [tick.label for tick in winter] == ["Nov", "Dec", "Jan", "Feb", "Mar"]
    assert winter[1].at == pytest.approx(30 / 151 * 240, abs=0.05)
    year = month_ticks(date(2014, 7, 1), date(2015, 6, 29), Scale(0, 364, 0, 240))
    assert [tick.label for tick in year[:4]] == ["Jul", "", "Sep", ""]
    assert len(year) == 12


def test_labels_near_each_other_move_apart_and_keep_their_order():
    assert kept_apart([50.0, 52.0, 100.0], 0, 200, gap=10) == [50.0, 60.0, 100.0]
    assert kept_apart([199.0, 198.0], 0, 200, gap=10) == [200.0, 190.0]


@given(st.lists(st.floats(0, 100), max_size=12))
def test_no_two_labels_touch_and_none_leaves_the_span(places):
    found = kept_apart(places, 0.0, 100.0, gap=15)
    gap = min(15.0, 100 / max(len(places) - 1, 1))
    ordered = sorted(found)
    assert all(b - a >= gap - 1e-6 for a, b in pairwise(ordered))
    assert all(-1e-6 <= each <= 100 + 1e-6 for each in found)
    by_wish = sorted(range(len(places)), key=lambda each: places[each])
    assert [found[each] for each in by_wish] == ordered


def test_lines_and_areas_are_lists_of_points():
    across, upper, lower = (
        np.array([0.0, 10.0]),
        np.array([1.0, 2.0]),
        np.array([3.0, 4.0]),
    )
    assert points(across, upper) == "0.0,1.0 10.0,2.0"
    assert between(across, upper, lower) == "0.0,1.0 10.0,2.0 10.0,4.0 0.0,3.0"
