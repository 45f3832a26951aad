"""Distances from septic fields, walls, wires and paving against published ones."""

from dataclasses import replace

import pytest
import shapely
from hypothesis import given, strategies as st

from care.facts import FeatureKind, Standing
from care.science.clearances import clearance_conflicts, distances_m, shape_of
from care.science.planting import FOOT_M
from tests.care.rules.cases import species
from tests.care.science.layouts import feature, layout, plant, plants, turned

HOUSE = feature(FeatureKind.BUILDING, (0, 0), (8, 0), (8, 6), (0, 6))


def codes(*things, **more):
    plan = layout(*things)
    found = clearance_conflicts(plan.plants, plan.features, **more)
    return [conflict.code for conflict in found]


def a_tree(x_m, y_m=0.0, **changes):
    return plant(1, place_m=(x_m, y_m), **changes)


@pytest.mark.parametrize(
    ("height_ft", "least_ft"),
    # Vectors P1 and P2: max(mature height, 25 ft); NC Cooperative Extension, Chatham.
    [(30, 30), (15, 25), (None, 25)],
)
def test_a_septic_field_is_kept_as_far_as_the_tree_grows_high(height_ft, least_ft):
    field = feature(FeatureKind.SEPTIC, (0, -5), (0, 5), (-10, 5), (-10, -5))
    height_m = height_ft and height_ft * FOOT_M
    near = a_tree((least_ft - 0.1) * FOOT_M, grown_height_m=height_m)
    far = a_tree((least_ft + 0.1) * FOOT_M, grown_height_m=height_m)
    (found,) = clearance_conflicts([near], [field])
    assert found.code == "near_septic"
    assert found.least_m == pytest.approx(least_ft * FOOT_M)
    assert found.distance_m == pytest.approx((least_ft - 0.1) * FOOT_M)
    assert clearance_conflicts([far], [field]) == ()


@pytest.mark.parametrize(
    ("kind", "height_ft", "least_ft", "code"),
    # takingroot.info: 10 ft up to 40 ft of height, 15 ft above; paving and pipes 5 ft.
    [
        (FeatureKind.WALL, 40, 10, "near_wall"),
        (FeatureKind.WALL, 41, 15, "near_wall"),
        (FeatureKind.BUILDING, 41, 15, "near_building"),
        (FeatureKind.BUILDING, None, 10, "near_building"),
        (FeatureKind.PAVING, 20, 5, "near_paving"),
        (FeatureKind.PIPE, 20, 5, "near_pipe"),
    ],
)
def test_walls_paving_and_pipes_are_kept_at_the_published_distance(
    kind, height_ft, least_ft, code
):
    points = [(0, -5), (0, 5), (-1, 5)]
    thing = feature(kind, *points)
    height_m = height_ft and height_ft * FOOT_M
    near = a_tree((least_ft - 0.1) * FOOT_M, grown_height_m=height_m)
    far = a_tree((least_ft + 0.1) * FOOT_M, grown_height_m=height_m)
    assert codes(near, thing) == [code]
    assert codes(far, thing) == []


def test_bushes_need_room_for_their_crown_alone_and_vines_none_from_a_wall():
    # Half of 1.5 m.
    bush = {"kind": "blueberry_highbush"}
    assert codes(plant(1, place_m=(8.7, 3), **bush), HOUSE) == ["near_building"]
    assert codes(plant(1, place_m=(8.8, 3), **bush), HOUSE) == []
    assert codes(plant(1, "grape", place_m=(8.1, 3)), HOUSE) == []
    pipe = feature(FeatureKind.PIPE, (0, -5), (0, 5))
    assert codes(plant(1, place_m=(1.4, 0), **bush), pipe) == ["near_pipe"]


