"""Ladders of tree fruit and figs, as printed."""

import pytest

from care.science.ladder_sources import FOOT_M, INCH_MM, OUNCE_G, POUND_G
from care.science.nutrients import nitrogen_in_product_g
from care.science.tree_fruit_ladders import (
    TEXAS_CUP_G,
    california_mature,
    georgia_fig,
    georgia_fig_product_g,
    georgia_young_fig_part_g,
    louisiana_fig,
    louisiana_fig_product_g,
    new_hampshire_tree,
    north_carolina_product_g,
    north_carolina_tree,
    pennsylvania_stone,
    pennsylvania_stone_product_g,
    texas_apple,
    texas_peach,
)


@pytest.mark.parametrize(("step", "pounds"), [(1, 0.5), (4, 2.0), (10, 5.0), (12, 5.0)])
def test_stone_fruit_in_pennsylvania(step, pounds):
    # Penn State Extension: 0.5 lb of 10-10-10, half a pound more a year, at most 5
    assert pennsylvania_stone_product_g(step) == pytest.approx(pounds * POUND_G)
    assert pennsylvania_stone(step).low_g == pytest.approx(pounds * 0.1 * POUND_G)


def test_the_eight_ounces_after_planting_in_pennsylvania():
    # Penn State Extension: 8 oz of 10-10-10 shortly after planting
    assert pennsylvania_stone_product_g(1) == pytest.approx(8 * OUNCE_G)
    assert pennsylvania_stone(0) == pennsylvania_stone(1)


def test_tree_fruit_in_north_carolina():
    # NC State Extension: 0.75 to 1 lb of 10-10-10 a year of age
    low, high = north_carolina_product_g(6)
    assert (low, high) == pytest.approx((4.5 * POUND_G, 6.0 * POUND_G))
    ladder = north_carolina_tree(6)
    assert ladder.low_g == pytest.approx(0.45 * POUND_G)
    assert ladder.high_g == pytest.approx(0.60 * POUND_G)


@pytest.mark.parametrize(
    ("group", "inches", "pounds"),
    [("pome", 1, 0.10), ("pome", 4, 0.40), ("stone", 1, 0.125), ("stone", 4, 0.5)],
)
def test_tree_fruit_in_new_hampshire_by_the_trunk(group, inches, pounds):
    # UNH, as relayed: 0.10 lb of nitrogen an inch (apple, pear), 1/8 lb (stone fruit)
    ladder = new_hampshire_tree(group, inches * INCH_MM)
    assert ladder.low_g == pytest.approx(pounds * POUND_G)


def test_new_hampshire_gives_no_rate_for_other_groups():
    assert new_hampshire_tree("citrus", 50.0) is None


def test_any_mature_tree_in_california():
    # UC Master Gardeners of San Diego County: 1 lb of nitrogen from age five, three lots
    ladder = california_mature(5)
    assert (ladder.low_g, ladder.applications) == (pytest.approx(POUND_G), 3)
    assert california_mature(4) is None


def test_a_grown_tree_in_ventura_gets_a_pound():
    # UC Master Gardeners of Ventura: 3 lb of 16-16-16 in spring and 3 lb in autumn
    # hold 0.96 lb of nitrogen (worked out by hand), of "1 to 2 lb"
    assert nitrogen_in_product_g(6, 16) == pytest.approx(0.96)
    assert 0.9 < nitrogen_in_product_g(6, 16) < 2


@pytest.mark.parametrize(
    ("year", "cups", "times"), [(1, 1, 3), (2, 1, 4), (3, 2, 4), (4, 3, 4), (9, 3, 4)]
)
def test_young_apples_in_texas(year, cups, times):
    # Texas A&M, as relayed: cups of 21-0-0; half a pound a cup (worked out by hand)
    ladder = texas_apple(year)
    assert ladder.applications == times
    assert ladder.low_g / (TEXAS_CUP_G * 0.21) == pytest.approx(cups * times)


def test_a_peach_in_its_second_year_in_texas():
    # Texas A&M, as relayed: a cup of 21-0-0 four times: 0.42 lb of nitrogen
    assert texas_peach().low_g == pytest.approx(0.42 * POUND_G)


@pytest.mark.parametrize(("age", "pounds"), [(1, 1), (4, 4), (10, 10), (14, 10)])
def test_figs_in_louisiana(age, pounds):
    # LSU AgCenter: a pound of 8-8-8 a year of age, at most ten
    assert louisiana_fig_product_g(age) == pytest.approx(pounds * POUND_G)
    assert louisiana_fig(age).low_g == pytest.approx(0.08 * pounds * POUND_G)


def test_a_fig_of_four_years_in_louisiana_gets_a_third_of_a_pound_of_nitrogen():
    assert louisiana_fig(4).low_g == pytest.approx(0.32 * POUND_G)


@pytest.mark.parametrize(
    ("height_ft", "spacing_ft", "pounds"),
    [(8, 10, 4.0), (12, 10, 5.0), (8, 20, 8.0), (12, 20, 10.0), (12, 15, 5.0)],
)
def test_grown_figs_in_georgia(height_ft, spacing_ft, pounds):
    # UGA Extension, Colquitt County (2024)
    grams = georgia_fig_product_g(height_ft * FOOT_M, spacing_ft * FOOT_M)
    assert grams == pytest.approx(pounds * POUND_G)
    ladder = georgia_fig(8, height_ft * FOOT_M, spacing_ft * FOOT_M)
    assert ladder.low_g == pytest.approx(0.08 * pounds * POUND_G)
    assert ladder.high_g == pytest.approx(0.10 * pounds * POUND_G)


@pytest.mark.parametrize(
    ("year", "height_ft", "ounces"),
    [(1, 2, 1.5), (2, 3, 3.0), (3, 6, 32.0), (5, 9, 48.0)],
)
def test_young_figs_in_georgia(year, height_ft, ounces):
    # UGA (2024): 1.5 oz, 3 oz, then a third of a pound a foot of height, three times
    grams = georgia_young_fig_part_g(year, height_ft * FOOT_M)
    assert grams == pytest.approx(ounces * OUNCE_G)
    ladder = georgia_fig(year, height_ft * FOOT_M, 3.0)
    assert ladder.applications == 3
    assert ladder.low_g == pytest.approx(3 * 0.08 * ounces * OUNCE_G)
