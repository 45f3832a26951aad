"""Heat: pots and fresh trees before a forecast hot day, once a spell."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import Place, Stay, WeatherSeries, WorkDone
from care.rules.heat import propose
from care.science.hot_spells import ALARM_C
from tests.care.rules.cases import WARM_SOUTH, morning, orange, outlook, tree

TODAY = date(2014, 7, 10)
POT = tree(
    orange(), in_container=True, container_litres=55.0, planted_on=date(2011, 4, 1)
)
FRESH = tree(planted_on=date(2014, 3, 1), entered_on=date(2014, 3, 1))


def maxima(
    maxima_c: list[float], origin: str = "f", start: date = TODAY
) -> WeatherSeries:
    values = np.array(maxima_c, dtype=np.float64)
    letters = origin if len(origin) == len(values) else origin * len(values)
    return WeatherSeries(
        start=start,
        tmin_c=values - 15,
        tmax_c=values,
        rain_mm=np.zeros(len(values)),
        origin=letters,
    )


def prepared(on, what="done"):
    return WorkDone(1, "heat", "next", on, what)


def test_the_alarm_is_35_degrees():
    # "Useful alarm: a maximum of 35 degC or more", a common advisory figure
    assert ALARM_C == 35.0
    assert propose(morning(TODAY, POT, weather=maxima([34.9] * 4))) == ()
    (task,) = propose(morning(TODAY, POT, weather=maxima([30, 30, 35.0, 30])))
    assert (task.action, task.due) == ("shade_pots", TODAY + timedelta(days=2))


@pytest.mark.parametrize(
    ("ahead", "is_asked", "is_urgent"),
    [
        (0, True, True),
        (1, True, True),
        (2, True, False),
        (3, True, False),
        (4, False, False),
    ],
)
def test_only_today_and_tomorrow_are_urgent(ahead, is_asked, is_urgent):
    values = [25.0] * 6
    values[ahead] = 38.0
    found = propose(morning(TODAY, POT, weather=maxima(values)))
    assert bool(found) is is_asked
    assert any(task.is_urgent for task in found) is is_urgent


@pytest.mark.parametrize(
    "weather",
    [
        None,
        maxima([40.0] * 4, "n"),
        maxima([np.nan] * 4),
        maxima([40.0], start=date(2014, 1, 1)),
    ],
    ids=["none", "normals", "gaps", "long ago"],
)
def test_no_alarm_without_a_reading_or_a_forecast(weather):
    assert propose(morning(TODAY, POT, weather=weather)) == ()


@pytest.mark.parametrize("place", list(Place))
def test_only_pots_under_the_sky_are_shaded(place):
    standing = tree(orange(), in_container=True, stays=(Stay(place, date(2014, 1, 1)),))
    found = propose(morning(TODAY, standing, weather=maxima([38.0] * 3)))
    assert bool(found) is (place is Place.OUTDOORS)


def test_a_tree_planted_within_the_year_is_readied_early_in_the_day():
    (task,) = propose(morning(TODAY, FRESH, weather=maxima([38.0]), water=outlook()))
    assert task.action == "water_early"
    assert {"heat_work_early", "not_when_soil_wet"} <= set(task.cautions)
    assert task.amount is None  # how much is the water balance's word
    grown = tree()
    assert propose(morning(TODAY, grown, weather=maxima([38.0]))) == ()
    assert propose(morning(TODAY, tree(planted_on=None), weather=maxima([38.0]))) == ()


@pytest.mark.parametrize("state", [{"is_saturated": True}, {"due_in_days": 0}])
def test_full_soil_and_todays_watering_need_no_second_word(state):
    situation = morning(TODAY, FRESH, weather=maxima([38.0]), water=outlook(**state))
    assert propose(situation) == ()


def test_one_spell_asks_once_and_a_new_one_again():
    start = date(2014, 6, 20)
    spell = [38.0] + [30.0] * 6 + [36.0] + [30.0] * 6 + [37.0] + [30.0] * 5 + [38.0]
    weather = maxima(spell, "o" * 20 + "f", start=start)
    done = morning(TODAY, POT, weather=weather, work=(prepared(start),))
    assert propose(done) == ()
    broken = maxima([38.0] + [30.0] * 19 + [38.0], "o" * 20 + "f", start=start)
    again = morning(TODAY, POT, weather=broken, work=(prepared(start),))
    assert [task.is_urgent for task in propose(again)] == [True]


def test_a_skip_is_believed_for_three_days():
    weather = maxima([38.0] * 4)
    for days, is_silent in ((0, True), (2, True), (3, False)):
        work = (prepared(TODAY - timedelta(days=days), "skipped"),)
        found = propose(morning(TODAY, POT, weather=weather, work=work))
        assert (found == ()) is is_silent


@pytest.mark.parametrize(
    ("litres", "is_heavy"), [(None, True), (15.0, True), (10.0, False)]
)
def test_heavy_pots_are_shaded_by_two(litres, is_heavy):
    pot = tree(orange(), in_container=True, container_litres=litres)
    (task,) = propose(morning(TODAY, pot, weather=maxima([38.0])))
    assert ("two_people_lift" in task.cautions) is is_heavy
    assert "heat_work_early" in task.cautions


def test_very_dry_air_alarms_below_the_heat_alarm():
    # Ours: 4 kPa from 32 degC on; FAO-56 for the deficit
    weather = replace(maxima([34.0]), humidity_percent=np.array([20.0]))
    (task,) = propose(morning(TODAY, POT, weather=weather))
    assert (task.reason.fact("is_dry"), task.reason.fact("deficit_kpa")) == (True, 4.6)
    humid = replace(weather, humidity_percent=np.array([60.0]))
    assert propose(morning(TODAY, POT, weather=humid)) == ()


@pytest.mark.parametrize(("litres", "is_small"), [(19.9, True), (20.0, False)])
def test_a_pot_below_twenty_litres_heats_through_within_the_day(litres, is_small):
    # Common practice, no source
    pot = replace(POT, container_litres=litres)
    (task,) = propose(morning(TODAY, pot, weather=maxima([36.0])))
    assert task.reason.fact("is_small_pot") is is_small


def test_the_reason_counts_the_spell_and_marks_small_pots():
    small = replace(POT, container_litres=8.0)
    weather = maxima([36.0, 30.0, 39.0, 37.0])
    (task,) = propose(morning(TODAY, small, weather=weather))
    assert (task.reason.fact("hot_days"), task.reason.fact("hottest_c")) == (3, 39.0)
    assert task.reason.fact("is_small_pot") is True
    assert "heat_put_off_work" in task.cautions  # 100 degF and more
    (calm,) = propose(morning(TODAY, POT, weather=maxima([36.0])))
    assert "heat_put_off_work" not in calm.cautions
    assert calm.reason.fact("is_small_pot") is False


YOUNG = tree(planted_on=date(2012, 3, 1))


def cut(days_ago, share=0.2, what="done"):
    on = TODAY - timedelta(days=days_ago)
    return WorkDone(1, "pruning", "2014/1", on, what, amount=share)


@pytest.mark.parametrize(
    ("its_tree", "work", "is_asked"),
    [
        (YOUNG, (), True),
        (tree(planted_on=date(2011, 3, 1)), (), False),
        (FRESH, (), False),  # its own task shades it, trunk included
        (tree(planted_on=None), (), False),
        (tree(), (cut(30),), True),
        (tree(), (cut(61),), False),
        (tree(), (cut(30, 0.05),), False),
        (tree(), (cut(30, None),), False),
        (tree(), (cut(30, what="skipped"),), False),
        (replace(YOUNG, has_trunk_guard=True), (), False),
        (replace(YOUNG, in_container=True), (), False),
    ],
)
def test_bark_is_guarded_where_leaves_do_not_shade_it(its_tree, work, is_asked):
    # Common practice: trunks of young trees and freshly bared limbs sunburn first
    found = propose(morning(TODAY, its_tree, weather=maxima([38.0]), work=work))
    barks = [task for task in found if task.key == "next/bark"]
    assert bool(barks) is is_asked
    assert all(task.action == "guard_bark" and not task.is_urgent for task in barks)


def test_bark_is_guarded_once_a_summer():
    for days, tasks in ((119, 0), (120, 1)):
        on = TODAY - timedelta(days=days)
        said = (WorkDone(1, "heat", "next/bark", on, "skipped"),)
        situation = morning(TODAY, YOUNG, weather=maxima([38.0]), work=said)
        assert len(propose(situation)) == tasks


def test_heat_is_the_same_in_the_south():
    january = date(2014, 1, 10)
    weather = maxima([38.0], start=january)
    south = morning(january, POT, WARM_SOUTH, weather=weather)
    assert [task.action for task in propose(south)] == ["shade_pots"]
