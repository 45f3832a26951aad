"""Checks against Allen et al. (1998), FAO-56, Table 19, Table 22 and Example 36."""

from itertools import pairwise

import pytest

from care.science.soil import (
    TEXTURES,
    adjusted_depletion_p,
    drainage_class,
    drains_slowly,
    drains_too_slowly,
    readily_available_water_mm,
    texture_of,
    texture_where_planted,
    total_available_water_mm,
)


@pytest.mark.parametrize(
    ("root_depth", "share", "totals", "readily"),
    [  # Example 36: loamy sand 90, silt 170, silty clay 120 mm/m
        (0.4, 0.30, (36, 68, 48), (11, 20, 14)),
        (0.8, 0.40, (72, 136, 96), (29, 54, 38)),
        (1.2, 0.55, (108, 204, 144), (59, 112, 79)),
    ],
    ids=["onion", "tomato", "maize"],
)
def test_example_36(root_depth, share, totals, readily):
    total = total_available_water_mm([90, 170, 120], root_depth)
    assert total == pytest.approx(totals, abs=0.5)
    assert readily_available_water_mm(total, share) == pytest.approx(readily, abs=0.51)


@pytest.mark.parametrize(
    ("share", "use", "expected"),
    [  # Table 22, footnote 2, with its two bounds
        (0.5, 5, 0.50),
        (0.5, 3, 0.58),
        (0.5, 8, 0.38),
        (0.7, 2, 0.80),
        (0.35, 12, 0.10),
    ],
)
def test_the_share_falls_with_use(share, use, expected):
    assert adjusted_depletion_p(share, use) == pytest.approx(expected)


# Field capacity, wilting point [m3/m3], available water [mm/m]; Table 19.
TABLE_19 = {
    "sand": (0.07, 0.17, 0.02, 0.07, 50, 110),
    "loamy_sand": (0.11, 0.19, 0.03, 0.10, 60, 120),
    "sandy_loam": (0.18, 0.28, 0.06, 0.16, 110, 150),
    "loam": (0.20, 0.30, 0.07, 0.17, 130, 180),
    "silt_loam": (0.22, 0.36, 0.09, 0.21, 130, 190),
    "silt": (0.28, 0.36, 0.12, 0.22, 160, 200),
    "silty_clay_loam": (0.30, 0.37, 0.17, 0.24, 130, 180),
    "silty_clay": (0.30, 0.42, 0.17, 0.29, 130, 190),
    "clay": (0.32, 0.40, 0.20, 0.24, 120, 200),
}


@pytest.mark.parametrize("key", TEXTURES)
def test_a_texture_is_its_row_of_table_19(key):
    texture = texture_of(key)
    found = (
        *texture.field_capacity,
        *texture.wilting_point,
        *texture.available_mm_per_m,
    )
    assert found == TABLE_19[key]


@pytest.mark.parametrize(
    ("key", "slow", "fast"),
    [("sandy_loam", 20, 30), ("loam", 10, 20), ("clay", 1, 5)],
)
def test_infiltration_of_fao_training_manual_5(key, slow, fast):
    # Annex 2, through a page that quotes it; sand is above 30 there.
    assert texture_of(key).infiltration_mm_h == (slow, fast)
    assert texture_of("sand").infiltration_mm_h[0] == 30


def test_infiltration_falls_as_soils_get_finer():
    bands = [texture.infiltration_mm_h for texture in TEXTURES.values()]
    for coarser, finer in pairwise(bands):
        assert finer[0] <= coarser[0]
        assert finer[1] <= coarser[1]
    assert all(0 < low < high for low, high in bands)


def test_the_middle_of_the_range_is_used():
    assert texture_of("sandy_loam").available_water_mm_per_m == 130  # 110-150
    assert texture_of("sand").available_water_mm_per_m == 80  # 50-110


def test_clays_are_slow_and_sands_are_not():
    slow = {key for key, texture in TEXTURES.items() if texture.is_slow}
    assert slow == {"silty_clay_loam", "silty_clay", "clay"}


def test_an_unknown_texture_is_refused_by_name():
    with pytest.raises(ValueError, match="'dust' is no soil texture"):
        texture_of("dust")


@pytest.mark.parametrize(
    ("hours", "key"), [(None, "clay"), (0.5, "sand"), (1.0, "clay"), (12.0, "clay")]
)
def test_a_hole_that_drains_within_the_hour_is_sand(hours, key):
    # Common practice, no source.
    assert texture_where_planted("clay", hours).key == key


@pytest.mark.parametrize(
    ("hours", "is_too_slow"),
    [(None, False), (24.0, False), (48.0, False), (49.0, True)],
)
def test_a_hole_that_stands_over_two_days_suits_no_tree(hours, is_too_slow):
    # Common practice, no source.
    assert drains_too_slowly(hours) == is_too_slow


@pytest.mark.parametrize(
    ("hours", "found"),
    [
        # Texas A&M, a hole 30 in deep: under 24 h good, 24-48 marginal, over unsuitable.
        (23.9, "good"),
        (24.0, "marginal"),
        (48.0, "marginal"),
        (48.1, "unsuitable"),
        # Common practice, no source: within the hour is sand.
        (0.9, "sand"),
        (1.0, "good"),
        (None, ""),
    ],
)
def test_what_a_filled_hole_says(hours, found):
    assert drainage_class(hours) == found
    assert drains_slowly(hours) is (found in ("marginal", "unsuitable"))
