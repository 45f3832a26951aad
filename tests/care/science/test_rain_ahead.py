"""Watering waits a day for rain that will likely do it, and only then."""

from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import RainReach
from care.rules.watering import propose
from care.science.rain_ahead import ComingRain, rain_worth_waiting_for
from tests.care.rules.cases import minima, morning, outlook, tree

JUNE = date(2014, 6, 20)
TOMORROW = JUNE + timedelta(days=1)
DUE: dict[str, object] = {
    "due_in_days": 0,
    "earliest_in_days": 0,
    "latest_in_days": 2,
    "is_established": True,
    "basin_area_m2": 4.0,
    "water_net_l": 60.0,
    "water_gross_l": 65.0,
}


def rain(rain_mm, origin="ff"):
    weather = minima(JUNE, [12.0, 12.0], origin)
    weather.rain_mm[1] = rain_mm
    return weather


def wait(weather=None, its_tree=None, **water):
    facts = outlook(**{**DUE, **water})
    situation = morning(
        JUNE, its_tree or tree(), weather=weather or rain(14.0), water=facts
    )
    return rain_worth_waiting_for(situation, facts)


def test_a_soaking_rain_tomorrow_is_waited_for():
    assert wait() == ComingRain(TOMORROW, 14.0)


@pytest.mark.parametrize(
    "case",
    [
        {"weather": rain(9.9)},
        {"weather": rain(14.0, "fn")},
        {"weather": rain(14.0, "fo")},
        {"weather": rain(np.nan)},
        {"weather": minima(JUNE, [12.0])},
        {"basin_area_m2": 2.0},  # 28 L of the 60 L it wants
        {"due_in_days": 1},
        {"latest_in_days": 0},
        {"latest_in_days": None},
        {"stress_ks": 0.8},
        {"unknown_water_days": 8},
        {"is_established": False},
        {"is_container": True},
        {"its_tree": tree(rain_reach=RainReach.PARTLY)},
    ],
)
def test_nothing_else_is(case):
    assert wait(**case) is None


def test_nobody_waits_without_weather():
    facts = outlook(**DUE)
    assert rain_worth_waiting_for(morning(JUNE, water=facts), facts) is None


def test_the_watering_is_then_of_tomorrow_and_says_why():
    facts = outlook(**DUE)
    (task, *_) = propose(morning(JUNE, tree(), weather=rain(14.0), water=facts))
    assert task.earliest == task.due == TOMORROW
    assert task.latest == JUNE + timedelta(days=2)
    assert task.reason.fact("rain_wait_on") == TOMORROW
    assert task.reason.fact("rain_wait_mm") == 14.0
    (dry, *_) = propose(morning(JUNE, tree(), weather=rain(0.0), water=facts))
    assert dry.due == JUNE
    assert dry.reason.fact("rain_wait_on") is None
