"""Outlines that can be and those that cannot, against shapely's own judgement."""

import math
from contextlib import nullcontext

import pytest
from hypothesis import given, strategies as st
from shapely import Polygon

from care.facts.layout import AREAS
from orchard.plans.problems import PlanError
from orchard.plans.shapes import (
    AREA_KINDS,
    MOST_POINTS,
    Neighbour,
    check_shape,
    check_tree,
    middle_of,
    outside_by_m,
    signed_area_m2,
)

YARD = [(0.0, 0.0), (20.0, 0.0), (20.0, 12.0), (0.0, 12.0)]
points = st.lists(
    st.tuples(st.integers(-9, 9), st.integers(-9, 9)), min_size=3, max_size=7
)


def test_the_kinds_drawn_as_areas_are_those_the_layout_knows():
    assert {str(kind) for kind in AREA_KINDS} == {str(kind) for kind in AREAS}


@pytest.mark.parametrize(
    ("kind", "course"),
    [
        ("boundary", YARD),
        ("boundary", YARD[::-1]),
        ("wall", YARD[:2]),
        ("wires", [(0, 0), (5, 5), (0, 5), (5, 0)]),  # a line may cross itself
        ("tap", YARD[:1]),
    ],
)
def test_what_can_stand(kind, course):
    check_shape(kind, course)


@pytest.mark.parametrize(
    ("kind", "course", "words"),
    [
        ("building", YARD[:2], "at least 3 points; 2 is written"),
        ("wall", YARD[:1], "at least 2 points"),
        ("tap", [], "Write the one point"),
        ("tap", YARD[:2], "one point, and 2 are written"),
        ("free", [(0, 0), (5, 5), (9, 9)], "enclose no area|crosses itself"),
        ("free", [*YARD, YARD[0]], "Points 1 and 5 are the same spot"),
        ("wall", [YARD[0], YARD[0]], "Points 1 and 2 are the same spot"),
        ("paving", [(0, 0), (3000, 0), (0, 5)], "3000 m from the site"),
        ("wall", [(k, 0) for k in range(MOST_POINTS + 1)], "201 points are too many"),
    ],
)
def test_what_cannot(kind, course, words):
    with pytest.raises(PlanError, match=words):
        check_shape(kind, course)


def test_an_outline_that_crosses_itself_says_where_and_which_sides():
    bow = [(0, 0), (4, 4), (4, 0), (0, 4)]
    with pytest.raises(PlanError) as error:
        check_shape("septic", bow)
    assert str(error.value) == (
        "This outline crosses itself, 2 m along and 2 m across: the side from point 1 "
        "to 2 meets the side from point 3 to 4. Are two points in the wrong order?"
    )


@given(points)
def test_an_outline_is_taken_as_shapely_judges_it(course):
    outline = Polygon(course)
    twice = any(a == b for a, b in zip(course, [*course[1:], course[0]], strict=True))
    is_refused = twice or not outline.is_valid or outline.area < 0.01
    with pytest.raises(PlanError) if is_refused else nullcontext():
        check_shape("free", [(float(x), float(y)) for x, y in course])


@given(points)
def test_the_sign_of_an_area_is_its_winding(course):
    outline = Polygon(course)
    if outline.is_valid and outline.area:
        area = signed_area_m2(course)
        assert abs(area) == pytest.approx(outline.area)
        assert (area > 0) == outline.exterior.is_ccw


def test_the_yard_by_hand():
    assert signed_area_m2(YARD) == 240.0
    assert middle_of(YARD) == (10.0, 6.0)
    assert middle_of([(1, 2)]) == (1, 2)
    assert middle_of([(1, 2), (3, 4)]) == (2, 3)
    assert outside_by_m((23, 16), YARD) == 5.0  # 3, 4, 5 beyond its corner
    assert outside_by_m((19, 11), YARD) == 0.0


def test_a_tree_outside_is_refused_with_how_far_unless_it_is_said():
    common = {"boundary_m": YARD, "others": []}
    with pytest.raises(PlanError, match="5 m outside the boundary") as error:
        check_tree((23, 16), may_be_outside=False, **common)
    assert error.value.about == "outside"
    check_tree((23, 16), may_be_outside=True, **common)
    check_tree((20.05, 6), may_be_outside=False, **common)
    check_tree((23, 16), boundary_m=None, others=[], may_be_outside=False)


def test_two_trees_do_not_stand_in_one_spot_however_it_is_said():
    others = [Neighbour("Old Tom", (5.0, 5.0))]
    for place in ((5.0, 5.0), (5.1, 5.1)):  # 0.141 m away
        with pytest.raises(PlanError, match="“Old Tom” stands there already") as error:
            check_tree(place, boundary_m=YARD, others=others, may_be_outside=True)
        assert error.value.about == "spot"
    check_tree((5.0, 5.16), boundary_m=YARD, others=others, may_be_outside=False)
    with pytest.raises(PlanError, match="from the site"):
        check_tree((math.inf, 0), boundary_m=None, others=[], may_be_outside=True)
