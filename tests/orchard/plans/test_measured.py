"""Places from tapes: triangles worked by hand, and any garden."""

import math

import pytest
from hypothesis import assume, given, strategies as st
from shapely import Point as ShapelyPoint

from orchard.plans.measured import (
    TAPE_ERROR_M,
    Found,
    Side,
    Taped,
    both_sides,
    place_by_tapes,
)
from orchard.plans.problems import PlanError

A, B = (0.0, 0.0), (5.0, 0.0)
somewhere = st.tuples(st.floats(-50, 50), st.floats(-50, 50))


def tape(name, place_m, distance_m):
    return Taped(name, place_m, distance_m)


# A triangle of sides 3, 4, 5 by hand: its height on the 5 is 3 * 4 / 5 = 2.4, its foot
# 3 * 3 / 5 = 1.8 from A.
def test_a_triangle_of_3_4_5_on_both_sides():
    left, right = both_sides(tape("A", A, 3), tape("B", B, 4))
    assert left == pytest.approx((1.8, 2.4))
    assert right == pytest.approx((1.8, -2.4))


def test_left_and_right_are_seen_from_the_first_corner():
    tapes = [tape("B", B, 4), tape("A", A, 3)]
    assert place_by_tapes(tapes, Side.LEFT).place_m == pytest.approx((1.8, -2.4))
    assert place_by_tapes(tapes, Side.RIGHT).place_m == pytest.approx((1.8, 2.4))


# 5, 12, 13: right angle at A, so 12 across from it.
def test_a_triangle_of_5_12_13():
    left, _ = both_sides(tape("A", A, 12), tape("B", B, 13))
    assert left == pytest.approx((0, 12))


def test_the_garden_s_side_is_where_the_garden_is_else_up_the_page():
    tapes = [tape("A", A, 3), tape("B", B, 4)]
    up, down = pytest.approx((1.8, 2.4)), pytest.approx((1.8, -2.4))
    assert place_by_tapes(tapes, Side.GARDEN).place_m == up
    assert place_by_tapes(tapes, Side.GARDEN, (20.0, -1.0)).place_m == down


def test_circles_that_do_not_meet_are_said_with_all_three_lengths():
    with pytest.raises(PlanError) as error:
        both_sides(tape("A", A, 5), tape("B", (12.4, 0.0), 3))
    assert str(error.value) == (
        "5 m from A and 3 m from B cannot meet: A and B are 12.4 m apart. "
        "Measure again."
    )


@pytest.mark.parametrize(("near", "far"), [(20, 3), (3, 20)])
def test_one_circle_inside_the_other_does_not_meet_it(near, far):
    with pytest.raises(PlanError, match="cannot meet"):
        both_sides(tape("A", A, near), tape("B", B, far))


@pytest.mark.parametrize(
    ("near", "far", "along"),
    [
        (2.4, 2.4, 2.5),  # 0.2 m short: half-way between the two ends
        (7.2, 2.0, 7.1),  # one inside the other
        (2.0, 7.2, -2.1),
    ],
)
def test_tapes_that_nearly_meet_are_taken_half_way_and_it_is_told(near, far, along):
    tapes = [tape("A", A, near), tape("B", B, far)]
    found = place_by_tapes(tapes, Side.LEFT)
    assert found.place_m == pytest.approx((along, 0))
    assert found.off_m == pytest.approx(0.1)
    assert found.doubt_m == math.inf


def test_a_long_tape_may_be_off_by_two_in_a_hundred():
    far = (60.0, 0.0)
    both_sides(tape("A", A, 30), tape("B", far, 28.9))
    with pytest.raises(PlanError):
        both_sides(tape("A", A, 30), tape("B", far, 28.7))


def test_corners_in_one_spot_tell_nothing():
    with pytest.raises(PlanError, match="A and B are in one spot"):
        both_sides(tape("A", A, 3), tape("B", A, 3))


