"""Between plan and earth: lengths of a degree, bearings, there and back."""

import math

import pytest
from hypothesis import given, strategies as st

from orchard.models import SitePlan
from orchard.plans.axes import PlanAxes, axes_of, metres_per_degree


# Snyder (1987) Map Projections, USGS Professional Paper 1395: a degree of latitude is
# 110,574 m at the equator and 111,694 m at the pole, a degree of longitude 111,320 m at
# the equator and 78,847 m at 45 degrees (from memory, on ellipsoids within 3 m).
@pytest.mark.parametrize(
    ("latitude_deg", "east_m", "north_m"),
    [(0, 111_320, 110_574), (45, 78_847, 111_132), (90, 0, 111_694)],
)
def test_length_of_a_degree(latitude_deg, east_m, north_m):
    east, north = metres_per_degree(latitude_deg)
    assert east == pytest.approx(east_m, abs=3)
    assert north == pytest.approx(north_m, abs=3)


@pytest.mark.parametrize(
    ("up_bearing_deg", "east", "north"),
    [(0, 0, 1), (90, 1, 0), (180, 0, -1), (270, -1, 0)],
)
def test_up_the_page_goes_along_its_bearing(up_bearing_deg, east, north):
    axes = PlanAxes(47.0, -122.0, up_bearing_deg)
    longitude_deg, latitude_deg = axes.to_earth(0, 10)
    east_per_deg, north_per_deg = metres_per_degree(47.0)
    assert (longitude_deg + 122) * east_per_deg == pytest.approx(10 * east, abs=1e-6)
    assert (latitude_deg - 47) * north_per_deg == pytest.approx(10 * north, abs=1e-6)


@given(
    latitude_deg=st.floats(-70, 70),
    longitude_deg=st.floats(-180, 180),
    bearing_deg=st.floats(0, 359.9),
    x_m=st.floats(-2000, 2000),
    y_m=st.floats(-2000, 2000),
)
def test_there_and_back(latitude_deg, longitude_deg, bearing_deg, x_m, y_m):
    axes = PlanAxes(latitude_deg, longitude_deg, bearing_deg)
    back_x, back_y = axes.to_plan(*axes.to_earth(x_m, y_m))
    assert math.isclose(back_x, x_m, abs_tol=1e-6)
    assert math.isclose(back_y, y_m, abs_tol=1e-6)


def test_a_plan_across_the_date_line_stays_whole():
    axes = PlanAxes(-17.0, 179.9999)
    longitude_deg, _ = axes.to_earth(100, 0)
    assert longitude_deg < -179.99
    assert axes.to_plan(longitude_deg, -17.0)[0] == pytest.approx(100, abs=1e-6)


def test_nobody_knows_where_a_plan_without_origin_lies():
    assert axes_of(SitePlan()) is None
    known = SitePlan(origin_latitude_deg=1.0, origin_longitude_deg=2.0)
    assert axes_of(known) == PlanAxes(1.0, 2.0, 0.0)
