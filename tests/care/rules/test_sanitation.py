"""Sanitation: dried fruit and cankers in winter, fire blight after bloom."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Observation, Stage, StageDay, WorkDone
from care.planning.species_facts import species_facts
from care.rules.sanitation import propose
from tests.care.rules.cases import MILD, WARM, WARM_SOUTH, morning, tree

WINTER = date(2014, 1, 20)
MAY = date(2014, 5, 20)
# Too young to bear: bearing trees are looked over for fire blight with the rest.
YOUNG = {"planted_on": date(2012, 3, 1)}
SEEN = (Observation(1, "bloom_stage", date(2014, 4, 20), word="full_bloom"),)


def done(key, on=WINTER, what="done"):
    return WorkDone(1, "sanitation", key, on, what)


def of(day, key="apple", site=MILD, changes=None, **more):
    its_tree = tree(species_facts(key), **(changes or {}))
    return {p.key: p for p in propose(morning(day, its_tree, site, **more))}


def test_dried_fruit_and_cankers_go_before_bud_break():
    task = of(WINTER)["2014/winter"]
    assert (task.kind, task.action) == ("sanitation", "clean_up")
    assert (task.earliest, task.latest) == (date(2013, 12, 1), date(2014, 3, 1))
    assert task.due == date(2014, 2, 1)
    buds = StageDay(Stage.BUD_BREAK, 2014, date(2014, 4, 10), "heat")
    late = of(WINTER, stages=(buds,))["2014/winter"]
    assert late.latest == date(2014, 4, 10)


def test_cankers_of_summer_pruned_stone_fruit_wait_for_dry_weeks():
    assert of(WINTER, "apricot")["2014/winter"].reason.fact("cuts_wait_for_summer")
    assert not of(WINTER)["2014/winter"].reason.fact("cuts_wait_for_summer")


@pytest.mark.parametrize("key", ["fig", "orange", "walnut", "loquat"])
def test_kinds_whose_fruit_does_not_hang_on(key):
    assert "2014/winter" not in of(WINTER, key)


def test_trees_too_young_to_bear_carry_no_dried_fruit():
    assert "2014/winter" not in of(WINTER, changes=YOUNG)


def test_fire_blight_is_cut_below_what_shows():
    task = of(MAY, changes=YOUNG, observations=SEEN)["2014/blight"]
    assert task.action == "look_for_blight"
    assert task.earliest == date(2014, 5, 4)
    assert task.latest == date(2014, 6, 29)
    # UC IPM Pest Notes 7414: 8-12 in; blades in 70 % alcohol after each cut in growth
    assert task.reason.fact("below_least_mm") / 25.4 == pytest.approx(8, abs=0.2)
    assert task.reason.fact("below_most_mm") / 25.4 == pytest.approx(12, abs=0.3)
    assert task.reason.fact("alcohol_percent") == 70.0
    assert "clean_each_cut" in task.cautions


def test_only_pome_fruit_has_fire_blight():
    assert "2014/blight" not in of(MAY, "peach", changes=YOUNG)
    assert "2014/blight" in of(MAY, "pear", changes=YOUNG)
    assert "2014/blight" not in of(MAY, "pear")


def test_what_was_answered_or_is_past_is_closed():
    assert "2014/winter" not in of(WINTER, work=(done("2014/winter"),))
    skipped = done("2014/blight", MAY, "skipped")
    assert "2014/blight" not in of(MAY, changes=YOUNG, work=(skipped,))
    assert "2014/winter" not in of(MAY)
    assert "2014/blight" not in of(date(2014, 8, 20), changes=YOUNG)
    planted = {"planted_on": date(2014, 8, 1), "entered_on": date(2014, 8, 1)}
    assert of(date(2014, 8, 1), changes=planted) == {}


@pytest.mark.parametrize(
    ("changes", "cautions"),
    [
        ({"height_m": 1.9}, ("clean_tools",)),
        ({"height_m": 3.0}, ("look_for_wires", "ladder", "clean_tools")),
        (
            {"height_m": 5.0},
            ("look_for_wires", "ladder", "call_professional", "clean_tools"),
        ),
        ({"height_m": 3.0, "near_wires": True}, ("power_lines",)),
    ],
)
def test_ladders_and_wires(changes, cautions):
    assert of(WINTER, changes=changes)["2014/winter"].cautions == cautions


def test_stone_fruit_is_cleaned_in_dry_weather():
    task = of(WINTER, "peach", changes={"height_m": 1.5})["2014/winter"]
    assert task.cautions == ("dry_spell", "clean_tools")


@given(crop=st.integers(2013, 2030))
@settings(max_examples=30)
def test_windows_mirror_by_half_a_year(crop):
    young = {"planted_on": date(crop - 1, 3, 1), "entered_on": date(crop - 1, 3, 1)}
    for key, changes in ((f"{crop}/winter", {}), (f"{crop}/blight", young)):
        north = of(date(crop, 1, 20), site=WARM, changes=changes)
        south = of(date(crop, 7, 20), site=WARM_SOUTH, changes=changes)
        assert abs((south[key].due - north[key].due).days - 182.6) <= 4


@given(day=st.dates(date(2014, 1, 1), date(2015, 12, 30)))
@settings(max_examples=40)
def test_keys_are_stable_from_day_to_day(day):
    now, then = of(day), of(day + timedelta(days=1))
    ends_season = (day.month, day.day) == (10, 31)
    assert ends_season or {k for k, p in now.items() if p.latest > day} <= set(then)
