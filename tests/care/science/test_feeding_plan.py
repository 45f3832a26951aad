"""One tree's nitrogen for a season, and its working."""

from dataclasses import replace
from datetime import date

import pytest

from care.facts import NitrogenAdvice, Observation, SoilTest, WorkDone
from care.science.feeding_plan import (
    dose_facts,
    feeding_plan,
    ladder_beside,
    ladder_facts,
    rest_reason,
)
from tests.care.rules.cases import MILD, WARM, morning, orange, outlook, species, tree

SPRING = date(2014, 3, 10)


def shoots(mm):
    return (Observation(1, "shoot_growth_mm", date(2013, 10, 1), mm),)


def test_every_share_holds_the_season_down():
    half = SoilTest(date(2013, 9, 1), nitrogen=NitrogenAdvice.HALF)
    situation = morning(
        SPRING,
        site=replace(MILD, soil_test=half),
        observations=shoots(250.0),
        clump_mates=(2,),
    )
    plan = feeding_plan(situation, 2014)
    assert plan.total_g == pytest.approx(200 / 2 / 2 / 2)
    assert plan.split_g == plan.total_g
    facts = dict(dose_facts(situation, plan, plan.split_g))
    assert (facts["growth_share"], facts["tested_share"]) == (0.5, 0.5)
    assert (facts["clump_size"], facts["soil_share"]) == (2, 1.0)


def test_what_was_given_stands_in_the_plan():
    work = (WorkDone(1, "feeding", "2014/1", SPRING, amount=80.0),)
    assert feeding_plan(morning(SPRING, work=work), 2014).given_g == 80.0


def test_a_crown_guessed_for_watering_is_shown_and_decides_nothing():
    unmeasured = tree(crown_width_m=None, planted_on=date(2009, 3, 1))
    plan = feeding_plan(
        morning(SPRING, unmeasured, water=outlook(crown_area_m2=4.0)), 2014
    )
    assert (plan.canopy_m2, plan.nitrogen.basis) == (4.0, "years")


def test_no_plan_without_a_figure():
    unsized = tree(species(mature_spread_m=None), planted_on=None)
    assert feeding_plan(morning(SPRING, unsized), 2014) is None


def test_what_a_person_can_change_is_the_first_reason_to_rest():
    none = SoilTest(date(2013, 9, 1), nitrogen=NitrogenAdvice.NONE)
    hard = (WorkDone(1, "pruning", "2014/1", date(2014, 2, 1), amount=0.5),)
    close = tree(water_distance_m=1.0)
    near = replace(MILD, water_setback_m=3.0, soil_test=none)
    all_of_it = morning(SPRING, close, near, work=hard, observations=shoots(900.0))
    assert rest_reason(all_of_it, 2014) == "near_water"
    far = replace(all_of_it, tree=tree())
    assert rest_reason(far, 2014) == "soil_test"
    untested = replace(far, site=MILD)
    assert rest_reason(untested, 2014) == "pruned"
    assert rest_reason(replace(untested, work=()), 2014) == "growth"
    assert rest_reason(morning(SPRING), 2014) == ""


def test_kinds_renewed_by_hard_pruning_are_fed_all_the_same():
    hard = (WorkDone(1, "pruning", "2014/1", date(2014, 2, 1), amount=0.8),)
    for kind in (species("grape", habit="vine"), species("peach", feed_group="stone")):
        assert rest_reason(morning(SPRING, tree(kind), work=hard), 2014) == ""


def test_no_yardstick_for_pots_and_trees_of_unknown_age_or_yet_to_be_planted():
    assert ladder_beside(morning(SPRING)).source == "ncsu_fert"
    for changes in (
        {"planted_on": None},
        {"planted_on": date(2014, 11, 1)},
        {"in_container": True, "container_litres": 30.0},
    ):
        assert ladder_beside(morning(SPRING, tree(**changes))) is None
    assert ladder_facts(None) == ()


def test_citrus_on_sand_and_on_loam_stand_beside_their_own_tables():
    sand = ladder_beside(morning(SPRING, tree(orange()), WARM))
    loam = ladder_beside(morning(SPRING, tree(orange()), MILD))
    assert (sand.source, loam.source) == ("uf_hs132_citrus", "uc_ipm_citrus")
