"""Amounts of a planting, against sums by hand and published vectors."""

from datetime import date
from math import pi

import pytest
from hypothesis import given, strategies as st

from care.facts import Stock, Support
from care.science.mulch import bags, mulch_volume_l
from care.science.planting import planting_hole
from care.science.planting_amounts import (
    STAKES,
    backfill_l,
    ball_in_hole_l,
    cap_l,
    cone_l,
    first_feed,
    hole_l,
    is_pot_too_small,
    medium_l,
    mixed_in_l,
    mound_l,
    pot_mulch_l,
    pot_water_l,
    ring_of,
    whole,
)
from tests.care.rules.cases import MILD, morning, orange, species, tree

FOOT_M, INCH_MM, FT3_L = 0.3048, 25.4, 28.316846592


def new(kind=None, **facts):
    usual = {"planted_on": date(2015, 3, 1), "crown_width_m": None}
    return tree(kind, **{**usual, "stock_litres": 24.6, **facts})


def test_a_cone_cut_off_is_a_cylinder_or_a_whole_cone_at_its_ends():
    # By hand: pi/4 x 0.5^2 x 0.3 = 0.0589 m3; a third of it for the pointed one.
    assert cone_l(0.5, 0.5, 0.3) == pytest.approx(58.905, abs=0.001)
    assert cone_l(0.5, 0.0, 0.3) == pytest.approx(19.635, abs=0.001)


def test_a_flat_dome_is_half_a_ball_at_its_end():
    # By hand: 2/3 pi 0.5^3 = 0.2618 m3.
    assert cap_l(1.0, 0.5) == pytest.approx(261.799, abs=0.001)
    # Texas A&M's mound: 0.15 high, 2.5 across; 0.30 high, 3.0 across. By hand
    # pi 0.15/6 (3 x 1.5625 + 0.0225) and pi 0.3/6 (3 x 2.25 + 0.09).
    assert mound_l() == pytest.approx((369.92, 1074.42), abs=0.01)


def test_the_hole_of_a_number_7_pot_by_hand():
    # A ball of 24.6 L: 0.3328 m wide, 0.2829 m deep; the hole 0.2429 m deep, since
    # 40 mm stand above. Rim 0.6656: pi 0.2429/12 (0.4430+0.2215+0.1108) = 49.3 L; rim
    # 0.9984: 0.2429 pi/12 (0.9968+0.3323+0.1108) = 91.6 L. Ball below 21.1 L.
    its_tree = new()
    assert planting_hole(its_tree).depth_m == pytest.approx(0.2429, abs=1e-3)
    assert hole_l(planting_hole(its_tree)) == pytest.approx((49.3, 91.6), abs=0.2)
    assert ball_in_hole_l(its_tree) == pytest.approx(21.1, abs=0.1)
    assert backfill_l(its_tree) == pytest.approx((28.2, 70.5), abs=0.2)
    # A quarter of that in compost, half of it in peat or bark.
    assert mixed_in_l(its_tree, "compost") == pytest.approx((7.0, 17.6), abs=0.1)
    assert mixed_in_l(its_tree, "acid") == pytest.approx((14.1, 35.2), abs=0.1)
    assert mixed_in_l(its_tree, "native") == (0.0, 0.0)


def test_a_fig_goes_deeper_and_bare_roots_take_no_room():
    fig = new(species("fig"))
    # The whole ball of 24.6 L is below the ground.
    assert ball_in_hole_l(fig) == pytest.approx(24.6, abs=0.01)
    assert ball_in_hole_l(new(stock=Stock.BARE_ROOT)) == 0.0
    # 0.5 m wide and 0.26 m deep with straight sides: pi/4 x 0.25 x 0.26.
    least, _most = backfill_l(new(stock=Stock.BARE_ROOT))
    assert least == pytest.approx(51.05, abs=0.01)


@pytest.mark.parametrize(
    ("ring_ft", "trunk_in", "kind", "area_ft2", "volume_ft3", "bag_count"),
    [
        # Vectors of extension workbooks: 8 ft ring, 3 in trunk, 12 in gap, 3 in deep;
        # 6 ft ring, 2 in trunk, 6 in gap.
        (8, 3, orange(), 46.29, 11.57, 6),
        (6, 2, species(), 27.21, 6.80, 4),
    ],
)
def test_mulch_rings_agree_with_published_ones(
    ring_ft, trunk_in, kind, area_ft2, volume_ft3, bag_count
):
    its_tree = new(kind, caliper_mm=trunk_in * INCH_MM)
    ring = ring_of(its_tree, ring_ft * FOOT_M / 2, 3 * INCH_MM)
    # The gap here is 150 and 300 mm for 6 and 12 in, and citrus has 75 mm for 3 in.
    area = ring.mulch_m2 / FOOT_M**2
    assert area == pytest.approx(area_ft2, rel=0.01)
    assert ring.mulch_l / FT3_L == pytest.approx(volume_ft3, rel=0.02)
    assert bags(ring.mulch_l) == bag_count


