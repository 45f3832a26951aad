"""Checks against Allen et al. (1998), FAO-56, Table 19, Table 22 and Example 36."""

import pytest

from care.science.soil import (
    TEXTURES,
    adjusted_depletion_p,
    readily_available_water_mm,
    texture_of,
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


def test_ranges_of_table_19_are_in_order():
    for texture in TEXTURES.values():
        for low, high in (
            texture.field_capacity,
            texture.wilting_point,
            texture.available_mm_per_m,
            texture.infiltration_mm_h,
        ):
            assert 0 < low < high
        assert texture.field_capacity[0] > texture.wilting_point[0]


def test_the_middle_of_the_range_is_used():
    assert texture_of("sandy_loam").available_water_mm_per_m == 130  # 110-150
    assert texture_of("sand").available_water_mm_per_m == 80  # 50-110


def test_clays_are_slow_and_sands_are_not():
    slow = {key for key, texture in TEXTURES.items() if texture.is_slow}
    assert slow == {"silty_clay_loam", "silty_clay", "clay"}


def test_an_unknown_texture_is_refused_by_name():
    with pytest.raises(ValueError, match="'dust' is no soil texture"):
        texture_of("dust")
