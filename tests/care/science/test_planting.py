"""Holes, drainage, days for the locate service and distances against what is published."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.facts import Stock
from care.science.container_water import pot_diameter_m
from care.science.planting import (
    FOOT_M,
    building_distance_m,
    business_days_after,
    business_days_before,
    is_too_close,
    may_stand_under_lines,
    nearest_window,
    planting_hole,
    septic_distance_m,
)
from orchard.catalogue.species import species_catalogue
from tests.care.rules.cases import morning, species, tree

INCH_M = 0.0254


@pytest.mark.parametrize("litres", [2.8, 9.0, 24.6, 104.5])
def test_a_hole_is_two_to_three_balls_wide_and_no_deeper_than_the_ball(litres):
    # Colorado State, GardenNotes 633: 2-3 times, top 1-2 in above the ground.
    hole = planting_hole(tree(stock_litres=litres))
    assert hole.ball_width_m == pytest.approx(pot_diameter_m(litres))
    assert hole.least_width_m == pytest.approx(2 * hole.ball_width_m)
    assert hole.most_width_m == pytest.approx(3 * hole.ball_width_m)
    assert hole.depth_m < hole.ball_depth_m
    assert 1 * INCH_M <= hole.ball_depth_m - hole.depth_m <= 2 * INCH_M


def test_bare_roots_are_spread_not_bent():
    hole = planting_hole(tree(stock=Stock.BARE_ROOT, stock_litres=5.0))
    assert hole.least_width_m == pytest.approx(0.5)
    assert hole.depth_m < 0.3


def test_figs_alone_go_deeper_than_they_stood():
    # University of Georgia Extension: 2-4 in.
    fig = planting_hole(tree(species("fig"), stock_litres=9.0))
    deeper_in = (fig.depth_m - fig.ball_depth_m) / INCH_M
    assert 2 < deeper_in < 4
    assert fig.above_ground_m < 0


@pytest.mark.parametrize(
    ("dig_on", "call_by"),
    [
        # Three business days before: a Friday's by Tuesday, a Monday's by Wednesday.
        (date(2014, 3, 14), date(2014, 3, 11)),
        (date(2014, 3, 17), date(2014, 3, 12)),
        (date(2014, 3, 16), date(2014, 3, 12)),
    ],
)
def test_marks_take_three_business_days(dig_on, call_by):
    assert business_days_before(dig_on, 3) == call_by


@given(day=st.dates(date(2000, 1, 1), date(2030, 1, 1)), number=st.integers(1, 10))
def test_weekdays_are_counted_as_numpy_counts_them(day, number):
    before = business_days_before(day, number)
    assert np.is_busday(before)
    assert np.busday_count(before, day) == number
    after = business_days_after(day, number)
    assert np.is_busday(after)
    tomorrow = day + timedelta(days=1)
    assert np.busday_count(tomorrow, after + timedelta(days=1)) == number


@pytest.mark.parametrize(
    ("height_ft", "feet"),
    [
        # North Carolina Cooperative Extension: at least the height grown; else 25 ft.
        (30, 30),
        (15, 25),
    ],
)
def test_the_way_to_a_drain_field(height_ft, feet):
    assert septic_distance_m(height_ft * FOOT_M) / FOOT_M == pytest.approx(feet)


@pytest.mark.parametrize(("height_ft", "feet"), [(40, 10), (41, 15), (12, 10)])
def test_the_way_to_a_wall(height_ft, feet):
    # takingroot.info: 10 ft up to 40 ft of height, 15 ft beyond.
    assert building_distance_m(height_ft * FOOT_M) / FOOT_M == pytest.approx(feet)


# Feet between trees, Oregon State EC 819 (read in a reprint).
OREGON_FT = {
    "apple": (5, 40),
    "apricot": (15, 25),
    "sour_cherry": (14, 20),
    "sweet_cherry": (20, 35),
    "fig": (12, 20),
    "peach": (12, 15),
    "pear": (10, 20),
    "asian_persimmon": (15, 20),
    "european_plum": (10, 20),
    "japanese_plum": (10, 20),
}


@pytest.mark.parametrize("key", OREGON_FT)
def test_the_usual_distances_shown_lie_in_oregons_range(key):
    low, high = OREGON_FT[key]
    feet = species_catalogue()[key].spacing_typical_m / FOOT_M
    # The catalogue rounds metres.
    assert low - 0.1 <= feet <= high + 0.1


def test_pawpaw_is_the_one_that_differs():
    # Oregon: 15-20 ft; Kentucky State University plants 8 ft apart in the row.
    assert species_catalogue()["pawpaw"].spacing_typical_m / FOOT_M < 15


@pytest.mark.parametrize(
    ("key", "feet"),
    [
        # University of Arizona Master Gardener manual: apricot 18, cherries 20 and 25,
        # fig 15, almond 25, apple 12 dwarf to 25 standard.
        ("apricot", 18),
        ("sour_cherry", 20),
        ("sweet_cherry", 25),
        ("fig", 15),
        ("almond", 25),
        ("apple", 18),
    ],
)
def test_arizonas_distances_are_never_called_too_close(key, feet):
    least = species_catalogue()[key].spacing_min_m
    assert not is_too_close(feet * FOOT_M, species(key, spacing_min_m=least))


@pytest.mark.parametrize(
    ("height_m", "may"), [(25 * FOOT_M, True), (7.7, False), (None, False)]
)
def test_only_what_stays_under_25_ft_stands_near_lines(height_m, may):
    assert may_stand_under_lines(species(mature_height_m=height_m)) is may


@pytest.mark.parametrize(
    ("spacing_m", "facts", "is_close"),
    [
        (3.0, {"spacing_min_m": 3.0}, False),
        (2.9, {"spacing_min_m": 3.0}, True),
        (3.6, {}, True),
        (3.7, {}, False),
        (1.0, {"habit": "shrub"}, False),
    ],
)
def test_too_close_is_closer_than_the_kinds_least(spacing_m, facts, is_close):
    assert is_too_close(spacing_m, species(**facts)) is is_close


@pytest.mark.parametrize(
    ("changes", "day", "is_in_time"),
    [
        # Extension pages: deciduous trees in pots go in from autumn to early spring,
        # bare roots while dormant.
        ({}, date(2015, 1, 20), True),
        ({}, date(2014, 10, 20), True),
        ({}, date(2015, 4, 10), True),
        ({}, date(2015, 7, 20), False),
        ({"stock": Stock.BARE_ROOT}, date(2015, 2, 10), True),
        ({"stock": Stock.BARE_ROOT}, date(2015, 5, 10), False),
    ],
)
def test_the_time_to_plant_in_a_mild_place(changes, day, is_in_time):
    situation = morning(date(2014, 9, 20), tree(planted_on=day, **changes))
    found, nearest = nearest_window(situation, day)
    assert (nearest == day) is is_in_time
    assert found.window.end >= situation.today


def test_an_evergreen_does_not_go_in_in_winter():
    hardy = species("loquat", leaf="evergreen", move_in_temp_c=-8.0)
    day = date(2015, 1, 20)
    _found, nearest = nearest_window(morning(date(2014, 9, 20), tree(hardy)), day)
    assert nearest != day


def test_a_better_day_is_never_past():
    today = date(2015, 6, 1)
    situation = morning(today, tree(stock=Stock.BARE_ROOT))
    _found, nearest = nearest_window(situation, date(2015, 6, 20))
    assert nearest >= today
