"""Sulfur rates against Tennessee's and the Extension Foundation's, and their limits."""

import pytest
from hypothesis import given, strategies as st

from care.science.ladder_sources import POUND_G, SQUARE_FOOT_M2
from care.science.soil import TEXTURES
from care.science.soil_acidity import (
    FAMILIES,
    PLANTED_LIMIT_G_PER_M2,
    SPLIT_ABOVE_G_PER_M2,
    aim_ph,
    is_acid_lover,
    preplant_sulfur,
)
from tests.care.rules.cases import orange, species

PER_1000_FT2 = POUND_G / (1000 * SQUARE_FOOT_M2)
TEXTURE = {"silt": "silt_loam", "clay": "clay", "sand": "sand"}


@pytest.mark.parametrize(
    ("family", "pounds"), [("silt", 20), ("clay", 26.67), ("sand", 13.33)]
)
def test_sulfur_before_planting_in_tennessee(family, pounds):
    # University of Tennessee: pounds for 1000 square feet, pH 6.5 to 5.5
    rate = preplant_sulfur(6.5, 5.5, TEXTURE[family])
    assert rate.tennessee_g_per_m2 / PER_1000_FT2 == pytest.approx(pounds, abs=0.02)


@pytest.mark.parametrize(("family", "pounds"), [("silt", 2), ("clay", 2), ("sand", 1)])
def test_sulfur_before_planting_by_the_extension_foundation(family, pounds):
    # Blueberry community: pounds for 100 square feet and one unit of pH
    rate = preplant_sulfur(6.0, 5.0, TEXTURE[family])
    assert rate.extension_g_per_m2 / PER_1000_FT2 == pytest.approx(10 * pounds)


@pytest.mark.parametrize(
    ("family", "ratio"), [("silt", 1.0), ("clay", 4 / 3), ("sand", 4 / 3)]
)
def test_the_two_rates_agree_on_silt_and_part_by_a_third_elsewhere(family, ratio):
    # 1.33 against 1 lb for 100 square feet on sand
    rate = preplant_sulfur(6.5, 5.5, TEXTURE[family])
    assert rate.tennessee_g_per_m2 / rate.extension_g_per_m2 == pytest.approx(ratio)
    assert rate.low_g_per_m2 == pytest.approx(rate.extension_g_per_m2)


def test_more_than_thirty_pounds_are_split():
    # University of Tennessee: above 30 lb for 1000 ft2 two thirds, then a new test
    whole = preplant_sulfur(6.3, 4.8, "silt_loam")
    assert whole.low_g_per_m2 / PER_1000_FT2 == pytest.approx(30)
    assert not whole.is_split
    more = preplant_sulfur(6.8, 4.8, "silt_loam")
    assert more.is_split
    assert more.first_g_per_m2 / PER_1000_FT2 == pytest.approx(40 * 2 / 3)


def test_around_planted_bushes_never_above_the_yearly_limit():
    # Extension Foundation: 0.7 lb for 100 square feet a year
    assert pytest.approx(34.2, abs=0.1) == PLANTED_LIMIT_G_PER_M2
    sour = preplant_sulfur(6.5, 4.8, "silt_loam")
    assert sour.planted_g_per_m2(0.0) == pytest.approx(PLANTED_LIMIT_G_PER_M2)
    assert sour.planted_g_per_m2(20.0) == pytest.approx(PLANTED_LIMIT_G_PER_M2 - 20)
    assert sour.planted_g_per_m2(60.0) == 0
    little = preplant_sulfur(5.0, 4.8, "sand").planted_g_per_m2(0.0)
    assert little == pytest.approx(0.2 * 48.8, abs=0.05)


def test_every_texture_of_the_table_has_a_family():
    assert set(FAMILIES) == set(TEXTURES)


def test_who_needs_sour_soil():
    blueberry = species("blueberry", feed_group="berry_acid", ph_min=4.0, ph_max=5.0)
    assert is_acid_lover(blueberry)
    assert is_acid_lover(species(ph_max=5.5))
    assert not is_acid_lover(species(ph_max=5.8))
    assert not is_acid_lover(orange())


def test_what_to_aim_at():
    # Extension Foundation: around 4.8, inside the species' own range
    def aim(low, high, group="berry_acid"):
        return aim_ph(species(feed_group=group, ph_min=low, ph_max=high))

    assert aim(4.0, 5.3) == 4.8
    assert aim(5.0, 5.8) == 5.0
    assert aim(4.0, 5.0, "other") == 4.5
    assert aim(None, 5.0) is None
    assert aim(4.0, None) is None


@given(
    ph=st.floats(3, 9),
    more=st.floats(0, 3),
    texture=st.sampled_from(sorted(FAMILIES)),
    given_g=st.floats(0, 80),
)
def test_sulfur_grows_with_the_need_and_keeps_to_its_limits(ph, more, texture, given_g):
    low, high = (preplant_sulfur(x, 4.8, texture) for x in (ph, ph + more))
    assert 0 <= low.low_g_per_m2 <= high.low_g_per_m2 + 1e-9
    assert high.first_g_per_m2 <= high.low_g_per_m2
    assert high.is_split == (high.low_g_per_m2 > SPLIT_ABOVE_G_PER_M2)
    planted = low.planted_g_per_m2(given_g)
    assert planted >= 0
    assert planted + given_g <= max(given_g, PLANTED_LIMIT_G_PER_M2) + 1e-9


def test_nothing_is_given_to_soil_that_is_sour_enough():
    assert preplant_sulfur(4.5, 4.8, "clay").low_g_per_m2 == 0