def test_a_right_angle_is_the_surest_and_a_sharp_one_is_told():
    # Right angle: the mistake times sqrt(2).
    right = place_by_tapes([tape("A", A, 3), tape("B", B, 4)], Side.LEFT)
    assert right.doubt_m == pytest.approx(TAPE_ERROR_M * math.sqrt(2))
    # Seen from 50 m away A and B are 5 m apart: an angle whose sine is about 0.1.
    sharp = place_by_tapes([tape("A", A, 50), tape("B", B, 50)], Side.LEFT)
    sine = 2 * 0.05 * math.sqrt(1 - 0.05**2)
    assert sharp.doubt_m == pytest.approx(TAPE_ERROR_M * math.sqrt(2) / sine)


@given(place=somewhere, first=somewhere, second=somewhere)
def test_two_exact_tapes_find_any_place(place, first, second):
    apart = math.dist(first, second)
    assume(apart > 0.5)
    cross = (second[0] - first[0]) * (place[1] - first[1]) - (second[1] - first[1]) * (
        place[0] - first[0]
    )
    assume(abs(cross) / apart > 0.1)
    side = Side.LEFT if cross > 0 else Side.RIGHT
    tapes = [
        tape("A", first, math.dist(first, place)),
        tape("B", second, math.dist(second, place)),
    ]
    found = place_by_tapes(tapes, side)
    assert found.place_m == pytest.approx(place, abs=1e-6)
    assert place_by_tapes(tapes, Side.GARDEN, place) == found
    # shapely's own circles (polygons of 4 x 256 corners) pass there too.
    for each in tapes:
        circle = ShapelyPoint(each.place_m).buffer(each.distance_m, 256).exterior
        assert circle.distance(ShapelyPoint(found.place_m)) < 1e-4 * each.distance_m


@given(place=somewhere, side=st.sampled_from(Side))
def test_three_tapes_find_it_whatever_side_was_said(place, side):
    corners = {"A": (0.0, 0.0), "B": (12.0, 0.0), "C": (3.0, 9.0)}
    assume(min(math.dist(place, corner) for corner in corners.values()) > 0.1)
    tapes = [tape(n, c, math.dist(c, place)) for n, c in corners.items()]
    found = place_by_tapes(tapes, side)
    assert math.dist(found.place_m, place) < 0.35
    assert found.off_m <= TAPE_ERROR_M


def test_the_residual_of_three_tapes_is_told():
    # In the middle of a square of 10 m all corners are 7.071 m away; one tape that is
    # 0.2 m long pulls the place away from its corner and leaves a miss.
    half = math.sqrt(50)
    square = {"A": (0.0, 0.0), "B": (10.0, 0.0), "C": (10.0, 10.0), "D": (0.0, 10.0)}
    tapes = [tape(n, c, half + (0.2 if n == "A" else 0)) for n, c in square.items()]
    found = place_by_tapes(tapes, Side.LEFT)
    # Along the diagonal the least squares are those of two tapes, A and C: half of
    # 0.2 m each way. The other two stay right to first order.
    assert found.place_m == pytest.approx((5 + 0.1 / math.sqrt(2),) * 2, abs=2e-3)
    assert found.off_m == pytest.approx(math.sqrt(2 * 0.1**2 / 4), abs=2e-3)


def test_corners_on_one_line_leave_the_side_to_the_person():
    line = {"A": (0.0, 0.0), "B": (5.0, 0.0), "C": (10.0, 0.0)}
    tapes = [tape(n, c, math.dist(c, (4.0, 3.0))) for n, c in line.items()]
    assert place_by_tapes(tapes, Side.LEFT).place_m == pytest.approx((4, 3))
    assert place_by_tapes(tapes, Side.RIGHT).place_m == pytest.approx((4, -3))


def test_three_tapes_that_disagree_name_the_worst():
    tapes = [tape("A", A, 3), tape("B", B, 4), tape("C", (1.8, 12.4), 13)]
    with pytest.raises(PlanError, match=r"do not agree.*from what|away from what"):
        place_by_tapes(tapes, Side.LEFT)


def test_a_place_is_found_with_no_doubt_from_its_own_corner():
    found = place_by_tapes([tape("A", A, 0), tape("B", B, 5)], Side.LEFT)
    assert isinstance(found, Found)
    assert found.place_m == pytest.approx((0, 0), abs=1e-6)
