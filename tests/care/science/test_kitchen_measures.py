"""Cups and spoons against published weights of dry products."""

import pytest
from hypothesis import given, strategies as st

from care.science.kitchen_measures import (
    CUP_ML,
    PUBLISHED_DENSITY_G_PER_ML,
    SPOON_ML,
    SULFUR_DENSITY_G_PER_ML,
    TEASPOON_ML,
    kitchen_measure,
)
from care.science.ladder_sources import POUND_G


def test_us_measures():
    # NIST Handbook 44, appendix C: cup 236.588 mL, tablespoon 14.787, teaspoon 4.929
    assert pytest.approx(236.588, abs=0.001) == CUP_ML
    assert pytest.approx(14.787, abs=0.001) == SPOON_ML
    assert pytest.approx(4.929, abs=0.001) == TEASPOON_ML


@pytest.mark.parametrize(
    ("pounds", "density", "cups"),
    [
        # About two cups a pound of dry granules (Press-Telegram, 21 May 2020)
        (1.0, PUBLISHED_DENSITY_G_PER_ML, 2.0),
        (0.5, PUBLISHED_DENSITY_G_PER_ML, 1.0),
        # 2.5 cups a pound of sulfur (Extension Foundation, blueberry community)
        (1.0, SULFUR_DENSITY_G_PER_ML, 2.5),
    ],
)
def test_a_pound_in_cups(pounds, density, cups):
    measure = kitchen_measure(pounds * POUND_G, density)
    assert (measure.count, measure.unit) == (cups, "cup")


def test_a_pint_of_fertiliser_weighs_about_a_pound():
    # UGA Extension, Colquitt County (2024): the same rule by another road
    pint_ml = 2 * CUP_ML
    assert pint_ml * PUBLISHED_DENSITY_G_PER_ML == pytest.approx(POUND_G)


def test_small_amounts_come_in_spoons():
    spoon_g = SPOON_ML * PUBLISHED_DENSITY_G_PER_ML
    assert kitchen_measure(spoon_g, PUBLISHED_DENSITY_G_PER_ML).unit == "tablespoon"
    tea = kitchen_measure(spoon_g / 2, PUBLISHED_DENSITY_G_PER_ML)
    assert (tea.count, tea.unit) == (1.5, "teaspoon")
    assert kitchen_measure(0.0, 1.0).count == 0


def test_a_product_weighed_lighter_fills_more():
    light = kitchen_measure(500.0, 0.5)
    assert light.volume_ml == pytest.approx(1000)
    assert light.count == pytest.approx(4.0)  # 4.23 cups, the quarter below


@pytest.mark.parametrize("density", [0.0, -1.0, float("nan")])
def test_a_density_that_cannot_be_is_refused(density):
    with pytest.raises(ValueError, match="density"):
        kitchen_measure(10.0, density)


@given(grams=st.floats(0, 20_000), density=st.floats(0.2, 2.0))
def test_a_measure_never_holds_more_than_the_amount(grams, density):
    sizes = {"cup": CUP_ML, "tablespoon": SPOON_ML, "teaspoon": TEASPOON_ML}
    measure = kitchen_measure(grams, density)
    shown_ml = measure.count * sizes[measure.unit]
    assert shown_ml <= measure.volume_ml + 1e-6
    assert measure.volume_ml - shown_ml <= sizes[measure.unit] / 4 + 1e-6
