"""Waterings and litres to come, and how long a place can be left alone."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import Observation, WorkDone
from care.planning.gather import Records
from care.planning.simulate import simulate_water
from care.planning.waterings_ahead import waterings_ahead
from tests.care.planning.water_cases import (
    SITE,
    new_apple,
    normals,
    old_apple,
    pot,
    watered,
    weather,
)

JUNE, DECEMBER = date(2015, 6, 10), date(2014, 12, 1)
TREES = (old_apple(), new_apple(planted_on=date(2015, 3, 1)), pot())


def records(today=JUNE, trees=TREES, series=None, work=(), seen=()):
    return Records(
        site=SITE,
        trees=tuple(trees),
        weather=series or weather(today),
        work=tuple(work),
        observations=tuple(seen),
        holds=(),
        typed_minimum_c=None,
        revision=1,
        today=today,
    )


def fresh(today=JUNE):
    """Return the log of trees that were all filled up yesterday."""
    yesterday = today - timedelta(days=1)
    return [watered(tree, yesterday) for tree in TREES]


def test_the_next_watering_is_the_one_the_plan_tells():
    told = waterings_ahead(records(work=fresh()))
    plan = simulate_water(SITE, TREES, weather(JUNE), fresh(), [], JUNE)
    for tree_id, ahead in told.trees.items():
        days = plan[tree_id].likely_in_days
        dates = [None if d is None else JUNE + timedelta(days=d) for d in days]
        assert [ahead.next.low, ahead.next.middle, ahead.next.high] == dates


def test_chances_grow_with_time_and_a_pot_is_first():
    told = waterings_ahead(records(work=fresh())).trees
    for ahead in told.values():
        chances = [ahead.chance_by[days] for days in (7, 14, 30)]
        assert chances == sorted(chances)
    assert told[3].chance_by[7] > 0.9
    assert told[1].chance_by[7] < 0.1


def test_a_month_of_summer_takes_many_pots_and_few_deep_waterings():
    told = waterings_ahead(records(work=fresh()))
    apple, new, lemon = (told.trees[number] for number in (1, 2, 3))
    assert apple.count.high <= 2 < new.count.middle < lemon.count.middle
    # Half to two and a half times the usual evapotranspiration of a Seattle month, 130
    # mm, on the shade of a 1.1 m crown, the can's losses included.
    shade_m2 = np.pi * 0.55**2
    assert 0.4 * 130 * shade_m2 < lemon.litres.middle < 2.5 * 130 * shade_m2
    assert lemon.litres.low <= lemon.litres.middle <= lemon.litres.high
    assert lemon.count.until == JUNE + timedelta(days=29)


def test_the_whole_orchard_is_summed_course_by_course():
    told = waterings_ahead(records(work=fresh()))
    parts = told.trees.values()
    # The ends of a sum lie inside the sums of the ends.
    assert told.litres.low >= sum(each.litres.low for each in parts) - 1e-6
    assert told.litres.high <= sum(each.litres.high for each in parts) + 1e-6
    fan = told.litres_fan
    assert fan.end == told.litres.until
    assert fan.high[-1] == pytest.approx(told.litres.high)
    assert fan.firm_until == JUNE + timedelta(days=4)


def test_nobody_there_the_pot_suffers_first():
    told = waterings_ahead(records(work=fresh()))
    lemon, apple = told.trees[3], told.trees[1]
    assert told.first_stress.low == lemon.stress_from.low
    assert lemon.next.middle <= lemon.stress_from.middle < apple.stress_from.middle


def test_a_wet_winter_asks_for_nothing_and_may_never_do():
    told = waterings_ahead(records(DECEMBER, [old_apple()]))
    apple = told.trees[1]
    assert apple.next.high is None
    assert apple.count.high == apple.litres.high == 0
    assert apple.chance_by[30] < 0.1
    assert told.first_stress.low is None


def test_words_of_people_move_the_next_watering():
    dry = Observation(1, "soil_feel", JUNE, word="dry")
    told = waterings_ahead(records(work=fresh(), seen=[dry])).trees[1]
    assert told.next.low == told.next.high == JUNE
    assert told.count.low >= 1
    skip = WorkDone(3, "watering", "next", JUNE, what="skipped")
    told = waterings_ahead(records(work=[skip])).trees[3]
    assert told.next.low > JUNE


def test_a_clump_carries_its_litres_together():
    pair = [old_apple(id=number, clump_id=7) for number in (1, 2)]
    told = waterings_ahead(records(trees=pair))
    one, two = told.trees[1], told.trees[2]
    assert one.litres == two.litres
    assert told.litres.middle == pytest.approx(2 * one.litres.middle)
    assert told.count.middle == 2 * one.count.middle


def test_a_holiday_has_its_own_length_and_its_own_trees():
    told = waterings_ahead(records(work=fresh()), days=10, tree_ids=[3])
    assert list(told.trees) == [3]
    assert told.trees[3].days == 10
    assert told.litres.until == JUNE + timedelta(days=9)
    short = waterings_ahead(records(series=weather(JUNE, days_ahead=8)), days=10)
    assert short.litres.until == JUNE + timedelta(days=7)


def test_a_place_without_a_record_is_told_from_made_up_years():
    told = waterings_ahead(records(series=normals(JUNE), work=fresh()))
    assert told.litres.members.generated == 30
    assert told.litres.low < told.litres.middle < told.litres.high


def test_nothing_is_told_without_weather_or_trees():
    assert waterings_ahead(replace(records(), weather=None)) is None
    assert waterings_ahead(records(trees=[])) is None
    assert waterings_ahead(records(), tree_ids=[99]) is None
