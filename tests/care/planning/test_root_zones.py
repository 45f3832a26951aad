"""Where a tree's water is, seen from outside: stores, ground and roots."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from care.facts import Stock
from care.planning.simulate import simulate_water
from tests.care.planning.water_cases import APPLE, SITE, new_apple, old_apple, weather

JULY = date(2014, 7, 10)
APRIL = date(2014, 4, 1)


def outlook_of(tree, today=JULY):
    return simulate_water(SITE, [tree], weather(today), [], [], today, 60)[tree.id]


def test_a_bare_root_has_the_water_of_its_hole():
    # Common practice, no source: roots spread out in a hole half a metre wide, whatever
    # the bag they came in; some litres at a time, not a glass every day.
    bare = new_apple(stock=Stock.BARE_ROOT, stock_litres=9.0, planted_on=APRIL)
    spring = outlook_of(bare, date(2014, 5, 1))
    assert spring.store_l == pytest.approx(6.0)
    assert spring.readily_available_l / spring.use_l > 3


def test_an_unmeasured_tree_is_not_taken_for_the_largest_of_its_kind():
    # Common practice, no source: garden trees are kept at four metres or less.
    wide = replace(APPLE, mature_spread_m=9.0)
    guess = outlook_of(old_apple(species=wide, crown_width_m=None, spacing_m=None))
    assert guess.crown_area_m2 == pytest.approx(np.pi * 2**2)
    measured = outlook_of(old_apple(species=wide, crown_width_m=9.0))
    assert measured.crown_area_m2 == pytest.approx(np.pi * 4.5**2)


@pytest.mark.parametrize("crown_width_m", [3.0, 4.0, 6.0, 8.0, 10.0])
def test_the_watered_ground_holds_days_of_what_the_crown_drinks(crown_width_m):
    tree = old_apple(crown_width_m=crown_width_m, spacing_m=None)
    water = outlook_of(tree)
    usable_l = water.depletion_p * water.store_l
    assert usable_l > 2.5 * water.use_l
    share = water.basin_area_m2 / water.crown_area_m2
    assert 0.2 <= share <= 1


def test_roots_leave_the_ball_in_a_cool_spring():
    # Alvarez-Uria and Koerner (2007), second hand: growth stops near 6 degC and is
    # strong from 9; April in Seattle is warmer than that.
    planted = new_apple(planted_on=date(2013, 11, 20), stock_litres=15.0)
    spring = outlook_of(planted, date(2014, 5, 1))
    ball_m = outlook_of(planted, date(2013, 11, 25)).root_radius_m
    assert 0.05 < spring.root_radius_m - ball_m < 0.25


def test_a_clump_member_pours_its_litres_on_its_share_of_the_ground():
    pair = [old_apple(id=4, clump_id=7), old_apple(id=5, clump_id=7)]
    alone = outlook_of(old_apple(id=4))
    both = simulate_water(SITE, pair, weather(JULY), [], [], JULY)
    depth_mm = alone.water_net_l / alone.basin_area_m2
    assert both[4].water_net_l / both[4].basin_area_m2 == pytest.approx(depth_mm)


def test_a_tree_settled_in_its_first_summer_does_not_drink_like_an_old_one():
    # Common practice, no source: young trees are watered for some summers more.
    today = date(2014, 8, 15)
    stores = [
        outlook_of(old_apple(crown_width_m=1.0, planted_on=planted), today)
        for planted in (date(2012, 4, 1), date(2010, 4, 1), date(2004, 4, 1), None)
    ]
    assert all(water.is_established for water in stores)
    held = [water.store_l for water in stores]
    assert held[0] < held[1] < held[2] == held[3]
    assert held[0] > 0.45 * held[3]  # 45 cm deep at least, where 1 m is full
