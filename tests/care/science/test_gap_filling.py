"""Gaps in temperatures: filled as stated, marked, and never anywhere else."""

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.science.gap_filling import Gap, filled_gaps

NAN = float("nan")


def filled(values, usual=10.0):
    curve = np.full(len(values), usual) if np.isscalar(usual) else np.array(usual)
    return filled_gaps(np.array(values, dtype=float), curve)


def test_a_short_gap_carries_its_neighbours_departure_across():
    """By hand: 4 above the usual before, 2 below after; 2.5, 1 and -0.5 between."""
    found = filled([14.0, NAN, NAN, NAN, 10.0], [10.0, 10.5, 11.0, 11.5, 12.0])
    assert found.values == pytest.approx([14.0, 13.0, 12.0, 11.0, 10.0])
    assert list(found.gaps) == [0, 1, 1, 1, 0]


def test_a_longer_gap_takes_the_usual():
    found = filled([14.0, *[NAN] * 4, 14.0], 9.0)
    assert list(found.values) == [14.0, 9.0, 9.0, 9.0, 9.0, 14.0]
    assert set(found.gaps[1:5]) == {Gap.USUAL}


def test_a_gap_at_an_end_has_one_neighbour_and_takes_the_usual():
    found = filled([NAN, 14.0, NAN], 9.0)
    assert list(found.values) == [9.0, 14.0, 9.0]
    assert list(found.gaps) == [Gap.USUAL, Gap.NONE, Gap.USUAL]


def test_without_gaps_nothing_is_touched():
    values = np.array([1.0, 2.0])
    found = filled_gaps(values, values)
    assert found.values is values
    assert not found.gaps.any()


@given(st.lists(st.none() | st.floats(-40, 45), min_size=1, max_size=40))
def test_what_was_measured_stays_and_every_filled_day_says_so(days):
    values = np.array([NAN if day is None else day for day in days])
    found = filled(values)
    known = ~np.isnan(values)
    assert (found.values[known] == values[known]).all()
    assert not np.isnan(found.values).any()
    assert ((found.gaps != Gap.NONE) == ~known).all()
    low = np.append(values[known], 10.0).min()
    high = np.append(values[known], 10.0).max()
    assert (found.values >= low - 1e-9).all()
    assert (found.values <= high + 1e-9).all()
