"""Amounts worked out from the catalogue against the published ladders, year by year."""

from dataclasses import replace

import pytest

from care.planning.species_facts import species_facts
from care.science.citrus_ladders import arizona_share, california_citrus, florida_citrus
from care.science.feeding_ladders import NORTHERN_BERRIES
from care.science.ladder_sources import POUND_G
from care.science.nutrients import FINE_SOIL_CITRUS_SHARE, season_nitrogen
from care.science.small_fruit_ladders import north_carolina_blueberry
from care.science.soil_acidity import is_acid_lover
from care.science.tree_fruit_ladders import pennsylvania_stone
from orchard.catalogue.species import species_catalogue


def by_years(key, years):
    return season_nitrogen(species_facts(key), canopy_m2=None, years=years).nitrogen_g


@pytest.mark.parametrize("year", [1, 2, 3, 4, 5, 12])
def test_an_orange_on_sand_stays_inside_floridas_table(year):
    # UF/IFAS HS132
    ladder = florida_citrus(year)
    assert ladder.low_g <= by_years("orange", year - 1) <= ladder.high_g


def test_a_grown_orange_on_loam_gets_californias_pound():
    # UC IPM, "Fertilizing citrus"
    on_loam = by_years("orange", 6) * FINE_SOIL_CITRUS_SHARE
    assert on_loam == pytest.approx(california_citrus(6).low_g, rel=0.01)


@pytest.mark.parametrize("key", ["grapefruit", "lemon", "lime"])
def test_other_citrus_keep_arizonas_shares_of_the_orange(key):
    # University of Arizona AZ1671 (2015)
    share = by_years(key, 6) / by_years("orange", 6)
    assert share == pytest.approx(arizona_share(key), abs=0.01)


@pytest.mark.parametrize("year", [1, 2, 5, 9, 10, 30])
@pytest.mark.parametrize("key", ["peach", "nectarine", "apricot"])
def test_stone_fruit_climbs_pennsylvanias_steps(key, year):
    # Penn State Extension: half a pound of 10-10-10 more a year, at most five pounds
    assert by_years(key, year - 1) == pytest.approx(
        pennsylvania_stone(year).low_g, abs=1.0
    )


@pytest.mark.parametrize("key", NORTHERN_BERRIES)
def test_blueberries_begin_and_end_with_north_carolina(key):
    # NC Extension, The Sylva Herald
    assert by_years(key, 0) == pytest.approx(north_carolina_blueberry(1).low_g, abs=0.1)
    assert by_years(key, 20) == pytest.approx(
        north_carolina_blueberry(20).low_g, abs=0.5
    )


def test_a_mature_avocado_lies_between_the_published_pounds():
    # UC Master Gardeners, as relayed: one to two pounds of nitrogen a year
    assert POUND_G <= by_years("avocado", 20) <= 2 * POUND_G


def test_who_needs_sour_soil_in_the_catalogue():
    sour = {key for key in species_catalogue() if is_acid_lover(species_facts(key))}
    assert sour == {
        "blueberry_highbush",
        "blueberry_rabbiteye",
        "blueberry_southern_highbush",
        "miracle_fruit",
    }


def test_a_figure_that_is_missing_gives_no_amount():
    bare = replace(species_facts("orange"), nitrogen_mature_g=None)
    assert season_nitrogen(bare, canopy_m2=4.0, years=3) is None
