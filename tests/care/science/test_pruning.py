"""How much of a crown may go, how far a tree is lowered, and when cuts wait."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.facts import WaterOutlook, WorkDone
from care.science.pruning import (
    CROWN_SHARE_LIMIT,
    LARGE_LIMBS,
    crown_limit,
    height_step_m,
    hold_until,
    needs_dry_wounds,
    renovation_season,
    share_left,
)
from tests.care.rules.cases import (
    MILD,
    minima,
    morning,
    orange,
    species,
    tree,
)

TODAY = date(2014, 1, 10)
APRICOT = species("apricot", feed_group="stone", prune_months=(7, 8))


def cut(on, share=None, key="", what="done"):
    return WorkDone(1, "pruning", key, on, what, share)


@pytest.mark.parametrize(
    ("key", "habit", "system", "share", "own_rule"),
    [
        # ANSI A300 (1995) 5.3.1: a quarter of the foliage
        ("apple", "tree", "central_leader", 0.25, ""),
        ("orange", "tree", "none", 0.25, ""),
        # UF/IFAS Miami-Dade (2025): no more than 25 % of the canopy of tropical fruit
        ("mango", "tree", "open_center", 0.25, ""),
        ("pomegranate", "shrub", "multi_stem", 0.25, ""),
        ("peach", "tree", "open_center", None, "fruiting_shoots"),
        ("grape", "vine", "cane_or_spur", None, "vine"),
        ("raspberry", "shrub", "cane", None, "canes"),
        ("currant", "shrub", "spur", None, "canes"),
        ("banana", "herb", "pup_selection", None, "stems"),
    ],
)
def test_limits(key, habit, system, share, own_rule):
    limit = crown_limit(species(key, habit=habit, prune_system=system))
    assert (limit.share, limit.own_rule) == (share, own_rule)


def test_all_cuts_of_a_season_count_whichever_task_asked_for_them():
    work = (
        cut(date(2013, 12, 1), 0.05),
        cut(date(2014, 1, 5), 0.10, "2014/1"),
        cut(date(2014, 1, 6), 0.9, "2014/2", "skipped"),
        cut(date(2013, 3, 1), 0.2, "2013/1"),
        cut(date(2014, 1, 7)),
    )
    assert share_left(morning(TODAY, work=work), 2014) == pytest.approx(0.10)
    assert share_left(morning(TODAY, tree(species("peach"))), 2014) is None


@given(st.lists(st.floats(0.0, 1.0), max_size=6))
@settings(max_examples=50)
def test_what_is_left_and_what_went_never_pass_the_limit(shares):
    work = tuple(cut(TODAY, share) for share in shares)
    left = share_left(morning(TODAY, work=work), 2014)
    assert 0.0 <= left <= CROWN_SHARE_LIMIT
    assert left == pytest.approx(max(0.0, 0.25 - sum(shares)))


@pytest.mark.parametrize(
    ("height_m", "target_m", "step_m"),
    [
        (3.0, 3.0, 0.0),
        (2.5, 3.0, 0.0),
        (3.6, 3.0, 0.6),
        (5.0, 3.0, 1.0),
        (7.5, 3.0, 1.5),
    ],
)
def test_a_third_of_what_is_too_much_a_season_and_a_metre_at_least(
    height_m, target_m, step_m
):
    assert height_step_m(height_m, target_m) == pytest.approx(step_m)


@given(st.floats(1.0, 7.0), st.floats(1.0, 4.0))
def test_yearly_steps_reach_the_target_and_never_pass_it(height_m, target_m):
    for _ in range(6):
        height_m -= height_step_m(height_m, target_m)
    assert height_m == pytest.approx(target_m) or height_m < target_m


def test_a_neglected_tree_is_brought_back_over_three_years():
    # Washington State University Extension: three years, one or two large limbs a year
    assert LARGE_LIMBS == 2
    old = tree(entered_on=date(2010, 1, 1))
    assert renovation_season(morning(TODAY, old), 2014) == 1
    one = (cut(date(2013, 2, 1), key="2013/1"),)
    assert renovation_season(morning(date(2014, 2, 10), old, work=one), 2014) == 2
    two = (*one, cut(date(2014, 2, 1), key="2014/1"))
    assert renovation_season(morning(date(2015, 2, 10), old, work=two), 2015) == 3
    three = (*two, cut(date(2015, 2, 1), key="2015/1"))
    assert renovation_season(morning(date(2016, 2, 10), old, work=three), 2016) is None


@pytest.mark.parametrize(
    "its_tree",
    [
        tree(),  # entered two years ago
        tree(entered_on=date(2010, 1, 1), planted_on=date(2009, 3, 1)),
        tree(species("peach"), entered_on=date(2010, 1, 1)),
        tree(species(habit="shrub"), entered_on=date(2010, 1, 1)),
        tree(entered_on=date(2010, 1, 1), in_container=True),
    ],
    ids=["newcomer", "young", "rule of its own", "shrub", "pot"],
)
def test_who_is_not_neglected(its_tree):
    assert renovation_season(morning(TODAY, its_tree), 2014) is None


def held(series, kind=None, today=TODAY, **more):
    found = hold_until(morning(today, tree(kind), weather=series, **more))
    return None if found is None else (found.until, found.by)


def test_hardy_trees_wait_only_for_exceptional_lows():
    frost = minima(TODAY, [-5.0, -5.0, 1.0])
    assert held(frost) is None
    assert held(frost, orange()) == (date(2014, 1, 12), "cold")
    assert held(minima(TODAY, [-5.0, -15.0, 1.0])) == (date(2014, 1, 12), "cold")


def test_heat_holds_and_normals_and_gaps_do_not():
    # UC Master Gardeners: postponed while 100 degF persist
    assert held(minima(TODAY, [20.0], tmax_c=37.8)) == (date(2014, 1, 11), "heat")
    assert held(minima(TODAY, [20.0], tmax_c=37.7)) is None
    assert held(minima(TODAY, [-30.0], "n")) is None
    assert held(minima(TODAY, [np.nan])) is None
    assert held(None) is None


@pytest.mark.parametrize(
    ("rain_mm", "until"),
    [
        ([0.0, 0.0, 0.9, 5.0], None),
        ([2.0, 0.0, 0.0, 0.0], date(2014, 1, 11)),
        ([0.0, 0.0, 2.0, 0.0, 0.0, 0.0], date(2014, 1, 13)),
        ([2.0, 0.0, 2.0, np.nan, 0.0, 0.0, 9.0], date(2014, 1, 13)),
    ],
)
def test_stone_fruit_waits_for_three_dry_days(rain_mm, until):
    series = minima(TODAY, [5.0] * len(rain_mm), rain_mm=np.array(rain_mm))
    expected = None if until is None else (until, "wet")
    assert held(series, APRICOT) == expected
    assert held(series) is None


def test_whose_wounds_must_stay_dry():
    assert needs_dry_wounds(APRICOT)
    assert needs_dry_wounds(species("olive", feed_group="other"))
    assert not needs_dry_wounds(species())


def thirsty(ks):
    return WaterOutlook(
        is_container=False, store_l=1, missing_l=1, outer_store_l=0, outer_missing_l=0,
        readily_available_l=1, spare_l=0, depletion_p=0.5, use_l=1, et0_mm=5,
        et0_method="fao", kc=1, crown_area_m2=1, stress_ks=ks, water_net_l=1,
        water_gross_l=1, earliest_in_days=0, due_in_days=0, latest_in_days=0,
    )  # fmt: skip


def test_a_tree_in_drought_is_watered_first():
    assert held(None, water=thirsty(0.4)) == (date(2014, 1, 13), "drought")
    assert held(None, water=thirsty(0.6)) is None


@given(
    day=st.dates(date(2014, 1, 1), date(2015, 12, 31)),
    lows=st.lists(st.floats(-25, 25), min_size=1, max_size=16),
    rain=st.floats(0, 5),
)
@settings(max_examples=60)
def test_a_hold_ends_after_today_and_inside_what_is_forecast(day, lows, rain):
    series = minima(day, lows, rain_mm=rain)
    found = hold_until(morning(day, tree(APRICOT), MILD, weather=series))
    assert found is None or day < found.until <= day + timedelta(days=len(lows))