def test_mulch_by_area_and_by_the_bag():
    # Florida Yards & Neighborhoods workbook: 100 ft2 at 3 in are 25 ft3, 0.926 yd3;
    # a yard covers 108 ft2; a bag of 2 ft3 covers 8 ft2.
    litres = mulch_volume_l(100 * FOOT_M**2, 3 * INCH_MM)
    assert litres / FT3_L == pytest.approx(25.0, abs=0.001)
    assert litres / FT3_L / 27 == pytest.approx(0.9259, abs=0.001)
    for volume_ft3, covers_ft2 in ((27, 108), (2, 8)):
        covered = mulch_volume_l(covers_ft2 * FOOT_M**2, 3 * INCH_MM)
        assert covered / FT3_L == pytest.approx(volume_ft3, abs=0.001)


def test_turf_and_edging_go_round_the_ring():
    ring = ring_of(new(), 0.6, 75.0)
    # By hand: pi 0.6^2 = 1.131 m2; 2 pi 0.6 = 3.770 m.
    assert ring.turf_m2 == pytest.approx(1.131, abs=0.001)
    assert ring.edging_m == pytest.approx(3.770, abs=0.001)
    # pi (0.36 - 0.175^2) = 1.0348 m2, 75 mm deep 77.6 L.
    assert ring.mulch_l == pytest.approx(77.6, abs=0.1)


def test_a_ring_that_leaves_no_room_is_widened_to_the_first_years():
    ring = ring_of(new(orange()), 0.3, 100.0)
    assert ring.radius_m == pytest.approx(0.55)
    assert ring.mulch_l > 0
    assert ring.depth_mm == 75.0  # citrus: 2-3 in (UC Master Gardeners)


def test_a_pot_takes_its_volume_less_the_ball():
    pot = new(in_container=True, container_litres=60.0)
    assert medium_l(pot) == pytest.approx(35.4)
    bare = new(in_container=True, container_litres=60.0, stock=Stock.BARE_ROOT)
    assert medium_l(bare) == 60.0
    small = new(in_container=True, container_litres=20.0)
    assert medium_l(small) == 0.0
    assert is_pot_too_small(small)
    assert not is_pot_too_small(pot)
    assert not is_pot_too_small(bare)
    assert not is_pot_too_small(
        new(in_container=True, container_litres=20.0, stock_litres=None)
    )
    assert not is_pot_too_small(new(in_container=True))
    assert medium_l(new(in_container=True)) == 0.0


def test_water_until_it_drains():
    pot = new(in_container=True, container_litres=50.0)
    # 30 of 100 parts are water to be had: 15 L; 15 parts of 100 run out: 15 / 0.85.
    assert pot_water_l(pot, is_water_salty=False) == pytest.approx(17.65, abs=0.01)
    assert pot_water_l(pot, is_water_salty=True) == pytest.approx(20.0)
    soil = new(in_container=True, container_litres=50.0, container_medium="garden soil")
    assert pot_water_l(soil, is_water_salty=False) == pytest.approx(7.65, abs=0.01)
    assert pot_water_l(new(in_container=True), is_water_salty=False) == 0.0


def test_bark_on_a_pot():
    pot = new(in_container=True, container_litres=50.0, container_diameter_m=0.4)
    assert pot_mulch_l(pot) == pytest.approx(30 * pi / 4 * 0.16)
    assert pot_mulch_l(new(in_container=True)) == 0.0


def test_the_first_feed_is_a_part_of_the_first_season():
    planted = date(2015, 3, 1)
    # Citrus on loam: 100 g of nitrogen by three, four fifths of it (UC against UF),
    # in a product of 10 in 100: 266.7 g.
    fed = first_feed(morning(planted, new(orange())))
    assert fed is not None
    assert fed.nitrogen_g == pytest.approx(100 * 0.8 / 3)
    assert fed.product_g == pytest.approx(266.67, abs=0.01)
    unknown = species("jujube", nitrogen_first_year_g=None)
    assert first_feed(morning(planted, new(unknown), MILD)) is None


def test_stakes_and_whole_bags():
    assert STAKES[Support.PERMANENT] == (1, 2)
    assert [whole(litres, 50.0) for litres in (0.0, 50.0, 50.1, 100.0)] == [0, 1, 2, 2]


@given(
    litres=st.floats(1, 400),
    stock=st.sampled_from(list(Stock)),
    key=st.sampled_from(["apple", "fig"]),
)
def test_a_wider_hole_takes_more_and_the_ball_always_fits(litres, stock, key):
    its_tree = new(species(key), stock_litres=litres, stock=stock)
    least, most = backfill_l(its_tree)
    assert -1e-9 <= least <= most
    assert ball_in_hole_l(its_tree) <= hole_l(planting_hole(its_tree))[0] + 1e-9
