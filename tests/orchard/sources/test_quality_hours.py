"""Readings within a day that stand alone, stand still or are of another unit."""

import numpy as np
from hypothesis import given, strategies as st

from orchard.sources.quality_hours import (
    FEWEST_AROUND,
    SPIKE_SPAN_S,
    SPIKE_STEP_C,
    Why,
    doubted_temperatures,
    fits_in_another_unit,
)

BOUNDS = (-60.0, 55.0)


def plain_spikes(times, values):
    """Return the spikes by the definition itself, reading by reading."""
    found = []
    for at, value in zip(times, values, strict=True):
        around = values[np.abs(times - at) <= SPIKE_SPAN_S]
        is_enough = len(around) > FEWEST_AROUND
        found.append(is_enough and abs(value - np.median(around)) > SPIKE_STEP_C)
    return np.array(found)


@given(
    st.lists(
        st.tuples(st.integers(1, 20_000), st.floats(-40, 50)), min_size=1, max_size=60
    )
)
def test_the_quick_way_finds_what_the_definition_finds(steps):
    times = np.cumsum([float(step) for step, _ in steps])
    values = np.array([value for _, value in steps])
    found = doubted_temperatures(times, values, BOUNDS)
    is_stuck = np.array([why is Why.STUCK for why in found.why]) & found.is_doubted
    if not is_stuck.any():
        assert (found.is_doubted == plain_spikes(times, values)).all()


def test_what_is_missing_is_not_doubted():
    values = np.array([np.nan, 70.0, np.nan])
    found = doubted_temperatures(np.arange(3.0), values, BOUNDS)
    assert list(found.is_doubted) == [False, True, False]
    assert found.why[1] is Why.BOUNDS
    nothing = doubted_temperatures(np.arange(2.0), np.full(2, np.nan), BOUNDS)
    assert not nothing.is_doubted.any()


def test_a_unit_is_seen_either_way():
    assert fits_in_another_unit(59.0, 14.0)  # 15 degC read as 59
    assert fits_in_another_unit(-10.5, 13.0)  # 13.1 degC sent as degF
    assert not fits_in_another_unit(-10.5, 2.0)
