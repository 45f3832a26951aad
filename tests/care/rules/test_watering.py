"""What is proposed from an outlook: days, litres, doubts, and when nothing is."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, strategies as st

from care.facts import WorkDone
from care.planning.simulate import simulate_water
from care.rules.watering import KIND, poured_litres, propose
from tests.care.planning.water_cases import (
    CLAY,
    SITE,
    new_apple,
    old_apple,
    pot,
    watered,
    weather,
)
from tests.care.rules.cases import minima, morning
from tests.care.rules.watering_cases import outlook

JULY = date(2014, 7, 10)


def situation(water, its_tree=None, **more):
    more.setdefault("work", (watered(new_apple(), JULY - timedelta(days=1), 2.0),))
    return morning(JULY, its_tree or new_apple(), SITE, water=water, **more)


def proposed(water, its_tree=None, **more):
    found = propose(situation(water, its_tree, **more))
    return {proposal.key: proposal for proposal in found}


def test_the_next_watering():
    task = proposed(outlook())["next"]
    assert (task.kind, task.action, task.unit) == (KIND, "water", "L")
    assert task.earliest == date(2014, 7, 11)
    assert task.due == date(2014, 7, 12)
    assert task.latest == date(2014, 7, 14)
    assert task.likely == (date(2014, 7, 12), date(2014, 7, 12), date(2014, 7, 13))
    assert task.amount == 2.5
    assert task.is_firm
    assert not task.is_urgent


def test_the_reason_shows_its_working():
    reason = proposed(outlook(), weather=weather(JULY))["next"].reason
    assert reason.code == "water_new"
    assert reason.fact("litres_per_day") == 0.6
    assert reason.fact("et0_mm") == 4.1
    assert reason.fact("kc") == 0.9
    assert reason.fact("crown_area_m2") == 0.5
    assert reason.fact("threshold_l") == 1.65
    assert reason.fact("depth_mm") == pytest.approx(6.333)
    assert reason.fact("method") == "hargreaves"
    assert reason.fact("method_may_run_low")
    assert reason.fact("source_kind") == "forecast"
    assert reason.fact("soil_texture") == "loam"
    assert {"rain", "soil_feel", "watering_logged"} <= set(reason.would_change)


def test_later_waterings_are_projections():
    found = proposed(outlook())
    assert list(found) == ["next", "later/1", "later/2"]
    assert not found["later/1"].is_firm
    assert found["later/1"].due == date(2014, 7, 15)
    assert found["later/2"].amount == 2.5  # 2.1 / 0.9, to the next half litre


@pytest.mark.parametrize(
    "changes",
    [
        {"is_frozen": True},
        {"is_saturated": True, "earliest_in_days": 0, "due_in_days": 0},
        {"due_in_days": None},
    ],
)
def test_no_watering_on_frozen_or_full_soil_or_without_need(changes):
    water = outlook(is_established=True, **changes)
    assert propose(situation(water)) == ()


def test_full_ground_is_left_alone_and_a_full_pot_waits():
    full = outlook(is_saturated=True, likely_in_days=(9, 9, 12), due_in_days=9)
    assert not proposed(full)["next"].is_firm
    assert "next/check" not in proposed(full)
    assert proposed(replace(full, is_container=True))["next"].is_firm


def test_nothing_without_an_outlook():
    assert propose(situation(None)) == ()


def test_a_far_need_is_only_likely():
    far = outlook(
        earliest_in_days=20,
        due_in_days=30,
        latest_in_days=None,
        likely_in_days=(22, 30, None),
        is_established=True,
        later_in_days=(),
        later_net_l=(),
    )
    task = proposed(far)["next"]
    assert not task.is_firm
    assert task.likely == (date(2014, 8, 1), date(2014, 8, 9), None)
    assert task.latest == task.due
    assert proposed(replace(far, due_in_days=13))["next"].is_firm
    soon = replace(far, earliest_in_days=7)
    assert proposed(soon)["next"].is_firm
    assert not proposed(replace(soon, due_in_days=47))["next"].is_firm


def test_stress_is_urgent_unless_nobody_has_spoken():
    dry = outlook(earliest_in_days=0, due_in_days=0, stress_ks=0.6)
    assert proposed(dry)["next"].is_urgent
    silent = proposed(replace(dry, unknown_water_days=20))["next"]
    assert not silent.is_urgent
    assert "feel_soil_first" in silent.cautions
    assert silent.reason.fact("unknown_water_days") == 20


@pytest.mark.parametrize(("days", "is_unknown"), [(7, False), (8, True)])
def test_after_a_week_without_a_word_the_soil_is_felt_before_alarm_is_raised(
    days, is_unknown
):
    dry = outlook(earliest_in_days=0, due_in_days=0, stress_ks=0.6)
    task = proposed(replace(dry, unknown_water_days=days))["next"]
    assert ("feel_soil_first" in task.cautions) is is_unknown
    assert task.is_urgent is not is_unknown


@pytest.mark.parametrize(("due_days", "is_firm"), [(30, True), (31, False)])
def test_nobody_is_asked_firmly_for_more_than_a_month_ahead(due_days, is_firm):
    soon = outlook(earliest_in_days=7, due_in_days=due_days, latest_in_days=None)
    assert proposed(soon)["next"].is_firm is is_firm


def test_a_young_tree_is_felt_after_a_week():
    # A week without a soaking rain of 12.7 mm: UF/IFAS Citrus REC, home citrus.
    calm = outlook(due_in_days=16, latest_in_days=20, earliest_in_days=8)
    week_ago = (watered(new_apple(), JULY - timedelta(days=7), 2.0),)
    check = proposed(calm, work=week_ago)["next/check"]
    assert (check.action, check.due, check.is_firm) == ("check", JULY, True)
    assert check.reason.fact("days_since_word") == 7
    fresh = proposed(calm)["next/check"]
    assert fresh.due == JULY + timedelta(days=6)
    start = JULY - timedelta(days=10)
    rained = minima(start, [12.0] * 20, rain_mm=2.0)
    assert "next/check" not in proposed(calm, work=week_ago, weather=rained)
    settled = replace(calm, is_established=True)
    assert "next/check" not in proposed(settled, work=week_ago)
    assert "next/check" not in proposed(replace(calm, is_dormant=True), work=week_ago)
    assert "next/check" not in proposed(outlook(), work=week_ago)


def test_feeling_the_soil_buys_another_week():
    calm = outlook(due_in_days=16, latest_in_days=20, earliest_in_days=8)
    checked = WorkDone(2, KIND, "next/check", JULY)
    check = proposed(calm, work=(checked,))["next/check"]
    assert check.due == JULY + timedelta(days=7)


def test_pots_warn_of_their_limits_and_their_weight():
    small = outlook(is_container=True, needs_twice_daily=True, pot_too_small=True)
    task = proposed(small, pot(container_litres=55.0))["next"]
    assert {"check_twice_daily", "pot_too_small", "lifting_after_watering"} <= set(
        task.cautions
    )
    assert task.reason.code == "water_pot"
    assert "pot_moved" in task.reason.would_change
    light = proposed(outlook(is_container=True), pot(container_litres=9.0))["next"]
    assert "lifting_after_watering" not in light.cautions


def test_hot_days_and_slow_soils_are_cautioned():
    hot = minima(JULY, [18.0] * 10, tmax_c=34.0)
    assert "heat_work_early" in proposed(outlook(), weather=hot)["next"].cautions
    mild = minima(JULY, [18.0] * 10, tmax_c=24.0)
    assert "heat_work_early" not in proposed(outlook(), weather=mild)["next"].cautions
    # 60 L on 3 m2 are 20 mm: within an hour on sand, not on clay (1 mm/h).
    much = outlook(is_established=True, water_gross_l=60.0, basin_area_m2=3.0)
    slow = propose(replace(situation(much), site=CLAY))[0]
    fast = propose(replace(situation(much), site=replace(SITE, soil_texture="sand")))[0]
    assert "pour_in_portions" in slow.cautions
    assert "pour_in_portions" not in fast.cautions


@pytest.mark.parametrize(
    ("litres", "poured"),
    [(0.52, 0.6), (1.999, 2.0), (2.11, 2.5), (9.9, 10.0), (12.2, 13.0), (203.4, 205.0)],
)
def test_litres_as_a_person_measures_them(litres, poured):
    assert poured_litres(litres) == poured


@given(st.floats(0, 2000))
def test_rounding_never_takes_water_away(litres):
    assert litres - 1e-6 <= poured_litres(litres) <= litres + 5


def from_record(tree, today, work=()):
    water = simulate_water(SITE, [tree], weather(today), work, [], today)[tree.id]
    return propose(
        morning(today, tree, SITE, weather=weather(today), water=water, work=work)
    )


def test_a_ticked_task_is_followed_by_the_next_one():
    for tree in (new_apple(crown_width_m=1.5), pot()):
        task = from_record(tree, JULY)[0]
        assert (task.key, task.due) == ("next", JULY)
        done = watered(tree, JULY, task.amount)
        follower = from_record(tree, JULY, (done,))[0]
        assert follower.key == "next"
        assert follower.earliest > JULY
        assert follower.is_firm


def test_an_old_tree_is_left_alone_in_a_wet_winter():
    assert from_record(old_apple(), date(2014, 1, 31)) == ()
