"""Shadows by hand: lengths, sides, hours; and laws of any plan."""

import pytest
from hypothesis import given, strategies as st

from care.facts import ClumpFacts, FeatureKind, Standing
from care.science.shading import (
    FULL_SUN_H,
    LOOKED_AT_SHARE,
    least_sun_h,
    shading_conflicts,
    sunlight,
)
from tests.care.rules.cases import species
from tests.care.science.layouts import feature, layout, plant, plants, turned

LATITUDE_DEG = 45.0


def wall(y_m, height_m=None, half_m=500.0):
    """A wall so long that only its height counts, along the page."""
    return feature(FeatureKind.WALL, (-half_m, y_m), (half_m, y_m), height_m=height_m)


def eye_at(height_m, **changes):
    """An apple looked at in such a height."""
    return plant(1, grown_height_m=height_m / LOOKED_AT_SHARE, **changes)


def light(*things, **more):
    plan = layout(*things, **{"latitude_deg": LATITUDE_DEG, **more})
    return sunlight(plan)[plan.plants[0].ref]


@pytest.mark.parametrize(
    ("latitude_deg", "shadow_m"),
    # A shadow is the height over the tangent of the sun's elevation: 3 m throw 3 m at
    # 45 degrees, 3 / 0.57735 at 30, 3 / 1.73205 at 60.
    [(45.0, 3.0), (60.0, 5.196), (30.0, 1.732), (-60.0, 5.196)],
)
def test_an_endless_wall_takes_the_equinox_whole_or_not_at_all(latitude_deg, shadow_m):
    # At equinox the sun's path is a plane: behind an endless wall along east and west
    # it clears the wall all day or never, and the shadow is as long all day as at noon.
    to_equator = -1 if latitude_deg > 0 else 1
    for apart_m, is_dark in ((shadow_m - 0.01, True), (shadow_m + 0.01, False)):
        top = wall(to_equator * apart_m, 1.0 + 3.0, half_m=5000.0)
        found = light(eye_at(1.0), top, latitude_deg=latitude_deg)
        assert (found.equinox_h == 0) == is_dark
        assert is_dark or found.equinox_h > 10


def test_shadows_fall_towards_the_pole_on_both_halves_of_the_earth():
    for latitude_deg, to_equator in ((LATITUDE_DEG, -1), (-LATITUDE_DEG, 1)):
        behind = light(
            eye_at(1.0), wall(2 * to_equator, 4.0), latitude_deg=latitude_deg
        )
        before = light(
            eye_at(1.0), wall(-2 * to_equator, 4.0), latitude_deg=latitude_deg
        )
        assert behind.equinox_h == 0
        assert before.equinox_h == pytest.approx(11.0, abs=0.5)


def test_the_south_mirrors_the_north():
    house = ((-3, -6), (4, -6), (4, -3), (-3, -3))
    mirrored = tuple((x, -y) for x, y in house)
    north = light(eye_at(1.0), feature(FeatureKind.BUILDING, *house))
    south = light(
        eye_at(1.0),
        feature(FeatureKind.BUILDING, *mirrored),
        latitude_deg=-LATITUDE_DEG,
    )
    assert north.equinox_h == south.equinox_h < 10
    assert north.midsummer_h == south.midsummer_h


def test_a_wall_to_the_east_takes_the_morning():
    # Six hours of an equinox's day without the last third before noon: an endless wall
    # 1 m away and 3 m above the eye hides the sun until it is high over the east.
    east = feature(FeatureKind.WALL, (1.0, -500.0), (1.0, 500.0), height_m=4.0)
    found = light(eye_at(1.0), east, latitude_deg=0.0)
    # On the equator at equinox the sun climbs 15 degrees an hour straight up from due
    # east; atan(3) = 71.57 degrees, 4.77 h after sunrise; it counts from 5 degrees on.
    assert found.equinox_h == pytest.approx(12 - 4.77 - 1 / 3, abs=0.26)
    assert found.worst == "feature-1"
    assert list(found.taken_h) == ["feature-1"]


def test_up_the_page_may_be_any_way_on_the_compass():
    # The wall lies down the page; with the south up the page that is the north.
    assert light(eye_at(1.0), wall(-2, 4.0), up_bearing_deg=180).equinox_h > 10
    assert light(eye_at(1.0), wall(-2, 4.0)).equinox_h == 0


def test_a_round_crown_hides_what_its_half_angle_hides():
    # A ball of 2 m radius whose middle is as high as the eye and 4 m east: its edge is
    # asin(2/4) = 30 degrees up. On the equator at equinox the sun passes 30 degrees two
    # hours after it rises.
    ball = plant(
        2,
        standing=Standing.NEIGHBOUR,
        place_m=(4.0, 0.0),
        grown_spread_m=4.0,
        grown_height_m=4.0,
    )
    found = light(eye_at(2.0), ball, latitude_deg=0.0)
    assert found.equinox_h == pytest.approx(12 - 2 - 1 / 3, abs=0.26)
    assert found.worst == "neighbour-2"
    within = light(eye_at(2.0, place_m=(4.0, 0.5)), ball, latitude_deg=0.0)
    assert within.equinox_h == within.midsummer_h == 0


