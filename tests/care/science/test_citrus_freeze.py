"""Citrus fruit and wood in a freeze, against extension thresholds."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import Span, Stage, StageDay
from care.science.citrus_freeze import (
    FOUR_HOURS,
    UNHARDENED_C,
    fruit_freezes,
    harvest_alert,
    has_ripe_fruit,
    unhardened_c,
)
from care.science.frost import fahrenheit_to_c
from tests.care.rules.cases import (
    WARM,
    WARM_SOUTH,
    minima,
    morning,
    orange,
    species,
    tree,
)

TODAY = date(2014, 12, 20)


@pytest.mark.parametrize(
    ("minimum_f", "hours", "is_alert"),
    [
        # UF/IFAS: harvest before it is below 28 degF for four hours
        (27, 4, True),
        (29, 6, False),
        (27, 3.5, False),
        (20, 12, True),
        (27, None, True),
        (29, None, False),
    ],
)
def test_pick_ripe_fruit_before_four_hours_below_28(minimum_f, hours, is_alert):
    assert harvest_alert(fahrenheit_to_c(minimum_f), hours) is is_alert


@pytest.mark.parametrize(
    ("key", "minimum_f", "hours", "is_alert"),
    [
        # LSU AgCenter: fruit of satsumas freezes at 28-30 degF in two hours, navel
        # oranges at 26 degF in two hours
        ("mandarin_satsuma", 29, 2, True),
        ("mandarin_satsuma", 31, 5, False),
        ("orange", 26, 2, True),
        ("orange", 27, 2, False),
        ("orange", 27, 4, True),
        ("lemon", 26, 2, False),
    ],
)
def test_satsumas_and_navels_freeze_in_two_hours(key, minimum_f, hours, is_alert):
    limits = fruit_freezes(replace(orange(), key=key))
    minimum_c = fahrenheit_to_c(minimum_f)
    found = any(
        harvest_alert(minimum_c, hours, limit)
        for limit in limits
        if minimum_c <= limit.below_c + 0.05
    )
    assert found is is_alert
    assert limits[0] == FOUR_HOURS


def test_other_fruit_has_no_such_limit():
    assert fruit_freezes(species()) == ()


@pytest.mark.parametrize(
    ("today", "site", "is_ripe"),
    [
        (date(2014, 12, 20), WARM, True),
        (date(2014, 8, 20), WARM, False),
        (date(2014, 6, 20), WARM_SOUTH, True),
        (date(2014, 2, 20), WARM_SOUTH, False),
    ],
)
def test_ripe_in_the_months_of_its_hemisphere(today, site, is_ripe):
    kind = orange(harvest=Span(11, 6))
    assert has_ripe_fruit(morning(today, tree(kind), site)) is is_ripe


def test_a_tree_too_young_to_bear_and_a_kind_without_months_have_none():
    kind = orange(harvest=Span(11, 6))
    young = tree(kind, planted_on=date(2013, 3, 1))
    assert not has_ripe_fruit(morning(TODAY, young, WARM))
    assert not has_ripe_fruit(morning(TODAY, tree(orange(harvest=None)), WARM))


@pytest.mark.parametrize(
    ("days_ago", "basis", "is_ripe"),
    [
        (10, "seen", False),
        (179, "seen", False),
        (180, "seen", True),
        (-5, "seen", True),
        (10, "months", True),
    ],
)
def test_a_tree_that_was_picked_has_no_ripe_fruit_left(days_ago, basis, is_ripe):
    on = TODAY - timedelta(days=days_ago)
    picked = (
        StageDay(Stage.FULL_BLOOM, 2014, TODAY, "seen"),
        StageDay(Stage.HARVEST, 2014, on, basis),
    )
    kind = orange(harvest=Span(11, 6))
    assert has_ripe_fruit(morning(TODAY, tree(kind), WARM, stages=picked)) is is_ripe


def fortnight(minimum_c, origin="o", days=14):
    values = np.full(days, minimum_c)
    return minima(TODAY - timedelta(days=days), values, origin)


def test_citrus_hardens_in_a_cool_fortnight():
    # LSU AgCenter: unhardened citrus freezes 5-6 degF warmer
    assert unhardened_c(fortnight(15.0), TODAY) == UNHARDENED_C
    assert 5 <= UNHARDENED_C * 1.8 <= 6
    assert unhardened_c(fortnight(8.0), TODAY) == 0
    gaps = fortnight(15.0)
    gaps.tmin_c[:8] = np.nan
    unknown = (None, fortnight(15.0, "n"), fortnight(15.0, days=6), gaps)
    assert [unhardened_c(series, TODAY) for series in unknown] == [0] * 4


def test_only_the_last_fortnight_counts_for_hardening():
    nights = np.array([25.0] * 16 + [8.0] * 14)
    series = minima(TODAY - timedelta(days=30), nights, "o")
    assert unhardened_c(series, TODAY) == 0
    assert unhardened_c(series, TODAY - timedelta(days=14)) == UNHARDENED_C
