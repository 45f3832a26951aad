"""Citrus ladders of Florida, California and Arizona, as printed."""

import pytest

from care.science.citrus_ladders import (
    arizona_part_g,
    arizona_share,
    california_citrus,
    florida_citrus,
)
from care.science.ladder_sources import POUND_G
from care.science.nutrients import product_mass_g
from tests.care.science.reference import reference_rows

FLORIDA = reference_rows("florida_citrus_feeding.csv")


@pytest.mark.parametrize("bound", ["low", "high"])
@pytest.mark.parametrize("row", FLORIDA, ids=lambda r: f"{r['year']}-{r['percent']}")
def test_product_of_the_florida_citrus_table(row, bound):
    # UF/IFAS HS132: fifteen cells of two bounds; their rounding is 0.055 lb
    ladder = florida_citrus(int(row["year"]))
    nitrogen_g = ladder.low_g if bound == "low" else ladder.high_g
    percent, times = float(row["percent"]), int(row["applications"])
    assert ladder.applications == times
    assert nitrogen_g / POUND_G == pytest.approx(float(row[f"nitrogen_{bound}_lb"]))
    pounds = product_mass_g(nitrogen_g, percent, times) / POUND_G
    assert pounds == pytest.approx(float(row[f"product_{bound}_lb"]), abs=0.06)


def test_the_florida_table_has_thirty_bounds():
    assert 2 * len(FLORIDA) == 30


def test_an_old_tree_stays_on_the_last_step():
    assert florida_citrus(30) == florida_citrus(5)
    assert florida_citrus(0) == florida_citrus(1)


@pytest.mark.parametrize(
    ("year", "pounds"), [(2, 0.25), (3, 0.50), (4, 0.75), (5, 1.0), (12, 1.0)]
)
def test_california_citrus(year, pounds):
    # UC IPM, "Fertilizing citrus"
    ladder = california_citrus(year)
    assert ladder.low_g == ladder.high_g == pytest.approx(pounds * POUND_G)


def test_california_gives_no_nitrogen_for_the_first_year():
    # UC IPM: a tablespoon of product three times, of any analysis
    assert california_citrus(1) is None


def test_arizona_shares_of_the_orange():
    # University of Arizona AZ1671 (2015): 12 lb for an orange
    assert 12 * arizona_share("grapefruit") == pytest.approx(6)
    assert 12 * arizona_share("pummelo") == pytest.approx(6)
    assert 12 * arizona_share("lemon") == pytest.approx(13.2)
    assert 12 * arizona_share("lime") == pytest.approx(13.2)
    assert arizona_share("orange") == 1


def test_arizona_gives_a_third_three_times():
    # University of Arizona AZ1671 (2015)
    assert arizona_part_g(12.0, "orange") == pytest.approx(4)
    assert 3 * arizona_part_g(12.0, "grapefruit") == pytest.approx(6)
