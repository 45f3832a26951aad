"""Stages of the year by species, over all trees of a site."""

from dataclasses import replace
from datetime import date

from care.facts import Observation, Stage
from care.planning.gather import Records
from care.planning.species_facts import species_facts
from care.planning.stages_by_species import StageSpan, stages_by_species
from tests.care.rules.cases import MILD, tree

TODAY = date(2014, 6, 1)
APPLES = [tree(species_facts("apple"), id=number) for number in (1, 2, 3)]


def records(trees, observations=()):
    return Records(
        site=MILD,
        trees=tuple(trees),
        weather=None,
        work=(),
        observations=tuple(observations),
        holds=(),
        typed_minimum_c=None,
        revision=1,
        today=TODAY,
    )


def saw(tree_id, on):
    return Observation(tree_id, "bloom_stage", on, word="full_bloom")


def test_the_best_known_days_make_the_span():
    seen = (saw(1, date(2014, 4, 10)), saw(2, date(2014, 4, 14)))
    (apple,) = stages_by_species(records(APPLES, seen))
    assert apple.name == "Apple"
    assert apple.stages[Stage.FULL_BLOOM] == StageSpan(
        date(2014, 4, 10), date(2014, 4, 14), "seen"
    )
    assert apple.stages[Stage.BUD_BREAK].basis == "months"


def test_species_stand_by_name_and_planned_trees_are_left_out():
    lemon = tree(species_facts("lemon"), id=8)
    planned = tree(species_facts("fig"), id=9, planted_on=date(2014, 11, 1))
    found = stages_by_species(records([lemon, planned, *APPLES]))
    assert [kind.name for kind in found] == ["Apple", "Lemon"]
    assert Stage.LEAF_DROP not in found[1].stages


def test_without_trees_there_is_nothing():
    assert stages_by_species(replace(records([]), revision=2)) == []