@pytest.mark.parametrize(
    ("height_ft", "aside_ft", "wire_ft", "is_told"),
    [
        # takingroot.info: under lines only what stays at or below 25 ft.
        (25, 0, None, False),
        (26, 0, None, True),
        (None, 0, None, True),
        # 29 CFR 1910.269: branches and who prunes them 10 ft away.
        (26, 9.9, None, True),
        (26, 10.1, None, False),
        (20, 0, 29, True),
        (20, 0, 31, False),
        (20, 9, 21, True),
        (20, 10.1, 10, False),
        # Above 25 ft no height of wires helps.
        (60, 0, 200, True),
    ],
)
def test_wires_are_kept_by_height_and_by_ten_feet(
    height_ft, aside_ft, wire_ft, is_told
):
    wires = feature(
        FeatureKind.WIRES, (0, -50), (0, 50), height_m=wire_ft and wire_ft * FOOT_M
    )
    radius_ft = 2.5 / FOOT_M
    some = a_tree(
        (aside_ft + radius_ft) * FOOT_M,
        grown_height_m=height_ft and height_ft * FOOT_M,
        grown_spread_m=5.0,
    )
    assert codes(some, wires) == (["near_wires"] if is_told else [])


def test_what_has_no_height_at_all_is_held_to_the_stricter_side():
    wires = feature(FeatureKind.WIRES, (0, -5), (0, 5), height_m=30.0)
    nameless = a_tree(0, grown_height_m=None, species=species(mature_height_m=None))
    assert codes(nameless, wires) == ["near_wires"]


def test_a_pot_answers_for_the_boundary_alone():
    pot = a_tree(8.5, 3.0, in_container=True)
    garden = feature(FeatureKind.BOUNDARY, (0, 0), (8, 0), (8, 6), (0, 6), id=2)
    pond = feature(FeatureKind.WATER, (8, 2), (9, 2), (9, 4), id=3)
    assert codes(pot, HOUSE, pond, water_setback_m=5.0) == []
    (found,) = clearance_conflicts([pot], [garden])
    assert (found.code, found.whom) == ("outside_boundary", "feature-2")
    assert found.distance_m == pytest.approx(0.5)
    assert codes(a_tree(8.0, 3.0), garden) == []


def test_water_is_no_place_for_a_tree_and_a_local_rule_keeps_feeding_from_it():
    pond = feature(FeatureKind.WATER, (0, 0), (4, 0), (4, 4), (0, 4))
    assert codes(a_tree(2, 2), pond) == ["in_water"]
    assert codes(a_tree(6, 2), pond) == []
    assert codes(a_tree(6, 2), pond, water_setback_m=3.0) == ["within_setback"]
    assert codes(a_tree(8, 2), pond, water_setback_m=3.0) == []


def test_neighbours_trees_taps_and_room_are_not_judged():
    tap = feature(FeatureKind.TAP, (1, 1))
    room = feature(FeatureKind.FREE, (0, 0), (4, 0), (4, 4))
    assert codes(a_tree(1, 1), tap, room) == []
    assert codes(a_tree(1, 1, standing=Standing.NEIGHBOUR), HOUSE) == []
    assert codes(plant(1, place_m=None), HOUSE) == []
    assert codes(HOUSE) == []
    assert clearance_conflicts([a_tree(1, 1)], []) == ()


def test_distances_are_those_measured_by_hand():
    # From beyond a corner the diagonal counts, inside nothing.
    at = [a_tree(11, 10), a_tree(4, 9), a_tree(1, 1)]
    assert distances_m(at, [HOUSE])[:, 0].tolist() == pytest.approx([5, 3, 0])
    assert isinstance(shape_of(HOUSE), shapely.Polygon)
    line = replace(HOUSE, points_m=((0, 0), (1, 0)))
    assert isinstance(shape_of(line), shapely.LineString)


@given(plants(), st.integers(0, 359), st.integers(-50, 50))
def test_turning_and_shifting_the_page_changes_nothing(some, turn, shift):
    wires = feature(FeatureKind.WIRES, (-3, 5.003), (30, 9.1), id=2)
    plan = layout(*some, HOUSE, wires)
    other = turned(plan, turn, (shift, 3.0))
    here, there = (
        [
            (found.code, found.who)
            for found in clearance_conflicts(each.plants, each.features)
        ]
        for each in (plan, other)
    )
    assert here == there
