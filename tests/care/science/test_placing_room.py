"""Where a tree may stand at all: within what is marked, away from what is there."""

import pytest
import shapely

from care.science.placing_room import LEAST_FROM_BOUNDARY_M, open_ground, room_for
from tests.care.science.placing_cases import box, feature, free, layout, wanted


def test_room_is_what_is_marked_within_the_boundary():
    within = feature(2, "boundary", box(0.0, 0.0, 4.0, 10.0))
    assert shapely.area(open_ground(layout(free(6.0, 5.0), within))) == 20.0
    assert shapely.area(open_ground(layout(within))) == 40.0
    assert open_ground(layout()) is None
    assert shapely.is_empty(room_for(wanted(1), layout()).area)


def test_outlines_that_no_form_would_take_do_no_harm():
    bow = feature(3, "building", ((0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)))
    pot = wanted(1, in_container=True, container_litres=40.0)
    room = room_for(pot, layout(free(4.0, 4.0), bow))
    assert 6.0 < shapely.area(room.area) < 8.0
    line = feature(2, "free", ((0.0, 0.0), (4.0, 0.0)))
    assert shapely.is_empty(open_ground(layout(line)))
    apart = feature(2, "boundary", box(4.0, 0.0, 9.0, 4.0))
    assert shapely.is_empty(open_ground(layout(free(4.0, 4.0), apart)))


def test_half_a_grown_crown_stays_on_this_side_of_the_boundary():
    within = layout(feature(2, "boundary", box(0.0, 0.0, 10.0, 10.0)))
    fig = wanted(1, grown_spread_m=6.0)
    assert shapely.bounds(room_for(fig, within).area).tolist() == [3.0, 3.0, 7.0, 7.0]
    squeezed = shapely.bounds(room_for(fig, within, ease=0.0).area)
    assert squeezed[0] == LEAST_FROM_BOUNDARY_M


# Distances of the sources: 10 ft from walls, 5 ft from pipes and paving, the grown
# height or 25 ft from a septic field (takingroot.info; NC Cooperative Extension).
@pytest.mark.parametrize(
    ("kind", "least_m"),
    [("building", 3.048), ("wall", 3.048), ("pipe", 1.524), ("septic", 7.62)],
)
def test_a_tree_keeps_off_what_it_would_harm(kind, least_m):
    line = ((0.0, 0.0), (40.0, 0.0))
    points = box(0.0, -1.0, 40.0, 0.0) if kind in {"building", "septic"} else line
    where = layout(free(40.0, 20.0), feature(2, kind, points))
    fig = wanted(1, grown_height_m=6.0)
    low = shapely.bounds(room_for(fig, where).area)[1]
    assert least_m <= low < 1.03 * least_m
    pot = wanted(1, in_container=True, container_litres=40.0)
    assert shapely.bounds(room_for(pot, where).area)[1] < 0.1


def test_a_pot_may_stand_on_paving_but_not_in_a_pond():
    whole = free(4.0, 4.0)
    pot = wanted(1, in_container=True, container_litres=40.0)
    paved = layout(whole, feature(2, "paving", box(0.0, 0.0, 4.0, 4.0)))
    assert shapely.area(room_for(pot, paved).area) == 16.0
    pond = layout(whole, feature(2, "water", box(0.0, 0.0, 4.0, 4.0)))
    kept_off = room_for(pot, pond)
    assert shapely.is_empty(kept_off.area)
    assert kept_off.kept_off_by == ("feature-2",)


def test_a_local_rule_keeps_trees_from_water():
    pond = feature(2, "water", box(0.0, -1.0, 40.0, 0.0))
    where = layout(free(40.0, 20.0), pond)
    near = shapely.bounds(room_for(wanted(1), where).area)[1]
    far = shapely.bounds(room_for(wanted(1), where, water_setback_m=9.0).area)[1]
    assert near < 0.1
    assert 9.0 <= far < 9.3


def test_low_growth_may_stand_under_wires_and_tall_may_not():
    wires = feature(2, "wires", ((0.0, 0.0), (40.0, 0.0)), height_m=9.0)
    where = layout(free(40.0, 20.0), wires)
    low = wanted(1, grown_height_m=2.0, grown_spread_m=2.0)
    assert shapely.area(room_for(low, where).area) == 800.0
    tall = wanted(1, grown_height_m=9.0, grown_spread_m=6.0)
    assert shapely.bounds(room_for(tall, where).area)[1] >= 3.0 + 3.048
