"""Nitrogen amounts, splits and stop dates against published figures."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Blackout, MonthDay
from care.science.feeding_ladders import (
    FLORIDA_CITRUS_LB,
    LADDER_SOURCES,
    PLANTED_SULFUR_LIMIT_G_PER_M2,
    POUND_G,
    SQUARE_FOOT_M2,
    arizona_share,
    california_citrus_nitrogen_g,
    florida_citrus,
    georgia_fig_product_g,
    louisiana_fig_product_g,
    north_carolina_tree_product_g,
    pennsylvania_stone_product_g,
    preplant_sulfur_g_per_m2,
    yardstick,
)
from care.science.nutrients import (
    POT_NITROGEN_G_PER_L,
    feeding_stop,
    growth_gauge,
    nitrogen_in_product_g,
    outside_blackouts,
    product_mass_g,
    season_nitrogen,
    split_windows,
    stop_basis,
)
from care.science.season import Window
from tests.care.rules.cases import MILD, SHORT, WARM, WARM_SOUTH, orange, species

FOOT_M = 0.3048

# UF/IFAS, "Citrus culture in the home landscape" (EDIS HS132), as printed by Badurek,
# UF/IFAS Pinellas: pounds of product an application, low and high.
FLORIDA_TABLE = {
    1: {6: (0.4, 0.8), 8: (0.3, 0.6), 10: (0.3, 0.5)},
    2: {6: (1, 2), 8: (0.8, 1.5), 10: (0.6, 1.2)},
    3: {6: (1.9, 3.8), 8: (1.4, 2.8), 10: (1.1, 2.3)},
    4: {6: (4.4, 5.6), 8: (3.3, 4.2), 10: (2.7, 3.3)},
    5: {6: (6.1, 7.8), 8: (4.6, 5.8), 10: (3.7, 4.7)},
}


@pytest.mark.parametrize(
    ("year", "percent", "bound"),
    [(y, p, b) for y in FLORIDA_TABLE for p in (6, 8, 10) for b in (0, 1)],
)
def test_product_of_the_florida_citrus_table(year, percent, bound):
    ladder = florida_citrus(year)
    nitrogen_g = (ladder.low_g, ladder.high_g)[bound]
    pounds = product_mass_g(nitrogen_g, percent, ladder.applications) / POUND_G
    assert pounds == pytest.approx(FLORIDA_TABLE[year][percent][bound], abs=0.06)


@pytest.mark.parametrize(
    ("nitrogen_lb", "percent", "applications", "product_lb"),
    [
        # Computed from the UF/IFAS table's nitrogen and San Diego Master Gardeners'
        # rule: pounds of product a pound of nitrogen are 100 / percent.
        (0.15, 6, 6, 0.4167),
        (0.30, 10, 6, 0.5),
        (0.45, 8, 4, 1.40625),
        (1.4, 6, 3, 7.7778),
        (1.1, 10, 3, 3.6667),
        (1.0, 21, 1, 4.7619),
        (0.4, 21, 1, 1.9048),
        # University of Arizona: 10 lb of 10-10-10 holds 1 lb of nitrogen.
        (1.0, 10, 1, 10.0),
    ],
)
def test_product_that_carries_nitrogen(nitrogen_lb, percent, applications, product_lb):
    grams = product_mass_g(nitrogen_lb * POUND_G, percent, applications)
    assert grams / POUND_G == pytest.approx(product_lb, abs=0.001)


def test_nitrogen_in_a_product():
    # UC Master Gardeners of Ventura: 6 lb of 16-16-16; San Diego: blood meal 13 %.
    assert nitrogen_in_product_g(6, 16) == pytest.approx(0.96)
    assert nitrogen_in_product_g(8, 13) == pytest.approx(1.04)


@pytest.mark.parametrize(("percent", "times"), [(0, 1), (101, 1), (-3, 1), (10, 0)])
def test_a_bag_that_cannot_be_is_refused(percent, times):
    with pytest.raises(ValueError, match="not a"):
        product_mass_g(100, percent, times)


def test_citrus_ladders():
    third = florida_citrus(3)  # UF/IFAS HS132
    assert third.low_g == pytest.approx(0.45 * POUND_G)
    assert third.high_g == pytest.approx(0.90 * POUND_G)
    assert third.applications == 4
    assert florida_citrus(30) == florida_citrus(5)
    # UC IPM, "Fertilizing citrus"
    assert california_citrus_nitrogen_g(4) == pytest.approx(0.75 * POUND_G)
    assert california_citrus_nitrogen_g(12) == pytest.approx(1.0 * POUND_G)
    assert california_citrus_nitrogen_g(1) is None
    # University of Arizona AZ1671 (2015): 12 lb for an orange
    assert 12 * arizona_share("grapefruit") == pytest.approx(6)
    assert 12 * arizona_share("lemon") == pytest.approx(13.2)
    assert arizona_share("orange") == 1


def test_tree_fruit_ladders():
    # Penn State Extension, stone fruit nutrition
    assert pennsylvania_stone_product_g(4) == pytest.approx(2.0 * POUND_G)
    assert pennsylvania_stone_product_g(12) == pytest.approx(5.0 * POUND_G)
    # LSU AgCenter, figs, 8-8-8
    assert louisiana_fig_product_g(4) == pytest.approx(4 * POUND_G)
    assert nitrogen_in_product_g(4, 8) == pytest.approx(0.32)
    assert louisiana_fig_product_g(14) == pytest.approx(10 * POUND_G)
    # UGA Extension, figs (2024)
    assert georgia_fig_product_g(8 * FOOT_M, 10 * FOOT_M) == pytest.approx(4 * POUND_G)
    assert georgia_fig_product_g(12 * FOOT_M, 20 * FOOT_M) == pytest.approx(
        10 * POUND_G
    )
    # NC State Extension, fruit tree fertilizer
    low, high = north_carolina_tree_product_g(6)
    assert (low, high) == pytest.approx((4.5 * POUND_G, 6.0 * POUND_G))


@pytest.mark.parametrize(
    ("texture", "pounds"), [("silt", 20), ("clay", 26.67), ("sand", 13.33)]
)
def test_sulfur_before_planting(texture, pounds):
    # University of Tennessee: pounds for 1000 square feet, pH 6.5 to 5.5
    grams = preplant_sulfur_g_per_m2(6.5, 5.5, texture)
    per_1000_ft2 = grams * 1000 * SQUARE_FOOT_M2 / POUND_G
    assert per_1000_ft2 == pytest.approx(pounds, abs=0.02)
    assert preplant_sulfur_g_per_m2(5.0, 5.5, texture) == 0


def test_sulfur_around_planted_bushes_has_a_lower_limit():
    # Extension blueberry community: 0.7 lb for 100 square feet a year
    assert pytest.approx(34.2, abs=0.1) == PLANTED_SULFUR_LIMIT_G_PER_M2


def test_yardsticks_name_their_source():
    found = [
        yardstick("orange", "citrus", 3),
        yardstick("grapefruit", "citrus", 3),
        yardstick("peach", "stone", 3),
        yardstick("apple", "pome", 3),
        yardstick("fig", "other", 3),
        yardstick("fig", "other", 8, height_m=2.4, spacing_m=3.0),
    ]
    assert [ladder.source for ladder in found] == [
        "florida_citrus",
        "florida_citrus",
        "pennsylvania_stone",
        "north_carolina_tree",
        "louisiana_fig",
        "georgia_fig",
    ]
    assert {ladder.source for ladder in found} <= set(LADDER_SOURCES)
    assert found[1].high_g == pytest.approx(found[0].high_g / 2)
    assert yardstick("mulberry", "other", 3) is None
    assert len(FLORIDA_CITRUS_LB) == 5


def test_full_amounts_only_for_a_full_crown():
    full = season_nitrogen(species(), canopy_m2=30.0, years=2)
    small = season_nitrogen(species(), canopy_m2=1.0, years=30)
    assert full.nitrogen_g == pytest.approx(200)
    assert small.nitrogen_g == pytest.approx(35 + 165 * 1 / 19.635, rel=1e-3)
    assert (full.basis, small.basis) == ("crown", "crown")


def test_years_decide_where_the_crown_is_not_known():
    amounts = [
        season_nitrogen(orange(), canopy_m2=None, years=years).nitrogen_g
        for years in (0, 1, 2, 3, 4, 20)
    ]
    assert amounts == pytest.approx([100, 217.5, 335, 452.5, 570, 570])


def test_no_amount_without_a_figure_or_a_size():
    assert season_nitrogen(species(), canopy_m2=None, years=None) is None
    bare = species(nitrogen_mature_g=None)
    assert season_nitrogen(bare, canopy_m2=4.0, years=3) is None


@given(
    canopy_m2=st.floats(0, 200),
    litres=st.floats(1, 500),
    years=st.floats(0, 80),
)
@settings(max_examples=50)
def test_a_pot_caps_the_amount_and_the_range_holds(canopy_m2, litres, years):
    ground = season_nitrogen(species(), canopy_m2=canopy_m2, years=years)
    pot = season_nitrogen(
        species(), canopy_m2=canopy_m2, years=years, container_litres=litres
    )
    assert 35 <= ground.nitrogen_g <= 200.0001
    assert pot.nitrogen_g <= POT_NITROGEN_G_PER_L * litres + 1e-9
    assert pot.nitrogen_g <= ground.nitrogen_g


def test_growth_says_feed_halve_or_skip():
    # NC State Extension quick reference: 10-12 in feed, over 18 in skip
    assert growth_gauge("other", 200, is_bearing=True) == 1
    assert growth_gauge("other", 380, is_bearing=True) == 0.5
    assert growth_gauge("other", 600, is_bearing=True) == 0
    # UNH: a young stone fruit tree may grow 16-24 in
    assert growth_gauge("stone", 600, is_bearing=False) == 0.5
    assert growth_gauge("stone", 600, is_bearing=True) == 0


def test_stop_dates():
    peach = species("peach", feed_group="stone")
    # Penn State Extension: never after 15 July, which blocks 20 July
    assert feeding_stop(2014, peach, SHORT) == date(2014, 7, 15)
    assert date(2014, 7, 20) > feeding_stop(2014, peach, SHORT)
    # eight weeks before the first frost
    assert feeding_stop(2014, orange(), SHORT) == date(2014, 8, 10)
    assert feeding_stop(2014, peach, MILD) == date(2014, 9, 15)
    # UF/IFAS HS132: until October where it does not freeze
    assert feeding_stop(2014, orange(), WARM) == date(2014, 10, 31)
    assert feeding_stop(2014, orange(), WARM_SOUTH) == date(2015, 4, 30)
    unknown = replace(MILD, first_frost=None)
    assert feeding_stop(2014, peach, unknown) == date(2014, 7, 15)
    assert [stop_basis(peach, site) for site in (SHORT, MILD, WARM, unknown)] == [
        "short_season",
        "first_frost",
        "frost_free",
        "frost_unknown",
    ]


@given(times=st.integers(1, 8), season=st.integers(2000, 2040))
@settings(max_examples=40)
def test_splits_never_touch_nor_pass_the_stop(times, season):
    for site in (MILD, SHORT, WARM, WARM_SOUTH):
        tree = orange(feed_times_per_year=times)
        windows = split_windows(season, tree, site)
        assert len(windows) == times
        assert windows[-1].end <= feeding_stop(season, tree, site)
        assert all(early.end < late.start for early, late in pairwise(windows))


@given(times=st.integers(1, 6), season=st.integers(2000, 2040))
@settings(max_examples=30)
def test_southern_splits_mirror_by_half_a_year(times, season):
    tree = orange(feed_times_per_year=times)
    north = split_windows(season, tree, WARM)
    south = split_windows(season, tree, WARM_SOUTH)
    for one, other in zip(north, south, strict=True):
        # months differ in length: half a year is 181 to 184 days
        assert 178 <= (other.start - one.start).days <= 187


def test_no_splits_where_growth_starts_after_the_stop():
    arctic = replace(SHORT, last_frost=MonthDay(7, 10), first_frost=MonthDay(8, 10))
    assert split_windows(2014, orange(), arctic) == ()


def test_blackouts_move_or_block():
    summer = Blackout(MonthDay(6, 1), MonthDay(9, 30))
    winter = Blackout(MonthDay(12, 15), MonthDay(1, 31))
    site = replace(WARM, feeding_blackouts=(summer, winter))
    late = Window(date(2014, 9, 20), date(2014, 10, 20))
    assert outside_blackouts(late, site) == Window(date(2014, 10, 1), late.end)
    early = Window(date(2014, 5, 20), date(2014, 6, 20))
    assert outside_blackouts(early, site) == Window(early.start, date(2014, 5, 31))
    assert outside_blackouts(Window(date(2014, 6, 5), date(2014, 7, 5)), site) is None
    assert outside_blackouts(Window(date(2013, 12, 20), date(2014, 1, 5)), site) is None
