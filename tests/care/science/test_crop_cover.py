"""Checks against FAO-56 Examples 40, 41, 43 and 45, Table 12 and its footnotes."""

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.science.canopy import crown_area_m2
from care.science.crop_cover import (
    GRASS_FLOOR_KC,
    LEAFLESS_FLOOR_KC,
    LEAFLESS_GRASS_KC_RANGE,
    crown_share,
    full_cover_kcb,
    kc_with_grass,
    litres_by_crown,
    litres_by_floor,
    mulched_kc,
    shaded_share_of_rows,
    shaded_share_of_trees,
    sparse_kcb,
    sparse_kcb_unbounded,
    stomatal_factor,
    thin_stand_reduction,
)
from care.science.evapotranspiration import (
    atmospheric_pressure_kpa,
    psychrometric_constant_kpa,
)
from care.science.sun import noon_elevation_rad

INCH_MM, FOOT_M, GALLON_L = 25.4, 0.3048, 3.785411784
SEA_LEVEL_GAMMA = float(psychrometric_constant_kpa(atmospheric_pressure_kpa(0.0)))


def test_example_40_a_thin_stand():
    # Half covered instead of 85 %: 0.23 less, Kcb 1.17 to 0.94, Kc 1.22 to 0.99.
    reduction = thin_stand_reduction(0.50, 0.85)
    assert reduction == pytest.approx(0.23, abs=0.005)
    assert 1.17 - reduction == pytest.approx(0.94, abs=0.005)
    assert 1.22 - reduction == pytest.approx(0.99, abs=0.005)


def test_example_41_a_crop_from_its_cover():
    # 2 m high rows as wide as high, 30 % cover, 40 N, day 200, 55 %, 1.5 m/s.
    noon = float(noon_elevation_rad(40, 200))
    assert np.sin(noon) == pytest.approx(0.94, abs=0.005)
    shaded = shaded_share_of_rows(0.3, 1.0, noon)
    assert shaded == pytest.approx(0.41, abs=0.01)
    full = full_cover_kcb(wind_ms=1.5, humidity_min_percent=55, height_m=2.0)
    kcb = sparse_kcb(full, cover=0.3, shaded=shaded, height_m=2.0)
    assert kcb == pytest.approx(0.75, abs=0.01)


def test_full_cover_of_example_41_and_43():
    # 2 m high, 1.5 m/s, 55 %: 1.20 before and 1.15 after the climate; a tree of 5 m
    # at 25 % humidity 1.29.
    low = full_cover_kcb(wind_ms=1.5, humidity_min_percent=55, height_m=2.0)
    tall = full_cover_kcb(wind_ms=2.0, humidity_min_percent=25, height_m=5.0)
    assert low == pytest.approx(1.15, abs=0.005)
    assert tall == pytest.approx(1.29, abs=0.005)


@pytest.mark.parametrize(("height", "expected"), [(0.4, 1.04), (2, 1.2), (9, 1.2)])
def test_full_cover_grows_with_height_up_to_a_ceiling(height, expected):
    found = full_cover_kcb(wind_ms=2.0, humidity_min_percent=45, height_m=height)
    assert found == pytest.approx(expected)


def test_stomata_of_example_43():
    # Olive leaves of 420 s/m at 25 degC, wind of 2 m/s: 0.67.
    factor = stomatal_factor(
        leaf_resistance_s_m=420,
        temperature_c=25,
        wind_ms=2.0,
        psychrometric_kpa=SEA_LEVEL_GAMMA,
    )
    assert factor == pytest.approx(0.67, abs=0.01)
    grass = stomatal_factor(
        leaf_resistance_s_m=100,
        temperature_c=25,
        wind_ms=2.0,
        psychrometric_kpa=SEA_LEVEL_GAMMA,
    )
    assert grass == pytest.approx(1.0)


def test_example_43_olives_ten_metres_apart():
    # Crowns 5 m wide and high, 30 N, day 180, humidity 25 %.
    cover = crown_share(crown_area_m2(5.0), 100.0)
    assert cover == pytest.approx(0.196, abs=0.001)
    shaded = shaded_share_of_trees(cover, float(noon_elevation_rad(30, 180)))
    assert shaded == pytest.approx(0.20, abs=0.01)
    full = full_cover_kcb(wind_ms=2.0, humidity_min_percent=25, height_m=5.0)
    kcb = sparse_kcb(full, cover=cover, shaded=shaded, height_m=5.0)
    assert kcb == pytest.approx(0.60, abs=0.01)
    closed = stomatal_factor(
        leaf_resistance_s_m=420,
        temperature_c=25,
        wind_ms=2.0,
        psychrometric_kpa=SEA_LEVEL_GAMMA,
    )
    assert closed * kcb == pytest.approx(0.40, abs=0.01)


# Citrus 2 m high over 20 % of the ground, by Eq. 98 from the full stand's .75 .70 .75.
FULL_CITRUS = np.array([0.75, 0.70, 0.75])


def test_small_citrus_with_the_ceiling_that_governs_here():
    kcb = sparse_kcb(FULL_CITRUS, cover=0.2, shaded=0.2, height_m=2.0)
    assert kcb == pytest.approx([0.39, 0.37, 0.39], abs=0.001)
    # On crown area still far above the 0.93 of a lysimeter (Beeson et al., 2018).
    assert (kcb / 0.2 > 0.93).all()


