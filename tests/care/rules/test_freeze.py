"""Freeze: soil readied, ripe citrus picked, covers off again, damage waited out."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import Hold, HoldCause, Mulch, Place, Span, Stay, WorkDone
from care.rules import cold
from care.rules.freeze import propose
from care.science.frost import fahrenheit_to_c
from tests.care.rules.cases import (
    MILD,
    WARM,
    WARM_SOUTH,
    minima,
    morning,
    orange,
    outlook,
    species,
    tree,
)

TODAY = date(2014, 12, 12)
YESTERDAY = date(2014, 12, 11)
MULCH = Mulch("wood_chips", 80.0, date(2014, 5, 1), 1.0, 150.0)
RIPE = orange(harvest=Span(11, 6))


def days(count):
    return timedelta(days=count)


def spell(lows, first=YESTERDAY, tmax_c=15.0):
    """The day before today, which was mild, and forecasts from today on."""
    values = [8.0, *lows]
    return minima(first, values, "o" + "f" * len(lows), tmax_c=tmax_c)


def found(situation, key):
    return next((p for p in propose(situation) if p.key == f"next/{key}"), None)


def soil(its_tree=None, lows=(8.0, 8.0, -3.0), site=MILD, **more):
    its_tree = its_tree or tree(orange())
    weather = more.pop("weather", spell(lows))
    return found(morning(TODAY, its_tree, site, weather=weather, **more), "soil")


@pytest.mark.parametrize(
    ("lows", "due", "latest"),
    [
        # Forty-eight to twenty-four hours before the frost
        ((8.0, 8.0, 8.0, -3.0), 1, 2),
        ((8.0, 8.0, -3.0), 0, 1),
        ((8.0, -3.0), 0, 0),
        ((-3.0, -3.0), None, None),  # tonight: too late to ready anything
        ((8.0, 8.0, 8.0, 8.0, -3.0), None, None),
        ((8.0, -12.0), None, None),  # the soil's warmth saves nothing
    ],
)
def test_dry_soil_is_watered_a_day_or_two_ahead(lows, due, latest):
    task = soil(lows=lows)
    if due is None:
        assert task is None
    else:
        assert (task.due, task.latest) == (TODAY + days(due), TODAY + days(latest))
        assert (task.action, task.is_urgent) == ("ready_soil", False)
        assert "not_when_soil_wet" in task.cautions


@pytest.mark.parametrize(
    ("texture", "state", "is_asked"),
    [
        ("loam", {"missing_l": 4.0}, True),  # a fifth of the store
        ("loam", {"missing_l": 2.0}, False),
        ("clay", {"missing_l": 4.0}, False),  # clay that is moist is left alone
        ("clay", {"missing_l": 7.0}, True),
        ("loam", {"missing_l": 4.0, "is_saturated": True}, False),
        ("loam", {"missing_l": 4.0, "is_frozen": True}, False),
    ],
)
def test_wet_clay_and_frozen_soil_are_left_alone(texture, state, is_asked):
    site = replace(MILD, soil_texture=texture)
    assert bool(soil(site=site, water=outlook(store_l=20.0, **state))) is is_asked


def test_soil_is_readied_once_a_week_and_pots_have_none_to_ready():
    said = (WorkDone(1, "freeze", "next/soil", TODAY - days(6), "skipped"),)
    assert soil(work=said) is None
    assert soil(work=(replace(said[0], on=TODAY - days(7)),)) is not None
    assert soil(tree(orange(move_in_temp_c=-3.0), in_container=True)) is None


@pytest.mark.parametrize(
    ("changes", "wind_ms", "is_pulled"),
    [
        # LSU AgCenter: pull mulch back from young citrus before a frost of a calm night
        ({"planted_on": date(2013, 4, 1), "mulch": MULCH}, 1.0, True),
        ({"planted_on": date(2013, 4, 1), "mulch": MULCH}, 6.0, False),
        ({"planted_on": date(2013, 4, 1)}, 1.0, False),
        ({"mulch": MULCH}, 1.0, False),
        ({"mulch": MULCH, "planted_on": None}, 1.0, False),
    ],
)
def test_mulch_is_pulled_back_from_young_citrus_only(changes, wind_ms, is_pulled):
    weather = spell((8.0, 8.0, -3.0))
    weather = replace(weather, wind_ms=np.full(len(weather), wind_ms))
    task = soil(tree(orange(), **changes), weather=weather)
    assert task.reason.fact("pull_mulch") is is_pulled
    assert ("mulch_back_before_frost" in task.cautions) is is_pulled
    assert ("lsu_citrus_freeze" in task.sources) is is_pulled


def test_young_apples_keep_their_mulch():
    its_tree = tree(species(), planted_on=date(2013, 4, 1), mulch=MULCH)
    bloom = date(2014, 4, 20)
    weather = spell((8.0, 8.0, -3.0), bloom - days(1))
    task = found(morning(bloom, its_tree, weather=weather), "soil")
    assert task.reason.fact("pull_mulch") is False


def fruit(lows_f, its_tree=None, today=TODAY, site=WARM, tmax_c=8.0, **more):
    lows = [fahrenheit_to_c(low) for low in lows_f]
    weather = spell(lows, today - days(1), tmax_c)
    its_tree = its_tree or tree(RIPE)
    return found(morning(today, its_tree, site, weather=weather, **more), "fruit")


def test_ripe_citrus_is_picked_before_four_hours_below_28():
    # UF/IFAS: below 28 degF for four hours or more
    task = fruit([24, 40])
    assert (task.action, task.due, task.is_urgent) == ("pick_ripe", TODAY, True)
    assert task.reason.fact("hours_below") >= 4
    assert task.reason.fact("hours_needed") == 4.0
    assert {"waiting_days", "ladder", "look_for_wires"} <= set(task.cautions)
    assert fruit([29, 29]) is None
    tomorrow = fruit([40, 40, 24])
    assert (tomorrow.due, tomorrow.is_urgent) == (TODAY + days(1), False)


def test_a_short_dip_freezes_no_fruit_and_an_unknown_one_may():
    assert fruit([27.9], tmax_c=25.0) is None
    lonely = morning(TODAY, tree(RIPE), WARM, typed_minimum_c=fahrenheit_to_c(27))
    assert found(lonely, "fruit").reason.fact("hours_below") is None


def test_only_ripe_fruit_of_citrus_outdoors_is_picked_and_once():
    assert fruit([20], tree(orange(harvest=Span(3, 5)))) is None
    assert fruit([20], tree(species(harvest=Span(11, 6)))) is None
    assert fruit([20], tree(RIPE, in_container=True)) is None
    picked = (WorkDone(1, "freeze", "next/fruit", TODAY - days(3)),)
    assert fruit([20], work=picked) is None
    winter = date(2014, 7, 12)
    assert fruit([20], today=winter, site=WARM_SOUTH).action == "pick_ripe"


def test_no_fruit_is_picked_within_the_waiting_days_of_a_spray():
    held = Hold(1, HoldCause.SPRAY, YESTERDAY, TODAY, "oil")
    assert fruit([20], holds=(held,)) is None
    assert fruit([40, 40, 20], holds=(held,)).due == TODAY + days(1)


def uncover(lows, covered_ago=1, work=(), its_tree=None, weather=None, **more):
    covered = WorkDone(1, "cold", "next", TODAY - days(covered_ago))
    its_tree = its_tree or tree(orange(), height_m=2.0)
    weather = weather or spell(lows, **more)
    situation = morning(TODAY, its_tree, weather=weather, work=(covered, *work))
    return found(situation, "uncover")


@pytest.mark.parametrize(
    ("lows", "ahead"),
    [
        ((-5.0, 8.0), 0),  # the cold morning is over
        ((-5.0, -5.0, 8.0), 1),  # another is to come
        ((8.0, 8.0), 0),
    ],
)
def test_a_cover_comes_off_after_the_last_cold_morning(lows, ahead):
    task = uncover(lows)
    assert task.due == task.earliest == task.latest == TODAY + days(ahead)
    assert (task.action, task.is_urgent) == ("uncover", False)


def test_a_cover_stays_through_days_that_do_not_thaw():
    task = uncover((-8.0, 8.0), tmax_c=-1.0)
    assert task.due == TODAY + days(2)  # past the forecast nobody knows


def test_a_cover_just_laid_comes_off_tomorrow_and_the_day_does_not_run_away():
    assert uncover((8.0, 8.0), covered_ago=0).due == TODAY + days(1)
    past = minima(TODAY - days(6), [-5.0] + [8.0] * 7, "o" * 6 + "ff")
    assert uncover((), covered_ago=7, weather=past).due == TODAY - days(6)
    assert uncover((), covered_ago=5, weather=past).due == TODAY - days(4)


def test_a_cover_taken_off_forgotten_or_never_laid_is_not_asked_for():
    off = (WorkDone(1, "freeze", "next/uncover", TODAY - days(1)),)
    assert uncover((8.0,), covered_ago=2, work=off) is None
    # Off in the morning and on again before that night
    assert uncover((8.0,), covered_ago=1, work=off) is not None
    assert uncover((8.0,), covered_ago=31) is None
    assert uncover((8.0,), its_tree=tree(orange(), height_m=6.0)) is None
    assert uncover((8.0,), its_tree=tree(orange(), in_container=True)) is None
    skipped = (WorkDone(1, "cold", "next", TODAY, "skipped"),)
    assert found(morning(TODAY, tree(orange()), work=skipped), "uncover") is None


def test_a_cover_is_remembered_for_a_month():
    assert uncover((8.0,), covered_ago=30) is not None


def test_what_bears_any_cold_is_uncovered_the_day_after():
    nothing = tree(species(damage_temp_mature_c=None, bloom=None))
    assert uncover((-9.0, -9.0), its_tree=nothing).due == TODAY


def test_the_same_cold_covers_and_later_uncovers_under_two_names():
    its_tree = tree(orange(), height_m=2.0)
    cold_now = morning(TODAY, its_tree, weather=spell((-5.0, -5.0)))
    (cover,) = cold.propose(cold_now)
    assert (cover.kind, cover.key) == ("cold", "next")
    done = (WorkDone(1, cover.kind, cover.key, TODAY),)
    after = replace(cold_now, work=done)
    assert cold.propose(after) == ()
    assert found(after, "uncover").due == TODAY + days(1)


def look(today, frozen_on=TODAY, lowest=-6.0, work=(), its_tree=None):
    lows = [lowest] + [5.0] * ((today - frozen_on).days - 1)
    weather = minima(frozen_on, lows, "o")
    situation = morning(today, its_tree or tree(orange()), weather=weather, work=work)
    return found(situation, "damage")


def test_frozen_wood_waits_for_the_growth_that_tells_live_from_dead():
    # Citrus grows from February, after the last frost of 20 March; four weeks more
    soon = look(date(2014, 12, 20))
    assert (soon.is_firm, soon.earliest) == (False, date(2015, 4, 17))
    assert soon.reason.fact("no_pruning_until") == date(2015, 4, 17)
    assert soon.cautions == ("frozen_wood_stays",)
    near = look(date(2015, 4, 5))
    assert (near.is_firm, near.due, near.latest) == (
        True,
        date(2015, 4, 17),
        date(2015, 6, 16),
    )


def test_a_look_is_asked_once_and_for_cold_that_hurt():
    spring = date(2015, 4, 20)
    seen = (WorkDone(1, "freeze", "next/damage", date(2015, 4, 18)),)
    assert look(spring, work=seen) is None
    old = (WorkDone(1, "freeze", "next/damage", date(2014, 4, 18)),)
    assert look(spring, work=old) is not None
    assert look(spring, lowest=-3.0) is None


def test_a_look_ends_when_growth_has_long_told():
    seen_late = look(date(2015, 9, 20), frozen_on=date(2015, 4, 2))
    assert seen_late is None


def test_pots_indoors_ask_for_nothing():
    stays = (Stay(Place.INDOORS_HEATED, date(2014, 11, 1)),)
    inside = tree(RIPE, in_container=True, stays=stays)
    assert propose(morning(TODAY, inside, weather=spell((-9.0, -9.0)))) == ()


def test_normals_never_alarm():
    weather = minima(TODAY, [-9.0] * 4, "n")
    assert propose(morning(TODAY, tree(RIPE), weather=weather)) == ()
