"""Checks against FAO-56 Example 30, Tables 11 and 12, and trunk tables."""

from datetime import date, timedelta

import numpy as np
import pytest

from care.science.canopy import (
    BANANA,
    CITRUS,
    DECIDUOUS_HIGH,
    DECIDUOUS_LOW,
    DECIDUOUS_MIDDLE,
    GRAPE_HIGH,
    GRAPE_LOW,
    GRAPE_MIDDLE,
    PISTACHIO,
    WALNUT,
    WINE_GRAPE,
    Stages,
    caliper_from_pot_mm,
    crop_coefficient,
    crown_area_m2,
    crown_from_caliper_m,
    grown_crown_width_m,
    is_leafless,
    pot_from_caliper_litres,
    season_day,
    stages_of,
)


@pytest.mark.parametrize(
    ("day", "expected"), [(12, 0.15), (37, 0.63), (65, 1.14), (90, 0.70)]
)
def test_example_30_of_fao_56(day, expected):
    beans = Stages(1, 25, 25, 30, 20)
    kc = crop_coefficient(day, beans, kc_ini=0.15, kc_mid=1.14, kc_end=0.25)
    assert kc == pytest.approx(expected, abs=0.0051)  # day 90: 0.695, printed 0.70


@pytest.mark.parametrize(
    ("stages", "days", "month"),
    [
        (DECIDUOUS_HIGH, 210, 3),
        (DECIDUOUS_MIDDLE, 240, 3),
        (DECIDUOUS_LOW, 270, 3),
        (GRAPE_HIGH, 180, 5),
        (GRAPE_MIDDLE, 205, 3),
        (GRAPE_LOW, 240, 4),
        (WINE_GRAPE, 210, 4),
        (PISTACHIO, 150, 2),
        (WALNUT, 190, 4),
        (CITRUS, 365, 1),
        (BANANA, 365, 2),
    ],
)
def test_lengths_and_starts_of_table_11(stages, days, month):
    assert stages.length == days
    start = date(2015, 1, 1) + timedelta(days=stages.start_day - 1)
    assert (start.month, start.day) == (month, 1)


def test_a_crop_with_its_own_row_keeps_its_own_year():
    assert stages_of("deciduous", 38, "walnut orchard") == WALNUT
    assert stages_of("deciduous", -38, "pistachios; no ground cover") == PISTACHIO
    table, wine = "grapes, table or raisin", "grapes, wine"
    found = [stages_of("deciduous", latitude, table) for latitude in (20, -38, 51)]
    assert found == [GRAPE_LOW, GRAPE_MIDDLE, GRAPE_HIGH]
    assert stages_of("deciduous", 45, wine) == WINE_GRAPE
    assert stages_of("evergreen", 10, "banana, second year") == BANANA


def test_an_evergreen_that_borrows_a_vine_s_figures_keeps_its_leaves():
    assert stages_of("evergreen", 10, "grapes, table or raisin") == CITRUS


def test_rows_are_chosen_by_latitude_on_either_side():
    assert stages_of("deciduous", 55) == stages_of("deciduous", -55) == DECIDUOUS_HIGH
    assert stages_of("deciduous", 47.5) == DECIDUOUS_MIDDLE
    assert stages_of("deciduous", -28) == DECIDUOUS_LOW
    assert stages_of("evergreen", 28) == CITRUS


def test_an_apple_through_the_year():
    # Table 12, no ground cover, killing frost: .45 .95 .70, about .20 when leafless.
    stages = stages_of("deciduous", 47.5)
    season = season_day(np.array([15.0, 65.0, 200.0, 299.0, 340.0]), stages)
    kc = crop_coefficient(season, stages, kc_ini=0.45, kc_mid=0.95, kc_end=0.70)
    assert kc == pytest.approx([0.20, 0.45, 0.95, 0.70, 0.20], abs=0.01)
    assert is_leafless(season, stages).tolist() == [True, False, False, False, True]


def test_the_southern_year_is_half_a_year_later():
    stages = stages_of("deciduous", -35)
    days = np.arange(1.0, 366.0)
    north = season_day(days, stages)
    south = season_day(days, stages, is_southern=True)
    assert np.array_equal(np.roll(north, 182), south)


def test_an_evergreen_is_never_leafless():
    days = season_day(np.arange(1.0, 367.0), CITRUS)
    assert not is_leafless(days, CITRUS).any()


@pytest.mark.parametrize(
    ("litres", "trunk_mm"),
    [  # Arboriculture & Urban Forestry: Acer rubrum and Quercus virginiana by container
        (9.0, 9),
        (24.6, 17),
        (104.5, 41),
        (57.0, 29),
    ],
)
def test_trunks_in_nursery_pots(litres, trunk_mm):
    assert caliper_from_pot_mm(litres) == pytest.approx(trunk_mm, abs=1.5)
    assert pot_from_caliper_litres(caliper_from_pot_mm(litres)) == pytest.approx(litres)


def test_crown_of_a_circle():
    # University of California: a crown of 10 ft covers 78.54 square feet.
    assert crown_area_m2(3.048) == pytest.approx(78.54 * 0.09290304, rel=1e-4)


def test_guesses_stay_between_their_ends():
    assert crown_from_caliper_m(25) == pytest.approx(1.0)
    assert grown_crown_width_m(1.0, 5.0, 5) == pytest.approx(3.0)
    assert grown_crown_width_m(1.0, 5.0, 50) == 5.0
    assert grown_crown_width_m(1.0, None, 5) == 1.0
    assert grown_crown_width_m(2.0, 1.5, 5) == 2.0
