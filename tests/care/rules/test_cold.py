"""Cold: pots in, trees covered, pots out, and silence where nothing is known."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.facts import ColdPocket, MonthDay, Observation, Place, Span, Stay, WorkDone
from care.rules.cold import propose
from tests.care.rules.cases import (
    MILD,
    SHORT,
    WARM,
    minima,
    morning,
    orange,
    species,
    tree,
)

TODAY = date(2014, 11, 12)
FAHRENHEIT_3 = 3 / 1.8


def potted(kind=None, place=Place.OUTDOORS, **changes):
    facts = {
        "in_container": True,
        "container_litres": 40.0,
        "stays": (Stay(place, date(2014, 6, 1)),),
    }
    return tree(kind or orange(), **{**facts, **changes})


def test_a_pot_comes_in_before_its_move_in_temperature():
    (task,) = propose(morning(TODAY, potted(), weather=minima(TODAY, [3.5, 6.0, 6.0])))
    assert (task.key, task.action, task.is_urgent) == ("next", "move_in", True)
    assert task.earliest == task.due == task.latest == TODAY
    assert task.reason.fact("threshold_c") == 2.0
    assert task.reason.fact("minimum_c") == 3.5
    assert task.cautions == (
        "move_before_watering",
        "two_people_lift",
        "huddle_by_wall",
    )


def test_a_pots_limit_is_its_own_and_not_the_ground_figure_plus_something():
    hardy = potted(species())
    assert propose(morning(TODAY, hardy, weather=minima(TODAY, [-3.0]))) == ()
    (task,) = propose(morning(TODAY, hardy, weather=minima(TODAY, [-6.0])))
    assert task.reason.fact("threshold_c") == -7.0


def test_a_small_pot_needs_one_person():
    (task,) = propose(
        morning(TODAY, potted(container_litres=8.0), weather=minima(TODAY, [0.0]))
    )
    assert task.cautions == ("move_before_watering",)


@pytest.mark.parametrize(
    ("threshold_f", "minimum_f"),
    [
        (22, 23),  # LSU AgCenter: hardened satsuma
        (25, 25),  # LSU AgCenter: sweet orange
        (29, 31),  # UF/IFAS: young mango
    ],
)
def test_ground_trees_are_covered_within_the_margin(threshold_f, minimum_f):
    threshold_c, minimum_c = (threshold_f - 32) / 1.8, (minimum_f - 32) / 1.8
    kind = orange(damage_temp_young_c=threshold_c, damage_temp_mature_c=threshold_c)
    site = replace(WARM, frost_margin_c=FAHRENHEIT_3)
    weather = minima(TODAY, [minimum_c])
    (task,) = propose(morning(TODAY, tree(kind), site, weather=weather))
    assert task.action == "cover"
    assert "cover_to_ground" in task.cautions


def test_young_and_unknown_ages_use_the_young_figure():
    weather = minima(TODAY, [-1.0])
    for planted in (date(2013, 3, 1), None):
        its_tree = tree(orange(), planted_on=planted)
        (task,) = propose(morning(TODAY, its_tree, weather=weather))
        assert task.reason.fact("figure") == "damage_temp_young_c"
    assert propose(morning(TODAY, tree(orange()), weather=weather)) == ()


def test_a_typed_minimum_stands_for_tonight():
    (task,) = propose(morning(TODAY, potted(), typed_minimum_c=1.0))
    assert task.reason.fact("is_typed") is True
    warm = minima(TODAY, [0.0, 8.0, 8.0])
    assert propose(morning(TODAY, potted(), weather=warm, typed_minimum_c=9.0)) == ()


def test_a_cold_night_after_tomorrow_is_for_tomorrow():
    weather = minima(TODAY, [8.0, 8.0, 0.0])
    (task,) = propose(morning(TODAY, potted(), weather=weather))
    assert (task.due, task.latest) == (TODAY + timedelta(days=1),) * 2
    assert not task.is_urgent
    far = minima(TODAY, [8.0, 8.0, 8.0, -9.0])
    assert propose(morning(TODAY, potted(), weather=far)) == ()


@given(values=st.lists(st.floats(-40, 20), min_size=1, max_size=5))
@settings(max_examples=40)
def test_normals_never_alarm(values):
    weather = minima(TODAY, values, "n")
    assert propose(morning(TODAY, potted(), weather=weather)) == ()
    assert propose(morning(TODAY, tree(orange()), weather=weather)) == ()


def test_gaps_and_missing_weather_are_silent():
    assert propose(morning(TODAY, potted(), weather=minima(TODAY, [np.nan]))) == ()
    assert propose(morning(TODAY, potted())) == ()


def test_no_figure_no_proposal():
    kind = species(move_in_temp_c=None, damage_temp_mature_c=None, bloom=None)
    weather = minima(TODAY, [-40.0])
    assert propose(morning(TODAY, potted(kind), weather=weather)) == ()
    assert propose(morning(TODAY, tree(kind), weather=weather)) == ()


def test_unverified_figures_err_on_the_warm_side_and_say_so():
    doubtful = orange(unverified=frozenset({"move_in_temp_c"}))
    weather = minima(TODAY, [5.0])
    (task,) = propose(morning(TODAY, potted(doubtful), weather=weather))
    assert task.reason.fact("unverified") is True
    assert task.reason.fact("extra_margin_c") == 2.0
    assert propose(morning(TODAY, potted(), weather=weather)) == ()


def test_a_grown_trees_figure_is_unverified_for_a_young_one():
    kind = species("walnut", damage_temp_mature_c=-24.0, bloom=None)
    young = tree(kind, planted_on=date(2014, 3, 1))
    (task,) = propose(morning(TODAY, young, weather=minima(TODAY, [-21.0])))
    assert task.reason.fact("unverified") is True


def test_open_buds_decide_by_the_stage_seen():
    april = date(2014, 4, 20)
    weather = minima(april, [-1.0])
    (guess,) = propose(morning(april, weather=weather))
    assert guess.reason.fact("stage") == "by_month"
    # Penn State Extension: apple at silver tip bears 15 degF
    early = Observation(1, "bloom_stage", date(2014, 4, 15), word="silver_tip")
    assert propose(morning(april, weather=weather, observations=(early,))) == ()
    bloom = Observation(1, "bloom_stage", date(2014, 4, 18), word="full_bloom")
    (task,) = propose(morning(april, weather=weather, observations=(early, bloom)))
    assert task.reason.fact("figure") == "bud_stage"
    assert task.reason.fact("threshold_c") == -2.2
    over = Observation(1, "bloom_stage", date(2014, 4, 19), word="dormant")
    assert propose(morning(april, weather=weather, observations=(bloom, over))) == ()


def test_a_stage_without_a_table_uses_the_species_bloom_figure():
    april = date(2014, 4, 20)
    open_now = Observation(1, "bloom_stage", april, word="full_bloom")
    situation = morning(
        april, tree(orange()), weather=minima(april, [0.0]), observations=(open_now,)
    )
    (task,) = propose(situation)
    assert task.reason.fact("figure") == "bloom_damage_temp_c"
    without = replace(
        situation, tree=tree(orange(bloom_damage_temp_c=None, bloom=None))
    )
    assert propose(without) == ()


def test_a_tall_tree_is_watched_and_not_climbed():
    april = date(2014, 4, 20)
    tall = tree(height_m=5.0)
    (task,) = propose(morning(april, tall, weather=minima(april, [-3.0])))
    assert (task.action, task.reason.code) == ("check", "cold_too_tall_to_cover")
    assert "no_ladder_in_ice" in task.cautions


def test_a_cover_lasts_two_nights_and_a_skip_one_day():
    weather = minima(TODAY, [-9.0, -9.0, -9.0])
    for days, tasks in ((0, 0), (2, 0), (3, 1)):
        covered = WorkDone(1, "cold", "next", TODAY - timedelta(days=days))
        found = propose(
            morning(TODAY, tree(orange()), weather=weather, work=(covered,))
        )
        assert len(found) == tasks
    skipped = WorkDone(1, "cold", "next", TODAY, "skipped")
    situation = morning(TODAY, potted(), weather=weather, work=(skipped,))
    assert propose(situation) == ()
    yesterday = replace(skipped, on=TODAY - timedelta(days=1))
    assert len(propose(replace(situation, work=(yesterday,)))) == 1


def test_pots_go_out_once_the_nights_are_warm_and_frost_is_past():
    may = date(2014, 5, 20)
    inside = potted(place=Place.INDOORS_HEATED, stays=())
    inside = replace(inside, stays=(Stay(Place.INDOORS_HEATED, date(2013, 11, 1)),))
    warm = minima(may, [8.0] * 6)
    (task,) = propose(morning(may, inside, weather=warm))
    assert (task.action, task.is_urgent) == ("move_out", False)
    assert "harden_gradually" in task.cautions
    chilly = minima(may, [8.0, 8.0, 8.0, 3.0, 8.0, 8.0])
    assert propose(morning(may, inside, weather=chilly)) == ()
    assert propose(morning(may, inside, weather=minima(may, [8.0, 8.0]))) == ()
    moved = WorkDone(1, "cold", "next", may)
    assert propose(morning(may, inside, weather=warm, work=(moved,))) == ()


def test_a_pot_does_not_go_out_into_an_alarm_of_tomorrow():
    # Its open buds ring sooner than its roots; it would come in again the next day.
    april = date(2014, 4, 10)
    kind = species(bloom_damage_temp_c=-1.1, move_in_temp_c=-7.0)
    inside = potted(kind, Place.INDOORS_UNHEATED, stays=())
    inside = replace(inside, stays=(Stay(Place.INDOORS_UNHEATED, date(2013, 11, 1)),))
    for minimum_c in (-3.0, 0.0, 0.5, 1.0, 2.0, 4.0):
        night = minima(april, [minimum_c] * 6)
        out = propose(morning(april, inside, weather=night))
        outside = potted(kind)
        outside = replace(outside, stays=())
        back = propose(morning(april, outside, weather=night))
        assert not (out and back)
        assert bool(out) is (minimum_c >= 2.0)


def test_a_pot_brought_in_before_the_first_frost_stays_in():
    # Common practice, no source: not out again for a mild week so late in the year.
    october = date(2014, 10, 10)  # the first frost is usual on 10 November
    inside = potted(stays=())
    inside = replace(inside, stays=(Stay(Place.INDOORS_UNHEATED, date(2014, 10, 3)),))
    mild = minima(october, [9.0] * 6)
    assert propose(morning(october, inside, weather=mild)) == ()
    september = date(2014, 9, 5)
    inside = replace(inside, stays=(Stay(Place.INDOORS_UNHEATED, date(2014, 9, 1)),))
    (task,) = propose(morning(september, inside, weather=minima(september, [9.0] * 6)))
    assert task.action == "move_out"


@pytest.mark.parametrize(
    ("today", "is_covered"),
    [
        (date(2014, 3, 10), False),  # bare, eight weeks before the last frost
        (date(2014, 4, 20), True),
    ],
)
def test_bloom_by_month_waits_for_the_sites_own_spring(today, is_covered):
    # Penn State Extension: swollen peach buds bear -7.8 degC, open ones -2.8 degC; the
    # catalogue's February holds for warm climates only.
    peach = species(
        "peach",
        feed_group="stone",
        bloom=Span(2, 4),
        bloom_damage_temp_c=-2.8,
        damage_temp_mature_c=-25.0,
    )
    weather = minima(today, [-5.0, -5.0, -5.0])
    found = propose(morning(today, tree(peach, height_m=2.5), SHORT, weather=weather))
    assert [task.action for task in found] == (["cover"] if is_covered else [])
    warm = replace(SHORT, last_frost=None)
    early = propose(morning(today, tree(peach, height_m=2.5), warm, weather=weather))
    assert [task.action for task in early] == ["cover"]


def test_an_evergreen_in_winter_bloom_is_never_left_to_the_calendar():
    january = date(2014, 1, 15)
    loquat = orange(bloom=Span(10, 2), bloom_damage_temp_c=-2.8, leaf="evergreen")
    weather = minima(january, [-2.0])
    (task,) = propose(morning(january, tree(loquat), SHORT, weather=weather))
    assert task.action == "cover"


def test_tender_pots_stay_in_through_a_warm_winter_week():
    inside = potted(place=Place.INDOORS_UNHEATED)
    winter = date(2014, 12, 20)
    weather = minima(winter, [8.0] * 6)
    assert propose(morning(winter, inside, MILD, weather=weather)) == ()


def test_a_leaf_shedder_leaves_a_heated_room_for_its_chill():
    winter = date(2014, 12, 20)
    weather = minima(winter, [1.0] * 6)
    heated = potted(species(), Place.INDOORS_HEATED)
    (task,) = propose(morning(winter, heated, weather=weather))
    assert task.reason.code == "cold_move_out_for_chill"
    shed = potted(species(), Place.INDOORS_UNHEATED)
    assert propose(morning(winter, shed, weather=weather)) == ()


def test_pots_indoors_never_alarm():
    inside = potted(place=Place.INDOORS_HEATED)
    assert propose(morning(TODAY, inside, weather=minima(TODAY, [-20.0]))) == ()
    shelter = potted(place=Place.UNDER_COVER)
    (task,) = propose(morning(TODAY, shelter, weather=minima(TODAY, [-20.0])))
    assert task.action == "move_in"


def test_a_hardy_pot_huddles_on_a_freezing_night_before_it_must_come_in():
    # Common practice: pots close together by a warm wall; ours: 3 degF above the alarm
    hardy = potted(species(), container_litres=10.0)
    (task,) = propose(morning(TODAY, hardy, weather=minima(TODAY, [8.0, -4.5])))
    assert (task.key, task.action, task.is_urgent) == ("next/group", "group", False)
    assert task.due == task.latest == TODAY
    assert task.cautions == ("move_before_watering",)
    assert propose(morning(TODAY, hardy, weather=minima(TODAY, [8.0, -3.0]))) == ()
    tender = minima(TODAY, [8.0, 4.5])  # near its alarm, yet far from freezing
    assert propose(morning(TODAY, potted(), weather=tender)) == ()


def test_pots_huddle_once_a_winter():
    hardy, weather = potted(species()), minima(TODAY, [-4.5])
    for days, tasks in ((59, 0), (60, 1)):
        said = WorkDone(1, "cold", "next/group", TODAY - timedelta(days=days))
        found = propose(morning(TODAY, hardy, weather=weather, work=(said,)))
        assert len(found) == tasks


def test_a_huddled_pot_still_comes_in():
    said = WorkDone(1, "cold", "next/group", TODAY)
    cold_night = minima(TODAY, [-9.0])
    situation = morning(TODAY, potted(species()), weather=cold_night, work=(said,))
    assert [task.action for task in propose(situation)] == ["move_in"]


def test_the_evening_and_the_pocket_can_ring_where_the_forecast_does_not():
    site = replace(MILD, cold_pocket=ColdPocket(3.0, 8))
    weather = minima(TODAY, [9.0, 6.0])
    assert propose(morning(TODAY, potted(), weather=weather)) == ()
    (task,) = propose(morning(TODAY, potted(), site, weather=weather))
    assert task.reason.fact("pocket_c") == 3.0
    assert (task.reason.fact("told_c"), task.reason.fact("minimum_c")) == (6.0, 3.0)


@pytest.mark.parametrize(("minimum_c", "is_beyond"), [(-7.5, False), (-8.0, True)])
def test_a_night_too_cold_for_any_cover_is_told(minimum_c, is_beyond):
    # A medium row cover holds 6-8 degF, 4.4 degC at best; the orange bears -3.3
    (task,) = propose(
        morning(TODAY, tree(orange()), weather=minima(TODAY, [minimum_c]))
    )
    assert task.reason.fact("beyond_cover") is is_beyond


def test_soil_is_banked_round_young_citrus_only():
    night = minima(TODAY, [-9.0])
    for planted, banked in ((date(2013, 3, 1), True), (date(2010, 3, 1), False)):
        its_tree = tree(orange(), planted_on=planted)
        (task,) = propose(morning(TODAY, its_tree, weather=night))
        assert ("bank_young_citrus" in task.cautions) is banked


@pytest.mark.parametrize(
    ("minimum_c", "severity"), [(3.5, "watch"), (2.0, "warning"), (-1.0, "severe")]
)
def test_the_reason_says_how_bad_the_night_is(minimum_c, severity):
    weather = minima(TODAY, [minimum_c])
    (task,) = propose(morning(TODAY, potted(), weather=weather))
    assert task.reason.fact("severity") == severity
    assert task.reason.fact("practice_c") == 4.4  # growers' own figure, told beside it


def test_the_south_has_its_winter_in_july():
    july, south = date(2014, 7, 12), replace(SHORT, latitude_deg=-40.8)
    site = replace(south, last_frost=MonthDay(11, 5), first_frost=MonthDay(4, 5))
    mild = minima(july, [9.0] * 6)
    inside = potted(stays=(Stay(Place.INDOORS_UNHEATED, date(2014, 4, 1)),))
    assert propose(morning(july, inside, site, weather=mild)) == ()
    outside = potted(stays=())
    (task,) = propose(morning(july, outside, site, weather=minima(july, [1.0])))
    assert task.action == "move_in"
    january = date(2015, 1, 12)
    warm = minima(january, [9.0] * 6)
    (out,) = propose(morning(january, inside, site, weather=warm))
    assert out.reason.code == "cold_move_out"
    october = date(2014, 10, 20)
    its_tree = tree(height_m=2.0)
    (bloom,) = propose(
        morning(october, its_tree, site, weather=minima(october, [-3.0]))
    )
    assert bloom.reason.fact("stage") == "by_month"
