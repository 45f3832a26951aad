"""Everything that went into a tree's numbers is told with them."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from care.facts import Goal
from care.planning.simulate import simulate_water
from care.planning.water_working import stage_name
from care.science.canopy import CITRUS, DECIDUOUS_MIDDLE
from tests.care.planning.water_cases import SITE, new_apple, old_apple, pot, weather

JULY = date(2014, 7, 10)
MAY = date(2014, 5, 10)


def working(tree, today=JULY, *, site=SITE, series=None):
    series = series or weather(today)
    water = simulate_water(site, [tree], series, [], [], today, 40)[tree.id]
    return water, dict(water.working)


def test_stages_run_as_fao56_table_11_has_them():
    # Deciduous trees between 34 and 50 degrees: 30, 50, 130 and 30 days from 1 March.
    ends = {30: "initial", 80: "development", 210: "middle", 240: "late"}
    for day, name in ends.items():
        assert stage_name(day, DECIDUOUS_MIDDLE) == name
        assert stage_name(day + 1, DECIDUOUS_MIDDLE) != name
    assert stage_name(241, DECIDUOUS_MIDDLE) == "leafless"
    assert stage_name(365, CITRUS) == "late"


def test_an_old_tree_tells_its_leaf_its_soil_and_its_basin():
    water, told = working(old_apple())
    assert (told["kc_table_ini"], told["kc_table_mid"]) == (0.45, 0.95)
    assert told["kc_mid"] == 0.95
    assert told["is_kc_climate_adjusted"] is False
    # 1 March is day 60, 10 July day 191: the 132nd of its season.
    assert (told["season_day"], told["season_stage"]) == (132, "middle")
    assert told["store_kind"] == "basin"
    assert told["soil_texture"] == "loam"
    assert told["available_mm_per_m"] == 155
    held = told["available_mm_per_m"] * told["root_depth_m"] * told["watered_area_m2"]
    assert held == pytest.approx(water.store_l)
    assert told["depletion_p_today"] == water.depletion_p
    day_p = told["depletion_p_table"] + 0.04 * (5 - water.kc * water.et0_mm)
    assert day_p == pytest.approx(water.depletion_p)
    assert told["efficiency"] == 0.9
    assert told["weather_origin"] == "forecast"
    assert told["tmin_c"] < told["tmax_c"]


def test_a_new_tree_tells_its_ball_and_a_pot_its_leaching():
    _water, young = working(new_apple(goal=Goal.VIGOUR), MAY)
    assert (young["store_kind"], young["ball_l"]) == ("ball", 24.6)
    assert young["goal"] == "vigour"
    assert "root_depth_m" not in young
    _water, potted = working(pot())
    assert (potted["store_kind"], potted["pot_l"]) == ("pot", 55.0)
    assert potted["leaching_fraction"] == pytest.approx(0.15)
    salty = replace(SITE, is_water_salty=True)
    assert working(pot(), site=salty)[1]["leaching_fraction"] == pytest.approx(0.25)
    assert "runoff_week_mm" not in potted


def test_a_crown_nobody_measured_is_told_as_guessed():
    assert working(old_apple())[1]["crown_source"] == "measured"
    assert working(old_apple(crown_width_m=None))[1]["crown_source"] == "guessed"


def test_the_weeks_rain_is_told_with_what_of_it_ran_off():
    series = weather(JULY)
    rain = series.rain_mm.copy()
    now = series.index(JULY)
    rain[now - 7 : now] = [0, 0, 60.0, 0, 0, 0, 0]
    told = working(old_apple(floor="bare"), series=replace(series, rain_mm=rain))[1]
    assert told["rain_week_mm"] == 60.0
    assert told["curve_number"] == 73
    # TR-55 by hand: S 93.95 mm, Ia 18.79 mm, Q 41.21^2 / 135.16.
    assert told["runoff_week_mm"] == pytest.approx(12.56, abs=0.01)


def test_a_day_without_temperatures_tells_none():
    series = weather(JULY)
    tmin = series.tmin_c.copy()
    tmin[series.index(JULY)] = np.nan
    assert "tmin_c" not in working(old_apple(), series=replace(series, tmin_c=tmin))[1]


def test_a_tree_at_a_spacing_tells_its_use_by_the_floor_too():
    # FAO-56 Eq. 98 bounds the effect of cover by twice the cover: a crown over a tenth
    # of its ground gets twice its crown's litres by the floor, never ten times.
    tree = replace(old_apple(), crown_width_m=2.0, spacing_m=(np.pi * 10) ** 0.5)
    water, told = working(tree)
    assert told["crown_cover"] == pytest.approx(0.1)
    by_crown = water.et0_mm * water.kc * water.crown_area_m2
    assert told["in_rows_litres_per_day"] == pytest.approx(2 * by_crown)
    for other in (pot(), replace(tree, spacing_m=None)):
        assert "spacing_m2" not in working(other)[1]


def test_a_vine_follows_its_own_row_of_table_11():
    vine = replace(
        old_apple(),
        species=replace(
            old_apple().species, kc_source="FAO-56: grapes, table or raisin"
        ),
    )
    # FAO-56 Table 11, grapes at middle latitudes: 20, 50, 75 and 60 days from March.
    assert working(vine, date(2014, 10, 20))[1]["season_stage"] == "leafless"
    assert working(old_apple(), date(2014, 10, 20))[1]["season_stage"] == "late"
