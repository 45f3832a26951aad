"""Rows of trees, and places from a phone."""

import math

import pytest

from orchard.plans.axes import PlanAxes
from orchard.plans.problems import PlanError
from orchard.plans.rows import (
    along_bearing,
    place_by_satellite,
    row_between,
    row_towards,
)

SEATTLE = PlanAxes(47.45, -122.31)


def test_a_row_between_two_trees_by_hand():
    # 12 m in five trees: four gaps of 3 m.
    assert row_between((0, 0), (12, 0), 5) == ((0, 0), (3, 0), (6, 0), (9, 0), (12, 0))
    assert row_between((1, 2), (9, 9), 1) == ((1, 2),)
    with pytest.raises(PlanError, match=r"20 trees would stand only 0\.05 m apart"):
        row_between((0, 0), (1, 0), 20)


def test_a_row_at_a_spacing_by_hand():
    # Towards (3, 4), 5 m away: each 2.5 m is half of it.
    found = row_towards((0, 0), (3, 4), 2.5, 4)
    assert found == ((0, 0), (1.5, 2), (3, 4), (4.5, 6))
    with pytest.raises(PlanError, match="no direction"):
        row_towards((0, 0), (0, 0), 2.5, 4)


@pytest.mark.parametrize(
    ("bearing_deg", "up_deg", "x", "y"),
    [(0, 0, 0, 1), (90, 0, 1, 0), (90, 90, 0, 1), (0, 90, -1, 0), (180, 0, 0, -1)],
)
def test_a_row_along_the_compass(bearing_deg, up_deg, x, y):
    found = along_bearing((5, 5), bearing_deg, up_deg)
    assert found == pytest.approx((5 + x, 5 + y))


def test_a_phone_s_place():
    # A ten-thousandth of a degree of latitude is 11.12 m there.
    place = place_by_satellite(SEATTLE, 47.4501, -122.31)
    assert place == pytest.approx((0, 11.12), abs=0.01)


def test_another_continent_and_swapped_numbers_are_told_apart():
    with pytest.raises(PlanError, match="look swapped") as error:
        place_by_satellite(SEATTLE, -122.31, 47.45)
    assert error.value.about == "swapped"
    with pytest.raises(PlanError, match=r"[\d,]+ km from the site") as error:
        place_by_satellite(SEATTLE, -27.5, 153.0)
    assert error.value.about == "far"
    # On flat axes, from a corner of one degree: the sum of both legs by hand.
    east_m, north_m = 75_300, 111_170  # a degree at 47.45 N, to 0.2 %
    with pytest.raises(PlanError) as error:
        place_by_satellite(SEATTLE, 48.45, -121.31)
    assert error.value.values["away"] == pytest.approx(
        math.hypot(east_m, north_m), rel=2e-3
    )
