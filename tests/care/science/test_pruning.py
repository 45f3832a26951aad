"""Pruning windows, limits and holds."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.science.pruning import crown_limit, hold_until, pruning_windows
from care.science.season import Window
from tests.care.rules.cases import (
    MILD,
    SHORT,
    WARM,
    WARM_SOUTH,
    minima,
    orange,
    species,
)

TODAY = date(2014, 1, 10)


def test_windows_in_the_catalogue_months():
    assert pruning_windows(2014, species(), MILD) == (
        Window(date(2014, 1, 1), date(2014, 3, 31)),
    )
    berry = species("blackberry", prune_months=(7, 8, 2), prune_system="cane")
    assert pruning_windows(2014, berry, MILD) == (
        Window(date(2014, 2, 1), date(2014, 2, 28)),
        Window(date(2014, 7, 1), date(2014, 8, 31)),
    )
    assert pruning_windows(2014, species(prune_months=()), MILD) == ()


@given(
    months=st.lists(st.integers(1, 12), min_size=1, max_size=4, unique=True),
    season=st.integers(2000, 2040),
)
@settings(max_examples=50)
def test_southern_windows_mirror_by_half_a_year(months, season):
    tree = species(prune_months=tuple(months))
    north = pruning_windows(season, tree, WARM)
    south = pruning_windows(season, tree, WARM_SOUTH)
    for one, other in zip(north, south, strict=True):
        assert (other.start.month - one.start.month) % 12 == 6
        assert (other.end.month - one.end.month) % 12 == 6
        assert 181 <= (other.start - one.start).days <= 184


def test_tender_trees_wait_for_the_last_frost_and_stop_well_before_the_first():
    window = pruning_windows(2014, orange(), SHORT)[0]
    assert window.start == date(2014, 5, 6)
    mango = orange(prune_months=(7, 8, 9))
    assert pruning_windows(2014, mango, SHORT)[0].end == date(2014, 8, 10)
    assert pruning_windows(2014, orange(), WARM)[0].start == date(2014, 2, 1)
    banana = orange(prune_months=tuple(range(1, 13)))
    unknown = replace(SHORT, first_frost=None)
    assert pruning_windows(2014, banana, unknown)[0] == Window(
        date(2014, 5, 6), date(2014, 10, 31)
    )


@pytest.mark.parametrize(
    ("key", "habit", "system", "share", "own_rule"),
    [
        # ANSI A300 (1995) 5.3.1: a quarter of the foliage
        ("apple", "tree", "central_leader", 0.25, ""),
        ("orange", "tree", "none", 0.25, ""),
        ("pomegranate", "shrub", "multi_stem", 0.25, ""),
        ("peach", "tree", "open_center", None, "fruiting_shoots"),
        ("grape", "vine", "cane_or_spur", None, "vine"),
        ("raspberry", "shrub", "cane", None, "canes"),
        ("banana", "herb", "pup_selection", None, "stems"),
    ],
)
def test_limits(key, habit, system, share, own_rule):
    limit = crown_limit(species(key, habit=habit, prune_system=system))
    assert (limit.share, limit.own_rule) == (share, own_rule)


def test_hardy_trees_wait_only_for_exceptional_lows():
    frost = minima(TODAY, [-5.0, -5.0, 1.0])
    assert hold_until(frost, TODAY, species()) is None
    assert hold_until(frost, TODAY, orange()) == (date(2014, 1, 12), "cold")
    bitter = minima(TODAY, [-5.0, -15.0, 1.0])
    assert hold_until(bitter, TODAY, species()) == (date(2014, 1, 12), "cold")


def test_heat_holds_and_normals_and_gaps_do_not():
    hot = minima(TODAY, [20.0, 20.0], tmax_c=39.0)
    assert hold_until(hot, TODAY, species()) == (date(2014, 1, 12), "heat")
    assert hold_until(minima(TODAY, [-30.0], "n"), TODAY, species()) is None
    assert hold_until(minima(TODAY, [np.nan]), TODAY, species()) is None
    assert hold_until(None, TODAY, species()) is None
