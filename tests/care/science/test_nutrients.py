"""Nitrogen amounts against published figures, and the product that carries them."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import NitrogenAdvice, SoilTest
from care.science.ladder_sources import POUND_G
from care.science.nutrients import (
    POT_NITROGEN_G_PER_L,
    nitrogen_in_product_g,
    pot_cap_g,
    product_mass_g,
    season_nitrogen,
    share_by_soil_test,
    soil_share,
    soil_test_in_force,
)
from tests.care.rules.cases import MILD, WARM, orange, species

TODAY = date(2014, 4, 1)


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
        # San Diego Master Gardeners: 20 % means 5 lb.
        (1.0, 20, 1, 5.0),
        # University of Arizona: 10 lb of 10-10-10 holds 1 lb of nitrogen.
        (1.0, 10, 1, 10.0),
        # Avocado in southern California, as relayed: half a pound is 2.5 lb of 21-0-0.
        (0.5, 21, 1, 2.381),
    ],
)
def test_product_that_carries_nitrogen(nitrogen_lb, percent, applications, product_lb):
    grams = product_mass_g(nitrogen_lb * POUND_G, percent, applications)
    assert grams / POUND_G == pytest.approx(product_lb, abs=0.001)


def test_nitrogen_in_a_product():
    # UC Master Gardeners of Ventura: 6 lb of 16-16-16; San Diego: blood meal 13 %.
    assert nitrogen_in_product_g(6, 16) == pytest.approx(0.96, abs=0.0001)
    assert nitrogen_in_product_g(8, 13) == pytest.approx(1.04, abs=0.0001)


@pytest.mark.parametrize(("percent", "times"), [(0, 1), (101, 1), (-3, 1), (10, 0)])
def test_a_bag_that_cannot_be_is_refused(percent, times):
    with pytest.raises(ValueError, match="not a"):
        product_mass_g(100, percent, times)


@given(
    nitrogen_g=st.floats(0, 2000), percent=st.floats(0.5, 100), times=st.integers(1, 9)
)
def test_product_and_nitrogen_go_back_and_forth(nitrogen_g, percent, times):
    grams = product_mass_g(nitrogen_g, percent, times)
    assert nitrogen_in_product_g(grams * times, percent) == pytest.approx(nitrogen_g)


@pytest.mark.parametrize(("parts", "most_g"), [(1, 1.5), (3, 4.5), (4, 6.0), (8, 6.0)])
def test_no_part_burns_the_roots_of_a_pot(parts, most_g):
    # Common practice, no source: 0.15 g of nitrogen a litre at once, 0.6 g a season
    assert pot_cap_g(10.0, parts) == pytest.approx(most_g)


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


def test_the_working_leads_to_the_amount():
    found = season_nitrogen(orange(), canopy_m2=6.0, years=9, ground_share=0.8)
    first, full = found.first_year_g, found.full_g
    reckoned = (first + (full - first) * found.share) * found.soil_share
    assert found.nitrogen_g == pytest.approx(reckoned)
    assert not found.is_pot_capped


def test_no_amount_without_a_figure_or_a_size():
    assert season_nitrogen(species(), canopy_m2=None, years=None) is None
    bare = species(nitrogen_mature_g=None)
    assert season_nitrogen(bare, canopy_m2=4.0, years=3) is None


def test_citrus_gets_more_on_sand_than_on_heavier_soil():
    # UF/IFAS HS132 on Florida's sand: 1.1-1.4 lb; UC IPM: 1.0 lb
    assert soil_share(orange(), WARM) == 1.0
    on_loam = soil_share(orange(), MILD) * (1.1 + 1.4) / 2
    assert on_loam == pytest.approx(1.0)
    assert soil_share(species(), MILD) == 1.0


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
    # UC IPM: restricted roots need less
    assert pot.nitrogen_g <= ground.nitrogen_g


@given(
    canopy_m2=st.floats(0, 100),
    more_m2=st.floats(0, 50),
    kind=st.sampled_from([species(), orange()]),
    litres=st.none() | st.floats(1, 500),
)
def test_a_larger_canopy_never_gets_less(canopy_m2, more_m2, kind, litres):
    amounts = [
        season_nitrogen(kind, canopy_m2=area, years=5, container_litres=litres)
        for area in (canopy_m2, canopy_m2 + more_m2)
    ]
    assert amounts[0].nitrogen_g <= amounts[1].nitrogen_g + 1e-9


@pytest.mark.parametrize(
    ("advice", "share"),
    [
        (NitrogenAdvice.NONE, 0),
        (NitrogenAdvice.HALF, 0.5),
        (NitrogenAdvice.USUAL, 1),
    ],
)
def test_a_soil_test_goes_before_the_ladder(advice, share):
    test = SoilTest(TODAY - timedelta(days=400), ph=6.2, nitrogen=advice)
    assert share_by_soil_test(replace(MILD, soil_test=test), TODAY) == share


def test_a_soil_test_holds_for_three_years():
    # Common practice, no source
    test = SoilTest(TODAY, nitrogen=NitrogenAdvice.NONE)
    site = replace(MILD, soil_test=test)
    assert soil_test_in_force(site, TODAY) == test
    assert soil_test_in_force(site, TODAY + timedelta(days=1095)) == test
    assert soil_test_in_force(site, TODAY + timedelta(days=1096)) is None
    assert soil_test_in_force(site, TODAY - timedelta(days=1)) is None
    assert share_by_soil_test(MILD, TODAY) == 1
