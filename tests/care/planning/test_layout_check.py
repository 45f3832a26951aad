"""What is found on a plan, in which order, and that only the garden decides it."""

from dataclasses import replace

import pytest
from hypothesis import given, strategies as st

from care.facts import ClumpFacts, FeatureKind, Standing
from care.planning.layout_check import WEIGHT, layout_check
from tests.care.science.layouts import feature, layout, plant, plants, turned

HOUSE = feature(FeatureKind.BUILDING, (-3, -3.003), (5, -3.1), (5, -9))


def told(plan, **more):
    return [
        (found.code, found.who, found.whom)
        for found in layout_check(plan, **more).conflicts
    ]


def test_what_can_hurt_comes_first_and_taste_last():
    wires = feature(FeatureKind.WIRES, (0, 20), (9, 20), id=2)
    pond = feature(FeatureKind.WATER, (30, 0), (40, 0), (40, 9), id=3)
    hedge = ClumpFacts(1, "Low hedge", is_hedge=True, height_limit_m=1.0)
    plan = layout(
        plant(1, "pecan", place_m=(4.0, 20.0)),
        plant(2, place_m=(28.0, 0.0)),
        plant(3, place_m=(28.0, 4.8)),
        plant(4, "grape", place_m=(50.0, 0.0), clump=hedge),
        plant(5, "grape", place_m=(50.5, 0.0), clump=hedge),
        wires,
        pond,
    )
    assert told(plan, water_setback_m=3.0) == [
        ("near_wires", "ours-1", "feature-2"),
        ("within_setback", "ours-2", "feature-3"),
        ("crowns_meet", "ours-2", "ours-3"),
    ]
    assert layout_check(plan).accepted == (hedge,)
    assert len(set(WEIGHT)) == len(WEIGHT)


def test_an_empty_plan_has_nothing_wrong():
    assert told(layout()) == []
    assert told(layout(plant(1, place_m=None), HOUSE)) == []


@given(plants(most=4), st.integers(0, 359), st.randoms())
def test_only_the_garden_decides_not_the_page_nor_the_order(some, turn, chance):
    plan = layout(*some, HOUSE, up_bearing_deg=33.0)
    shuffled = list(some)
    chance.shuffle(shuffled)
    here = told(plan)
    assert told(replace(plan, plants=tuple(shuffled))) == here
    moved = turned(plan, turn, (3.0, -8.0))
    # Shade goes by quarters of an hour, which a rounding may tip either way.
    assert _without_shade(told(moved)) == _without_shade(here)


def _without_shade(rows):
    return [row for row in rows if row[0] != "shading"]


@pytest.mark.parametrize("standing", list(Standing))
def test_every_conflict_has_its_weight_and_a_source(standing):
    near = plant(2, "pecan", place_m=(0.4, -2.6), standing=standing)
    check = layout_check(layout(plant(1), near, HOUSE, latitude_deg=47.6))
    assert {found.code for found in check.conflicts} <= set(WEIGHT)
    assert check.conflicts
    assert all(found.sources for found in check.conflicts)
