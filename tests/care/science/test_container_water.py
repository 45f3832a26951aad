"""Checks against published volumes and the definition of the leaching fraction."""

import pytest

from care.science.canopy import crown_area_m2
from care.science.container_water import (
    container_capacity_l,
    pot_diameter_m,
    pot_volume_litres,
    rain_catch_m2,
)
from care.science.crop_cover import litres_by_crown
from care.science.soil import readily_available_water_mm


@pytest.mark.parametrize(
    ("volume", "capacity"),
    [(14.9, 4.5), (24.6, 7.4), (54.9, 16.5), (104.5, 31.4)],  # 30 % of the true volume
)
def test_capacity_of_nursery_pots(volume, capacity):
    assert container_capacity_l(volume) == pytest.approx(capacity, abs=0.051)


HOT_ET0_MM, CROWN_KC = 6.0, 0.93  # Beeson, Duong and Kjelgren (2018): on crown area


@pytest.mark.parametrize(
    ("volume", "crown_m", "litres_per_day", "days"),
    [  # true volumes of nursery pots number 3, 5, 7, 15 and 25; usual crowns
        (9.0, 0.5, 1.1, 1.2),
        (14.9, 0.6, 1.6, 1.4),
        (24.6, 0.8, 2.9, 1.3),
        (54.9, 1.1, 5.5, 1.5),
        (104.5, 1.6, 11.5, 1.4),
    ],
)
def test_a_growing_pot_lasts_a_day_or_two_in_hot_weather(
    volume, crown_m, litres_per_day, days
):
    # Rutgers FS812: one to two days. Until half of the available water is used.
    use_l = litres_by_crown(HOT_ET0_MM, CROWN_KC, crown_area_m2(crown_m))
    lasts = readily_available_water_mm(container_capacity_l(volume), 0.5) / use_l
    assert use_l == pytest.approx(litres_per_day, abs=0.3)
    assert lasts == pytest.approx(days, abs=0.06)


def test_a_crown_of_a_square_metre_empties_a_number_5_pot_in_a_day():
    # Crown 0.8 m2, 6 mm, Kc .9: 4.3 L a day of the 4.5 L that are there.
    use_l = litres_by_crown(6.0, 0.9, 0.8)
    assert use_l == pytest.approx(4.3, abs=0.05)
    assert 0.9 < use_l / container_capacity_l(14.9) < 1.0


def test_a_wet_season_does_not_water_a_big_crowned_pot():
    # 10 mm on a 55 L pot under a crown of 1.1 m: about 0.7 L of its 16 L.
    width = pot_diameter_m(55.0)
    assert 10 * rain_catch_m2(width, 1.1) == pytest.approx(0.7, abs=0.05)
    assert 10 * rain_catch_m2(width, width) > 1.4


def test_a_wide_crown_sheds_the_rain():
    assert rain_catch_m2(0.4, 0.3) == pytest.approx(0.1257, abs=0.0001)
    assert rain_catch_m2(0.4, 1.1) == pytest.approx(0.0628, abs=0.0001)


def test_width_and_volume_are_inverses():
    assert pot_volume_litres(pot_diameter_m(54.9)) == pytest.approx(54.9)
    # Common practice, no source: a pot 40 cm wide holds some 40 to 50 L.
    assert 40 < pot_volume_litres(0.40) < 50
