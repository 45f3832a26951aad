"""Mulch volumes against printed examples; how a layer thins."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.planning.species_facts import species_facts
from care.science.mulch import (
    THINNING_DAYS,
    Layer,
    bags,
    bales,
    days_to_floor,
    depth_after_mm,
    mulch_volume_l,
    ring_area_m2,
    ring_diameter_m,
    tree_ring_m,
)
from tests.care.rules.cases import tree

FOOT_M = 0.3048
INCH_M = 0.0254
CUBIC_FOOT_L = 28.316846592
CUBIC_YARD_L = 27 * CUBIC_FOOT_L
SQUARE_FOOT_M2 = FOOT_M**2


@pytest.mark.parametrize(
    ("ring", "depth_in", "area_ft2", "volume_ft3", "count"),
    [
        # Annulus worked by hand in feet and inches, gap from the bark; bags of 2 ft3.
        ((3, 1, 3), 3, 6.80, 1.70, 1),
        ((4, 1, 6), 3, 11.64, 2.91, 2),
        ((6, 2, 6), 3, 27.21, 6.80, 4),
        ((8, 3, 6), 3, 49.04, 12.26, 7),
        ((8, 3, 12), 3, 46.29, 11.57, 6),
        ((12, 6, 12), 3, 108.19, 27.05, 14),
        ((8, 3, 6), 1, 49.04, 4.09, 3),
    ],
)
def test_rings(ring, depth_in, area_ft2, volume_ft3, count):
    ring_ft, trunk_in, gap_in = ring
    area_m2 = ring_area_m2(ring_ft * FOOT_M, trunk_in * INCH_M, gap_in * INCH_M)
    volume_l = mulch_volume_l(area_m2, depth_in * 25.4)
    assert area_m2 / SQUARE_FOOT_M2 == pytest.approx(area_ft2, abs=0.01)
    assert volume_l / CUBIC_FOOT_L == pytest.approx(volume_ft3, abs=0.01)
    assert bags(volume_l) == count


def test_volumes_and_coverage():
    # UF/IFAS Polk: 5 ft by 20 ft, 3 in deep, takes 25 ft3 or 0.926 yd3
    litres = mulch_volume_l(100 * SQUARE_FOOT_M2, 76.2)
    assert litres / CUBIC_FOOT_L == pytest.approx(25.0, abs=0.001)
    assert litres / CUBIC_YARD_L == pytest.approx(0.9259, abs=0.001)


@pytest.mark.parametrize(
    ("litres", "depth_in", "area_ft2"),
    [
        # Florida Yards & Neighborhoods workbook
        (CUBIC_YARD_L, 1, 324),
        (CUBIC_YARD_L, 2, 162),
        (CUBIC_YARD_L, 3, 108),
        (CUBIC_YARD_L, 4, 81),
        (2 * CUBIC_FOOT_L, 3, 8),
        (1.5 * CUBIC_YARD_L, 3, 162),
        (2.5 * CUBIC_YARD_L, 3, 270),
    ],
)
def test_what_a_load_covers(litres, depth_in, area_ft2):
    needed_l = mulch_volume_l(area_ft2 * SQUARE_FOOT_M2, depth_in * 25.4)
    slack_l = 0.1 * SQUARE_FOOT_M2 * depth_in * 25.4
    assert needed_l == pytest.approx(litres, abs=slack_l)


def test_a_bale_of_pine_straw_covers_about_nineteen_square_feet():
    # Florida Yards & Neighborhoods workbook: 18 to 20 ft2 a bale
    litres = mulch_volume_l(18 * SQUARE_FOOT_M2, 76.2)
    assert bales(litres) == 1
    assert bales(mulch_volume_l(20.1 * SQUARE_FOOT_M2, 76.2)) == 2


def test_coarse_bark_lasts_longest_and_clippings_as_short_as_straw():
    # Common practice, no source for the order; the ranges are published
    lasts = {
        material: days_to_floor(material, 75.0).expected for material in THINNING_DAYS
    }
    assert max(lasts, key=lasts.get) == "bark"
    assert lasts["clippings"] == min(lasts.values())


@pytest.mark.parametrize(
    ("key", "facts", "across_m"),
    [
        ("apple", {}, 2.4),
        ("apple", {"spacing_m": 1.8}, 1.8),  # a row on dwarf stock
        ("apple", {"spacing_m": 0.3}, 0.6),
        ("apple", {"spacing_m": 0.3, "clump_id": 7}, 2.4),
        ("raspberry", {}, 0.75),
        ("blueberry_highbush", {}, 1.5),
        ("blueberry_highbush", {"spacing_m": 1.2}, 1.2),
        ("blueberry_highbush", {"spacing_m": 0.3, "clump_id": 7}, 1.5),
    ],
)
def test_rings_of_a_row_do_not_lie_over_each_other(key, facts, across_m):
    its_tree = tree(species_facts(key), **{"crown_width_m": 1.0, **facts})
    assert tree_ring_m(its_tree, date(2014, 5, 1)) == across_m


def test_a_ring_narrower_than_its_gap_is_empty():
    assert ring_area_m2(0.4, 0.05, 0.3) == 0


@pytest.mark.parametrize("material", [*THINNING_DAYS, "gravelly"])
@given(depth_mm=st.floats(0, 300), days=st.floats(0, 3000))
@settings(max_examples=20)
def test_mulch_only_thins(material, depth_mm, days):
    left = depth_after_mm(material, depth_mm, days)
    assert 0 <= left <= depth_mm
    assert depth_after_mm(material, depth_mm, days + 30) <= left


@pytest.mark.parametrize(
    ("material", "months"),
    # Extension and garden pages: straw 6-12 months, wood chips 12-24, bark 24-36
    [("straw", (6, 12)), ("wood_chips", (12, 24)), ("bark", (24, 36))],
)
def test_three_inches_reach_two_in_the_published_time(material, months):
    left = days_to_floor(material, 75.0)
    assert left.soonest / 30.44 == pytest.approx(months[0], abs=0.1)
    assert left.latest / 30.44 == pytest.approx(months[1], abs=0.1)
    assert depth_after_mm(material, 75.0, left.expected) == pytest.approx(50.0)


def test_a_thin_layer_is_due_at_once():
    assert days_to_floor("straw", 40.0).latest == 0


def test_a_layer_takes_a_top_up():
    laid = date(2014, 3, 1)
    layer = Layer("straw", 75.0, laid)
    later = laid + timedelta(days=100)
    full = layer.topped_up(20.0, later)
    assert full.depth_on_mm(later) == pytest.approx(layer.depth_on_mm(later) + 20)
    assert layer.depth_on_mm(laid - timedelta(days=5)) == 75.0


def test_rings_grow_with_the_tree():
    assert ring_diameter_m(0.5, 0.3) == 1.1
    assert ring_diameter_m(1.0, 1.5) == 1.5
    # Guide to Florida-Friendly Landscaping: at least 8 ft
    assert ring_diameter_m(1.0, 5.0) == pytest.approx(8 * FOOT_M, abs=0.05)
    assert ring_diameter_m(3.0, None) == 3.0
    assert ring_diameter_m(9.0, 20.0) == 3.6