def test_small_citrus_without_it_is_what_table_12_prints():
    kcb = sparse_kcb_unbounded(FULL_CITRUS, shaded=0.2, height_m=2.0)
    assert kcb == pytest.approx([0.501, 0.472, 0.501], abs=0.001)
    assert kcb == pytest.approx([0.50, 0.45, 0.55], abs=0.05)  # Table 12


def test_shade_never_exceeds_the_ground_and_is_the_cover_under_a_high_sun():
    assert shaded_share_of_trees(0.4, np.pi / 2) == pytest.approx(0.4)
    assert shaded_share_of_trees(0.4, 0.1) == 1
    assert shaded_share_of_rows(0.4, 2.0, 0.1) == 1


@pytest.mark.parametrize(
    ("cover", "without", "blended", "printed"),
    [(0.7, 0.70, 0.775, 0.75), (0.5, 0.65, 0.80, 0.80), (0.2, 0.50, 0.86, 0.85)],
)
def test_footnote_22_citrus_over_grass(cover, without, blended, printed):
    found = kc_with_grass(cover, without)
    assert found == pytest.approx(blended, abs=0.0005)
    assert found == pytest.approx(printed, abs=0.03)  # the table's rounding to .05


def test_after_leaf_drop_only_what_grows_below_uses_water():
    # Footnotes of Table 12: 0.20 bare or dead, 0.50 to 0.80 under growing cover.
    assert LEAFLESS_FLOOR_KC["bare"] == LEAFLESS_FLOOR_KC["mulch"] == 0.20
    low, high = LEAFLESS_GRASS_KC_RANGE
    assert (low, high) == (0.50, 0.80)
    assert LEAFLESS_FLOOR_KC["grass"] == pytest.approx((low + high) / 2)


def test_organic_mulch_saves_a_quarter_of_evaporation_over_half_the_ground():
    # FAO-56 p. 196-198: apple, mid-season .95 over Kcb .90; the initial stage is all
    # evaporation, so a quarter of it goes.
    assert mulched_kc(0.95, 0.90, 0.5) == pytest.approx(0.9375)
    assert mulched_kc(0.45, 0.0, 0.5) == pytest.approx(0.45 * 0.75)
    assert mulched_kc(0.95, 0.90, 0.0) == pytest.approx(0.95)


@given(st.floats(0.2, 1.2), st.floats(0, 0.1), st.floats(-1, 2))
def test_organic_mulch_never_cuts_into_the_tree_s_own_use(kcb, evaporation, share):
    mulched = mulched_kc(kcb + evaporation, kcb, share)
    assert kcb - 1e-12 <= mulched <= kcb + evaporation + 1e-12


# A tree on 25 m2 at an ET0 of 6 mm and Kc 0.95, by its cover.
COVER = np.array([0.1, 0.2, 0.35, 0.5, 0.7])


def test_use_by_crown_and_by_floor_differ_as_published_rules_do():
    by_crown = litres_by_crown(6.0, 0.95, COVER * 25)
    by_floor = litres_by_floor(6.0, 0.95, 25.0, COVER)
    assert by_crown == pytest.approx([14, 29, 50, 71, 100], abs=0.6)
    assert by_floor == pytest.approx([29, 57, 100, 143, 143], abs=0.6)


def test_a_crown_s_coefficient_on_the_whole_floor_is_ten_times_too_much():
    # What the two names are for: Kc of the crown times the area of the floor.
    naive = 6.0 * 0.95 * 25.0
    excess = naive / litres_by_crown(6.0, 0.95, COVER * 25)
    assert excess[0] == pytest.approx(10)
    assert excess[3] == pytest.approx(2)


@pytest.mark.parametrize(
    ("crown_m", "litres"), [(1, 4.5), (2, 18), (3, 40), (4, 72), (5, 112), (6, 161)]
)
def test_use_of_an_apple_on_a_hot_day(crown_m, litres):
    found = litres_by_crown(6.0, 0.95, crown_area_m2(crown_m))
    assert found == pytest.approx(litres, abs=0.5)


@pytest.mark.parametrize(
    ("crown_ft", "et0_in", "kc", "gallons", "litres"),
    [
        (10, 0.25, 0.8, 9.79, 37.1),
        (15, 0.20, 1.0, 22.0, 83.4),
        (6, 0.20, 0.5, 1.76, 6.67),
    ],
)
def test_the_gallons_rule_of_extension_services(crown_ft, et0_in, kc, gallons, litres):
    # University of California: gallons = 0.623 x inches x Kc x square feet of crown.
    area = crown_area_m2(crown_ft * FOOT_M)
    found = litres_by_crown(et0_in * INCH_MM, kc, area)
    assert found == pytest.approx(litres, abs=0.05)
    assert found / GALLON_L == pytest.approx(gallons, abs=0.05)


def test_a_young_tree_s_day_by_the_area_it_covers():
    # Vossen, University of California: 10 square feet at .20 inches, 1.25 gallons.
    found = litres_by_crown(0.20 * INCH_MM, 1.0, 10 * FOOT_M**2)
    assert found / GALLON_L == pytest.approx(1.25, abs=0.005)


def test_grass_uses_nearly_what_the_reference_does():
    assert kc_with_grass(0.0, 0.5) == GRASS_FLOOR_KC
