"""What was learned of one tree, how far it reaches, and that it can be forgotten."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from care.facts import ColdPocket, Observation
from care.planning.gather import Records
from care.planning.learned import what_was_learned
from care.planning.species_facts import species_facts
from care.planning.stages import site_year, stages_by_tree
from tests.care.planning.test_stages import MODELLED, RECORD, SEATTLE
from tests.care.rules.cases import MILD, outlook, tree

TODAY = date(2014, 6, 1)
DAY = timedelta(days=1)
CHERRY = tree(species_facts("sweet_cherry"))
KIN = replace(CHERRY, id=2)
FAR = tree(species_facts("peach"), id=3)


def saw(what, on=TODAY, tree_id=1, **values):
    return Observation(tree_id, what, on, **values)


def bloomed(late, tree_id=1, years=(2013, 2014)):
    return [
        saw("bloom_stage", MODELLED[year] + late * DAY, tree_id, word="full_bloom")
        for year in years
    ]


def learned(*seen, trees=(CHERRY, KIN, FAR), tree_id=1, water=None, site=MILD):
    records = Records(
        site=site,
        trees=trees,
        weather=SEATTLE,
        work=(),
        observations=tuple(seen),
        holds=(),
        typed_minimum_c=None,
        revision=1,
        today=TODAY,
    )
    return what_was_learned(records, tree_id, water)


def test_nobody_taught_anything():
    found = learned()
    assert (found.demand, found.bloom, found.growth) == (None, None, None)
    assert (found.pocket, found.picked) == (None, None)


def test_a_trees_own_late_blooms_teach_more_warmth():
    found = learned(*bloomed(6)).bloom
    assert found.degree_hours > found.usual_hours
    assert (found.blooms, found.is_own) == (2, True)
    assert found.since == MODELLED[2013] + 6 * DAY


def test_a_tree_nobody_watched_shows_what_its_kind_taught_and_no_other_kind():
    found = learned(*bloomed(6, tree_id=2)).bloom
    assert (found.blooms, found.is_own) == (2, False)
    assert learned(*bloomed(6), tree_id=3).bloom is None


def test_forgotten_blooms_were_seen_but_teach_nothing():
    forgotten = [replace(each, is_forgotten=True) for each in bloomed(6)]
    assert learned(*forgotten).bloom is None
    plain, taught, forgot = (
        stages_by_tree(site_year(MILD, SEATTLE, TODAY), [CHERRY], {}, {1: seen})[1]
        for seen in ((), bloomed(6), forgotten)
    )
    next_year = [
        {each.on for each in found if (each.season, each.basis) == (2015, "heat")}
        for found in (plain, taught, forgot)
    ]
    assert next_year[0] == next_year[2] != next_year[1]
    seen = {each.on for each in forgot if each.basis == "seen"}
    assert MODELLED[2014] + 6 * DAY in seen


def test_blooms_before_the_record_teach_nothing_to_show():
    early = saw("bloom_stage", RECORD.start - 300 * DAY, word="full_bloom")
    assert learned(early).bloom is None


WORKING = {
    "demand_answers": 2,
    "demand_found": 1.6,
    "demand_factor": 1.4,
    "demand_spread": 0.1,
    "is_demand_trusted": False,
}


def test_thirst_counts_from_the_first_answer_that_was_not_forgotten():
    water = outlook(working=tuple(WORKING.items()))
    seen = [
        saw("soil_feel", TODAY - 9 * DAY, word="dry", is_forgotten=True),
        saw("soil_feel", TODAY - 5 * DAY, word="dry"),
        saw("soil_feel", TODAY - 7 * DAY, 2, word="dry"),
    ]
    found = learned(*seen, water=water).demand
    assert found.since == TODAY - 5 * DAY
    assert (found.factor, found.applied, found.answers) == (1.6, 1.4, 2)
    assert not found.is_trusted
    pair = tuple(replace(one, clump_id=7) for one in (CHERRY, KIN))
    shared = learned(*seen, trees=pair, water=water).demand
    assert shared.since == TODAY - 7 * DAY


@pytest.mark.parametrize(
    ("shoot_mm", "verdict"), [(150.0, "short"), (300.0, "in_band"), (700.0, "long")]
)
def test_the_last_shoots_stand_against_the_band_of_their_kind(shoot_mm, verdict):
    seen = saw("shoot_growth_mm", TODAY - 30 * DAY, value=shoot_mm)
    found = learned(seen).growth
    assert (found.verdict, found.shoot_mm) == (verdict, shoot_mm)
    assert found.low_mm < 300 < found.high_mm


def test_the_cold_of_the_place_is_shown_on_each_of_its_trees():
    site = replace(MILD, cold_pocket=ColdPocket(1.5, 6))
    assert learned(site=site).pocket == learned(site=site, tree_id=2).pocket


def test_pickings_are_summed_by_season():
    # A season runs from November; June 2014 and July 2013 are of two.
    seen = [
        saw("harvest", TODAY, value=2.0),
        saw("harvest", TODAY - 3 * DAY, value=1.5),
        saw("harvest", TODAY - 330 * DAY, value=4.0),
        saw("harvest", TODAY - 900 * DAY, value=9.0),
    ]
    found = learned(*seen).picked
    assert (found.this_kg, found.last_kg, found.days) == (3.5, 4.0, 3)
    assert learned(seen[-1]).picked is None
