"""How a watering's reason tells its minutes, its goes and what was learned."""

from datetime import date

import pytest

from care.models import Task
from care.views.reason_words import Teller
from care.views.water_reasons import SENTENCES
from care.views.wording import StoredReason
from orchard.units import UnitSystem

FACTS = {
    "spare_l": 3.0,
    "readily_available_l": 8.0,
    "litres_per_day": 2.0,
    "rain_known": True,
    "rain_last_week_l": 0.0,
    "clump_size": 1,
    "unknown_water_days": 0,
}


def sentence(code="water_established", **facts):
    reason = StoredReason(code, tuple({**FACTS, **facts}.items()), ())
    today = date(2025, 6, 2)
    return SENTENCES[code](Teller(reason, Task(), today, UnitSystem.METRIC))


def test_without_a_timed_flow_no_minutes_are_told():
    said = sentence(minutes=None, flow="", cycles=1)
    assert "minute" not in said
    assert "hose" not in said


def test_minutes_with_the_hose_that_was_timed():
    said = sentence(minutes=8.3, flow="hose", cycles=1, cycle_minutes=8.3)
    assert "That is about 8 minutes with your hose." in said


def test_less_than_a_minute_is_not_about_it():
    said = sentence(minutes=0.4, flow="hose", cycles=1, cycle_minutes=0.4)
    assert "That is less than a minute with your hose." in said


def test_a_slow_soil_gets_its_water_in_goes():
    goes = {"flow": "drip", "cycles": 4, "cycle_minutes": 25.0, "soak_minutes": 30.0}
    said = sentence(minutes=100.0, spread_days=1, **goes)
    assert (
        "With your drip line that is 4 goes of 25 minutes, with 30 minutes between them"
    ) in said
    spread = sentence(minutes=100.0, spread_days=2, **goes)
    assert "4 goes of 25 minutes over 2 days" in spread


@pytest.mark.parametrize(
    ("factor", "answers", "said"),
    [
        (0.85, 6, "From 6 answers it drinks some 15% less than its crown says."),
        (1.2, 1, "From one answer it drinks some 20% more than its crown says."),
    ],
)
def test_what_was_learned_is_told_against_the_crown(factor, answers, said):
    assert said in sentence(demand_factor=factor, demand_answers=answers)


def test_what_is_not_worth_a_word_is_not_told():
    assert "crown says" not in sentence(demand_factor=1.03, demand_answers=9)
    assert "crown says" not in sentence(demand_factor=1.0, demand_answers=0)
    assert "crown says" not in sentence()