def test_conflicts_say_how_many_hours_are_left_and_who_takes_most():
    shaded = plan_of(eye_at(1.0), wall(-2, 4.0, half_m=20.0))
    (found,) = conflicts_on(shaded)
    assert (found.code, found.who, found.whom) == ("shading", "ours-1", "feature-1")
    assert found.sun_hours == sunlight(shaded)["ours-1"].equinox_h < FULL_SUN_H


def test_what_grows_under_trees_by_nature_needs_half_as_much():
    # Between two walls, on the equator: the east hidden up to 82 degrees, the west from
    # 45 degrees on, at 15 an hour.
    walls = (
        feature(FeatureKind.WALL, (0.4, -50.0), (0.4, 50.0), height_m=4.0),
        feature(FeatureKind.WALL, (-3.0, -50.0), (-3.0, 50.0), height_m=4.0, id=2),
    )
    for kind, codes in (("pawpaw", []), ("fig", ["shading"])):
        some = plant(1, kind, grown_height_m=1 / LOOKED_AT_SHARE)
        plan = layout(some, *walls, latitude_deg=0.0)
        assert 3 < sunlight(plan)[some.ref].darker_h < 6 <= least_sun_h(plant(1, "fig"))
        assert [found.code for found in conflicts_on(plan)] == codes
        assert conflicts_on(layout(some, latitude_deg=0.0)) == ()
    beyond = plant(1, standing=Standing.NEIGHBOUR, grown_height_m=1.0)
    assert conflicts_on(layout(beyond, *walls, latitude_deg=0.0)) == ()


def conflicts_on(plan):
    return shading_conflicts(plan.plants, sunlight(plan))


def plan_of(*things):
    return layout(*things, latitude_deg=LATITUDE_DEG)


def test_what_no_wall_is_to_blame_for_is_no_conflict():
    # Neither in the open, nor where there is no sun at all.
    assert conflicts_on(plan_of(eye_at(1.0))) == ()
    assert light(eye_at(1.0)).taken_h == {}
    dark = layout(eye_at(1.0), latitude_deg=89.99)
    assert sunlight(dark)["ours-1"].worst == ""
    assert sunlight(plan_of(plant(1, place_m=None))) == {}


def test_pots_hedges_and_oneself_shade_nobody():
    hedge = ClumpFacts(1, "Hedge", is_hedge=True, height_limit_m=3.0)
    low = eye_at(1.0, clump=hedge)
    mate = plant(2, "pecan", clump=hedge, place_m=(0.0, -1.0))
    pot = plant(3, "pecan", in_container=True, crown_width_m=4.0, place_m=(0.0, -1.0))
    bare = plant(
        4,
        species=species(mature_spread_m=None, mature_height_m=None),
        place_m=(0.0, -1.0),
    )
    nowhere = plant(5, "pecan", place_m=None)
    assert light(low, mate, pot, bare, nowhere).taken_h == {}
    shed = feature(FeatureKind.SEPTIC, (-9, -2), (9, -2), (0, -9))
    assert light(low, shed).taken_h == {}


def test_a_pot_is_looked_at_as_it_is_and_unknown_heights_are_taken_as_usual():
    pot = plant(1, in_container=True, height_m=1.0, grown_height_m=6.0)
    assert light(pot, wall(-0.5)).equinox_h == 0  # taken as 1.8 m
    assert light(plant(1, grown_height_m=None), wall(-0.5)).taken_h == {}  # as 3 m


def test_apples_at_their_usual_spacing_leave_each_other_sun_enough():
    # Common practice, no source: an orchard at its usual spacing is no shade to itself.
    rows = [
        plant(3 * row + column + 1, place_m=(4.6 * column, 4.6 * row))
        for row in range(3)
        for column in range(3)
    ]
    middle = rows.pop(4)
    assert light(middle, *rows).darker_h > FULL_SUN_H
    assert conflicts_on(plan_of(middle, *rows)) == ()


@given(
    plants(most=3),
    st.integers(1, 6).map(lambda quarter: 60 * quarter),
    st.sampled_from((-35.0, 52.0)),
)
def test_turning_and_shifting_the_page_changes_no_hour(some, turn, latitude_deg):
    house = feature(FeatureKind.BUILDING, (-3, -3.3), (5, -3.1), (5, -9))
    mine = plant(99, place_m=(6.02, 5.01))
    plan = layout(mine, *some, house, latitude_deg=latitude_deg, up_bearing_deg=10.0)
    other = turned(plan, turn, (3.0, -8.0))
    here, there = (sunlight(each)[mine.ref] for each in (plan, other))
    # One step of a quarter of an hour may fall either way by rounding.
    assert there.equinox_h == pytest.approx(here.equinox_h, abs=0.26)
    assert there.midsummer_h == pytest.approx(here.midsummer_h, abs=0.26)


@given(plants(most=4))
def test_more_obstacles_never_leave_more_sun(some):
    mine = plant(99, place_m=(6.02, 5.01))
    among, alone = light(mine, *some), light(mine)
    assert among.equinox_h <= alone.equinox_h
    assert among.midsummer_h <= alone.midsummer_h
    assert alone.taken_h == {}
