"""A layout made better: moves, exchanges, what is squeezed in, and when to stop."""

import numpy as np
import pytest
import shapely

from care.science.placing_build import WAYS, build, no_places
from care.science.placing_improve import Steps, improve
from care.science.placing_points import (
    Frame,
    frame_of,
    lattice,
    poleward,
    touching,
)
from care.science.placing_room import room_for
from care.science.placing_scene import places_of, scene_of
from tests.care.science.placing_cases import free, layout, spaced, wanted
from tests.care.science.pollination_cases import FUJI, GALA, plant

PLAN = Frame(np.eye(2))
MANY = 10_000


def setting(where, trees, standing=()):
    scene = scene_of(trees, standing, where, PLAN)
    return scene, places_of([room_for(tree, where) for tree in trees], PLAN)


def test_the_taller_of_two_is_exchanged_to_the_side_of_the_pole():
    where = layout(free(0.2, 4.0))
    low, tall = (spaced(n, 4.0, grown_height_m=h) for n, h in ((1, 2.0), (2, 9.0)))
    scene, rooms = setting(where, [low, tall])
    wrong = np.array([[0.0, 4.0], [0.0, 0.0]])
    right = improve(scene, rooms, wrong, 1.0, Steps(MANY))
    assert right[1, 1] > 3.9
    assert right[0, 1] < 0.1
    assert scene.total_cost(right) < scene.total_cost(wrong)
    assert (improve(scene, rooms, wrong, 1.0, Steps(0)) == wrong).all()
    # So much is left for the moves, and nothing for the exchange after them.
    assert improve(scene, rooms, wrong, 1.0, Steps(4))[1, 1] < 0.1


def test_no_exchange_where_one_would_not_fit():
    where = layout(free(4.0, 0.5))
    small, large = spaced(1, 1.0, grown_height_m=9.0), spaced(2, 6.0)
    scene, rooms = setting(where, [small, large], ())
    begun = build(scene, rooms, (1, 0), WAYS[0], 1.0)
    after = improve(scene, rooms, begun, 1.0, Steps(MANY))
    assert scene.total_cost(after) <= scene.total_cost(begun)


def test_a_tree_that_was_left_out_is_put_down_where_it_now_fits():
    where = layout(free(4.0, 0.5))
    trees = [spaced(1, 2.0), spaced(2, 2.0)]
    scene, rooms = setting(where, trees)
    one = no_places(scene)
    one[0] = (0.0, 0.0)
    both = improve(scene, rooms, one, 1.0, Steps(MANY))
    assert not np.isnan(both).any()
    nowhere = improve(scene, [rooms[0], None], one, 1.0, Steps(MANY))
    assert np.isnan(nowhere[1]).all()


def test_a_tree_without_any_point_left_stays_without():
    where = layout(free(1.0, 1.0))
    scene, rooms = setting(where, [spaced(1, 5.0), spaced(2, 5.0)])
    one = no_places(scene)
    one[0] = (0.0, 0.0)
    assert np.isnan(improve(scene, rooms, one, 1.0, Steps(MANY))[1]).all()


def test_a_partner_far_away_costs_more_than_one_near():
    where = layout(free(60.0, 1.0))
    gala = wanted(1, "apple", cultivar=GALA)
    scene, _ = setting(where, [gala], [plant("ours-1", cultivar=FUJI, at=(0.0, 0.0))])
    places = no_places(scene)
    near, poor, far = scene.costs(
        0, np.array([[14.0, 0.0], [20.0, 0.0], [40.0, 0.0]]), places
    )
    assert near < poor < far


def test_costs_of_places_add_up_to_the_whole_but_for_pairs_counted_once():
    where = layout(free(9.0, 9.0))
    trees = [spaced(n, 5.0, grown_height_m=2.0 + n) for n in range(3)]
    scene, _ = setting(where, trees)
    places = np.array([[0.0, 0.0], [1.0, 3.0], [2.0, 6.0]])
    single = [float(scene.costs(i, places[i : i + 1], places)[0]) for i in range(3)]
    assert scene.total_cost(places) == pytest.approx(sum(single) / 2)


def test_the_midday_sun_stands_on_the_other_side_of_the_equator():
    assert poleward(47.0, 0.0) == pytest.approx([0.0, 1.0])
    assert poleward(-27.0, 0.0) == pytest.approx([0.0, -1.0], abs=1e-9)
    # Up the page is east: north is to the left.
    assert poleward(47.0, 90.0) == pytest.approx([-1.0, 0.0], abs=1e-9)


def test_a_frame_follows_the_ground_and_its_second_axis_the_pole():
    turned = np.array([[0.0, 0.0], [6.0, 8.0], [2.0, 11.0], [-4.0, 3.0]])
    ground = layout_area(turned)
    frame = frame_of(ground, np.array([0.0, 1.0]))
    assert frame.to_frame(np.array([[0.0, 1.0]]))[0, 1] > 0.7
    there = frame.to_frame(turned)
    assert frame.to_plan(there) == pytest.approx(turned)
    sides = np.abs(np.diff(there, axis=0))
    assert (sides.min(axis=1) < 1e-9).all()


def layout_area(points):

    return shapely.Polygon(points)


def test_points_just_touch_two_circles_or_a_circle_and_an_edge():
    edges = np.array([[[0.0, 0.0], [10.0, 0.0]], [[1.0, 1.0], [1.0, 1.0]]])
    centres = np.array([[2.0, 3.0], [6.0, 3.0], [30.0, 30.0]])
    points = touching(centres, np.array([3.0, 3.0, 1.0]), edges)
    # 2 + sqrt(9 - 9) on the edge; (4, 3 +- sqrt(5)) between the two.
    assert [2.0, 0.0] in points.round(6).tolist()
    assert [4.0, round(3.0 + 5**0.5, 6)] in points.round(6).tolist()
    assert not len(touching(np.empty((0, 2)), np.empty(0), edges))


def test_a_lattice_begins_in_a_corner():
    ground = layout_area([[0.0, 0.0], [5.0, 0.0], [5.0, 4.0], [0.0, 4.0]])
    assert len(lattice(ground, 2.0)) == 9
    assert lattice(ground, 2.0, (5.0, 4.0)).tolist()[0] == [1.0, 0.0]
