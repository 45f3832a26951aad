"""What growers say of water, and where the plan rightly says something else.

Every rule in here is common practice, no source. Trees are watered as the plan says.
"""

from datetime import date, timedelta

import pytest

from care.facts import WorkDone
from care.planning.simulate import simulate_water
from care.science.soil import TEXTURES, texture_where_planted
from tests.care.planning.planting_seasons import (
    FLORIDA,
    LEAFING_OUT,
    MARCH,
    MAY,
    MIAMI_ET0_MM,
    MIAMI_MEAN_C,
    MIAMI_RAIN_MM,
    MINNESOTA,
    TWIN_CITIES_ET0_MM,
    TWIN_CITIES_MEAN_C,
    climate,
    fresh,
    interval,
    month_counts,
    obeyed,
)
from tests.care.planning.water_cases import LEMON, old_apple, pot

BUDS, LEAF, POTTED, IN_GROUND = range(1, 5)
SEVEN = {"litres": 24.6, "crown_m": 0.68}  # a number 7 pot


@pytest.fixture(scope="module")
def dry_spring():
    trees = [
        fresh(BUDS, MARCH, species=LEAFING_OUT, **SEVEN),
        fresh(LEAF, MARCH, **SEVEN),
        pot(id=POTTED, species=LEMON, container_litres=24.6, crown_width_m=0.68),
        old_apple(id=IN_GROUND, species=LEMON, crown_width_m=0.68, spacing_m=None),
    ]
    return obeyed(FLORIDA, trees, climate(MARCH, MIAMI_ET0_MM, MIAMI_MEAN_C), MARCH, 75)


@pytest.fixture(scope="module")
def rains():
    """Planted in March, and in June when the rains have come; and an old pot."""
    june = date(2014, 6, 1)
    series = climate(MARCH, MIAMI_ET0_MM, MIAMI_MEAN_C, rain_mm=MIAMI_RAIN_MM)
    trees = [
        fresh(LEAF, MARCH, **SEVEN),
        fresh(BUDS, june, **SEVEN),
        pot(id=POTTED, container_litres=55.0, crown_width_m=1.1),
    ]
    return obeyed(FLORIDA, trees, series, MARCH, 150)


def test_stock_at_bud_break_drinks_about_every_fourth_day_then_weekly(dry_spring):
    assert 2.5 <= interval(dry_spring[BUDS], 0, 14) <= 5
    assert 5 <= interval(dry_spring[BUDS], 14, 75) <= 10


def test_on_cool_loam_too_stock_at_bud_break_drinks_every_fourth_day_then_weekly():
    trees = [fresh(BUDS, MAY, species=LEAFING_OUT, **SEVEN)]
    cold = climate(MAY, TWIN_CITIES_ET0_MM, TWIN_CITIES_MEAN_C, half_span_c=6.0)
    found = obeyed(MINNESOTA, trees, cold, MAY, 60)[BUDS]
    assert 2.5 <= interval(found, 0, 14) <= 5
    assert 5 <= interval(found, 14, 60) <= 10


def test_but_a_root_ball_in_full_leaf_cannot_wait_four_days(dry_spring):
    # Rightly otherwise: a ball that lost half its water to the soil around it holds a
    # day of what a full crown drinks in warm weather.
    assert interval(dry_spring[LEAF], 0, 14) < 2


def test_nothing_more_is_poured_once_the_rains_have_set_in(rains):
    counts = month_counts(rains[LEAF], MARCH)
    assert counts[3] > 15
    assert counts[6] + counts[7] <= 1


def test_but_a_tree_planted_into_the_rains_is_watered_for_its_first_weeks(rains):
    # Rightly otherwise: rain on a ball 40 cm wide is a litre or two, on some days.
    counts = month_counts(rains[BUDS], MARCH)
    assert counts[6] >= 8
    assert counts[7] < counts[6]


def test_but_a_wet_season_does_not_water_a_big_crowned_pot(rains):
    # Rightly otherwise: 24 mm on half of a pot 43 cm wide are 1.8 L; it drinks 3 a day.
    counts = month_counts(rains[POTTED], MARCH)
    assert counts[6] >= 6
    assert counts[7] >= 6


def test_a_pot_dries_faster_than_the_ground(dry_spring):
    assert 2 * len(dry_spring[IN_GROUND]) < len(dry_spring[POTTED])


def test_a_pot_is_watered_until_it_runs_out_below():
    today = MARCH + timedelta(days=40)
    series = climate(MARCH, MIAMI_ET0_MM, MIAMI_MEAN_C)
    tree = pot(container_litres=24.6, crown_width_m=0.68)
    before = simulate_water(FLORIDA, [tree], series, [], [], today, 0)[tree.id]
    work = [WorkDone(tree.id, "watering", "next", today, amount=before.water_gross_l)]
    after = simulate_water(FLORIDA, [tree], series, work, [], today, 0)[tree.id]
    assert after.missing_l == pytest.approx(0, abs=1e-9)
    assert before.water_gross_l - before.water_net_l == pytest.approx(
        0.15 * before.water_gross_l
    )


def test_a_hole_that_drains_in_twenty_minutes_is_sand():
    twenty_minutes = 20 / 60
    for key in TEXTURES:
        assert texture_where_planted(key, twenty_minutes).key == "sand"


def test_hours_are_usual_for_loam_and_clay_takes_more_than_two_days():
    # From the soil's infiltration alone, through the bottom of a hole 30 cm deep. Not
    # so fast on sand either: the bands are of flooded fields, and a hole drains
    # through its walls too. So only a test hole tells sand, never the reckoning.
    hours = {key: 300 / t.infiltration_mm_h[1] for key, t in TEXTURES.items()}
    assert hours["clay"] > 48
    assert 10 < hours["loam"] < 24
    assert 20 / 60 < hours["sand"] < 8
