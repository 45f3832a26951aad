"""A high water table feeds grown trees in the wet season."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import WeatherSeries
from care.planning.simulate import simulate_water
from care.planning.water_table import is_water_table_up
from tests.care.planning.water_cases import SITE, new_apple, old_apple, pot, steady

HIGH = replace(SITE, has_high_water_table=True)
# Mean rain of Miami by month, from memory: wet from May to October.
MIAMI_MM = [45, 55, 65, 80, 140, 240, 170, 220, 240, 150, 80, 50]


def monsoon(today):
    start = today - timedelta(days=800)
    days = [start + timedelta(days=n) for n in range(900)]
    rain = np.array([MIAMI_MM[day.month - 1] / 30.4 for day in days])
    warm = np.full(len(days), 24.0)
    return WeatherSeries(start, warm, warm + 8, rain, "o" * 800 + "n" * 100)


@pytest.mark.parametrize(
    ("today", "is_up"),
    [
        (date(2014, 2, 10), False),
        (date(2014, 4, 10), False),
        (date(2014, 6, 20), True),
        (date(2014, 9, 20), True),
        (date(2014, 12, 10), False),
    ],
)
def test_it_is_up_in_the_wet_season(today, is_up):
    assert is_water_table_up(HIGH, monsoon(today), today) is is_up
    assert not is_water_table_up(SITE, monsoon(today), today)


def test_without_a_wet_season_it_is_up_in_the_warm_half_of_the_year():
    south = replace(HIGH, latitude_deg=-28.0)
    for month in range(1, 13):
        today = date(2014, month, 15)
        even = steady(today, start=today - timedelta(days=30), rain=2.0)
        assert is_water_table_up(HIGH, even, today) is (5 <= month <= 10)
        assert is_water_table_up(south, even, today) is not (5 <= month <= 10)


def test_only_grown_trees_in_the_ground_drink_from_below():
    june = date(2014, 6, 20)
    fresh = new_apple(planted_on=june - timedelta(days=30))
    trees = [old_apple(), fresh, pot()]
    grown, young, potted = simulate_water(
        HIGH, trees, monsoon(june), [], [], june
    ).values()
    assert "water_table_within_reach" in grown.notes
    assert "water_table_within_reach" not in young.notes
    assert "water_table_within_reach" not in potted.notes
    low = simulate_water(SITE, trees, monsoon(june), [], [], june)
    assert "water_table_within_reach" not in low[1].notes
