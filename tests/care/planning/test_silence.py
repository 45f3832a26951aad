"""Silence and gaps make the plan less sure, never surer (watering model, section 8)."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.planning.simulate import simulate_water
from care.planning.tree_days import CHECK_KEY
from tests.care.planning.water_cases import (
    SITE,
    new_apple,
    old_apple,
    pot,
    watered,
    weather,
)

JULY = date(2014, 7, 20)
DAY = timedelta(days=1)
HORIZON = 60
SERIES = weather(JULY)
PLANTS = (old_apple(), new_apple(), pot())
BEYOND = 10_000


def looks(days_ago):
    """Return words that nobody watered, which bring no water themselves."""
    return [
        watered(tree, JULY - back * DAY, key=CHECK_KEY)
        for tree in PLANTS
        for back in days_ago
    ]


def outlooks(days_ago=(), series=SERIES):
    return simulate_water(SITE, PLANTS, series, looks(days_ago), (), JULY, HORIZON)


def span(water):
    first, _middle, last = water.likely_in_days
    low = BEYOND if first is None else first
    return low, BEYOND if last is None else last


def assert_no_narrower(doubtful, sure):
    for tree_id, water in sure.items():
        low, high = span(water)
        wide_low, wide_high = span(doubtful[tree_id])
        assert wide_low <= low
        assert wide_high >= high
        assert doubtful[tree_id].due_in_days == water.due_in_days


@settings(max_examples=12)
@given(st.sets(st.integers(0, 40), min_size=1, max_size=4), st.integers(0, 3))
def test_more_silence_never_makes_the_range_narrower(days_ago, dropped):
    spoken = sorted(days_ago)
    fewer = spoken[min(dropped, len(spoken) - 1) :]  # the newest words unsaid
    quiet, heard = outlooks(fewer), outlooks(spoken)
    assert_no_narrower(quiet, heard)
    for tree_id, water in heard.items():
        assert quiet[tree_id].unknown_water_days >= water.unknown_water_days


def test_after_a_quiet_week_the_range_grows_and_says_for_how_long():
    heard, quiet = outlooks([7]), outlooks([8])
    assert [water.unknown_water_days for water in heard.values()] == [7, 7, 7]
    widths = [
        [high - low for low, high in map(span, found.values())]
        for found in (heard, quiet)
    ]
    assert all(wide >= narrow for narrow, wide in zip(*widths, strict=True))
    assert widths[1] != widths[0]


@pytest.mark.parametrize("gone", [[1], [3], [1, 2, 3], [9]])
def test_a_day_without_a_word_on_rain_never_makes_it_surer(gone):
    rain = SERIES.rain_mm.copy()
    at = [SERIES.index(JULY) - back for back in gone]
    rain[at] = 0.0
    dry = replace(SERIES, rain_mm=rain)
    unknown = rain.copy()
    unknown[at] = np.nan
    gap = replace(SERIES, rain_mm=unknown)
    doubtful, sure = outlooks([2], gap), outlooks([2], dry)
    assert_no_narrower(doubtful, sure)
    is_wider = any(span(doubtful[one]) != span(sure[one]) for one in sure)
    assert is_wider == (sum(back <= 7 for back in gone) > 2)
    assert doubtful[1].latest_in_days == sure[1].latest_in_days
    assert doubtful[1].rain_known == (min(gone) > 7)
