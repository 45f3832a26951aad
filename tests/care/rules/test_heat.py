"""Heat: pots and fresh trees before a forecast hot day, once a spell."""

from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import Place, Stay, WaterOutlook, WeatherSeries, WorkDone
from care.rules.heat import ALARM_C, propose
from tests.care.rules.cases import morning, orange, tree

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


def outlook(**changes):
    facts = {
        "is_container": False,
        "store_l": 20.0,
        "missing_l": 3.0,
        "outer_store_l": 0.0,
        "outer_missing_l": 0.0,
        "readily_available_l": 10.0,
        "spare_l": 7.0,
        "depletion_p": 0.5,
        "use_l": 2.0,
        "et0_mm": 5.0,
        "et0_method": "hargreaves",
        "kc": 0.9,
        "crown_area_m2": 0.5,
        "stress_ks": 1.0,
        "water_net_l": 3.0,
        "water_gross_l": 3.3,
        "earliest_in_days": 1,
        "due_in_days": 3,
        "latest_in_days": 5,
    }
    return WaterOutlook(**{**facts, **changes})


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
