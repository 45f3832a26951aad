"""What a tree's page says of its water: what is left, when, or why it is left alone."""

from dataclasses import replace
from datetime import date

import pytest

from care.views.water_reasons import time_words
from care.views.water_words import water_words
from orchard.units import UnitSystem
from tests.care.rules.watering_cases import outlook

TODAY = date(2025, 6, 2)


def words(water):
    return water_words(water, TODAY, UnitSystem.METRIC)


def test_what_is_left_and_when_it_wants_more():
    said = words(outlook(likely_in_days=(2, 3, 5)))
    assert said.startswith("1.5 L left of the 2.6 L it may use. It likely wants water ")


def test_likely_days_say_which_years_they_come_from():
    said = words(outlook(likely_in_days=(2, 3, 5), past_years=3, generated_years=15))
    assert "7 June, from 3 past years and 15 generated." in said
    firm = words(outlook(likely_in_days=(2, 2, 2), past_years=3, generated_years=15))
    assert "generated" not in firm


def test_a_watering_that_may_never_be_needed_is_told_with_its_chance():
    late = words(
        outlook(
            likely_in_days=(3, 9, None),
            chances=((7, 0.31), (14, 0.52), (30, 0.66)),
            generated_years=30,
        )
    )
    assert "It may want water from 5 June on, or none for months (66 in 100" in late
    assert "from 30 generated years." in late


def test_full_soil_and_full_pots_say_why_they_are_left_alone():
    ground = words(outlook(is_saturated=True))
    potted = words(outlook(is_saturated=True, is_container=True))
    for said in (ground, potted):
        assert "leave it alone, because roots without air rot" in said
    assert "saucer" in potted
    assert "saucer" not in ground


def test_a_high_water_table_is_the_reason_once():
    said = words(outlook(notes=("water_table_within_reach",)))
    assert said.startswith("Leave it alone: in the wet season the water table")


def test_after_the_rains_a_month_of_rest_is_told_with_its_chance():
    rested = outlook(rest_probability=0.923, rest_since=date(2025, 5, 28))
    assert "probably no watering for the next month (92 in 100)" in words(rested)
    assert "28 May" in words(rested)
    doubtful = replace(rested, rest_since=None)
    assert "next month" not in words(doubtful)


def test_nothing_in_sight_unknown_and_frozen_are_said():
    assert "No watering is in sight." in words(
        outlook(due_in_days=None, likely_in_days=(None, None, None))
    )
    past = words(outlook(likely_in_days=(None, None, None)))
    assert "in sight" not in past
    assert words(None).startswith("Unknown")
    assert words(outlook(is_frozen=True)) == "The soil is frozen: no water now."
    assert "Nobody logged water for" in words(outlook(unknown_water_days=12))


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        (0.4, "less than a minute"),
        (1.2, "a minute"),
        (8.3, "8 minutes"),
        (89.0, "89 minutes"),
        (95.0, "1.5 hours"),
        (300.0, "5 hours"),
    ],
)
def test_times_are_told_as_people_plan_them(minutes, said):
    assert time_words(minutes) == said
