"""What a watering tells of minutes, heat, salt, wet places and what was learned."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from care.facts import Place, Stay
from care.planning.simulate import simulate_water
from care.rules.watering import propose
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
DUE = JULY + timedelta(days=2)


def task(water, its_tree=None, site=SITE, **more):
    found = propose(morning(JULY, its_tree or new_apple(), site, water=water, **more))
    return next(proposal for proposal in found if proposal.key == "next")


def test_minutes_are_told_where_the_flow_was_timed():
    water = outlook(water_gross_l=95.0, basin_area_m2=3.0)
    timed = task(water, site=replace(SITE, hose_flow_l_per_min=12.0))
    assert timed.reason.fact("minutes") == pytest.approx(95 / 12, abs=0.001)
    assert timed.reason.fact("cycles") == 1
    assert "flow_timed" not in timed.reason.would_change
    assert timed.effort_minutes == 4 + 8
    dripped = task(water, old_apple(drip_flow_l_per_min=1.0))
    assert dripped.reason.fact("flow") == "drip"
    assert dripped.reason.fact("cycles") == 4
    assert dripped.reason.fact("soak_minutes") == pytest.approx(30, abs=1)
    assert "pour_in_portions" in dripped.cautions


def test_without_a_flow_a_bucket_is_asked_for():
    asked = task(outlook())
    assert asked.reason.fact("minutes") is None
    assert "flow_timed" in asked.reason.would_change


def test_a_pot_in_heat_is_flagged_where_it_stands_in_the_sun():
    # Rutgers FS812: media in a container can exceed 120 degF (49 degC).
    hot = minima(JULY, [18.0] * 10, tmax_c=34.0)
    mild = minima(JULY, [18.0] * 10, tmax_c=24.0)
    potted = outlook(is_container=True)
    flagged = task(potted, pot(), weather=hot)
    assert "hot_pot" in flagged.cautions
    assert "rutgers_fs812" in flagged.sources
    assert "hot_pot" not in task(potted, pot(), weather=mild).cautions
    inside = pot(stays=(Stay(Place.INDOORS_UNHEATED, date(2014, 6, 1)),))
    assert "hot_pot" not in task(potted, inside, weather=hot).cautions
    assert "hot_pot" not in task(outlook(), weather=hot).cautions
    unknown = task(potted, pot(), weather=minima(JULY, [18.0], tmax_c=34.0))
    assert "hot_pot" not in unknown.cautions


def test_salty_water_and_a_wet_hole_are_cautioned():
    salty = replace(SITE, is_water_salty=True)
    assert "salty_water" in task(outlook(), site=salty).cautions
    assert "salty_water" not in task(outlook()).cautions
    wet = outlook(notes=("drains_too_slowly",))
    assert "drowns_easily" in task(wet).cautions
    assert "drowns_easily" not in task(outlook()).cautions


def test_a_demand_beyond_belief_asks_for_crown_pot_and_flow():
    doubtful = outlook(notes=("demand_out_of_range",), is_container=True)
    changes = task(doubtful, pot()).reason.would_change
    assert {"crown_measured", "pot_measured", "flow_timed"} <= set(changes)
    assert "pot_measured" not in task(outlook(is_container=True)).reason.would_change


def test_the_stored_reason_carries_what_went_into_the_numbers():
    today = JULY
    work = [watered(pot(), today - timedelta(days=1), 30.0)]
    water = simulate_water(SITE, [pot()], weather(today), work, [], today)[3]
    reason = task(water, pot()).reason
    assert reason.fact("store_kind") == "pot"
    assert reason.fact("pot_l") == 55.0
    assert reason.fact("leaching_fraction") == 0.15
    assert reason.fact("kc_table_mid") == 0.65
    assert reason.fact("season_stage") == "middle"
    assert reason.fact("demand_factor") == 1.0
    names = [name for name, _value in reason.facts]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("due_in_days", [0, 2, 20])
def test_a_grown_tree_that_the_water_table_feeds_is_left_alone(due_in_days):
    fed = outlook(
        notes=("water_table_within_reach",),
        is_established=True,
        earliest_in_days=0,
        due_in_days=due_in_days,
        latest_in_days=None,
    )
    assert propose(morning(JULY, old_apple(), SITE, water=fed)) == ()
    assert propose(morning(JULY, old_apple(), SITE, water=replace(fed, notes=())))


def test_nothing_is_poured_on_saturated_clay_however_dry_it_was_reckoned():
    march = date(2014, 3, 10)
    tree = old_apple()
    water = simulate_water(CLAY, [tree], weather(march), [], [], march)[tree.id]
    assert water.is_saturated
    found = propose(morning(march, tree, CLAY, water=water))
    assert not any(proposal.is_firm for proposal in found)
