"""The plan in words: every conflict, both units, places from two corners, north."""

import math

import pytest

from care.facts import Conflict, FeatureKind, Standing
from care.planning.layout_check import WEIGHT
from care.views.conflict_words import TITLES, conflict_words
from care.views.plan_words import (
    feature_words,
    hours_words,
    length_words,
    lies_words,
    names_of,
    north_words,
    place_words,
    plant_words,
    scale_words,
    sun_words,
)
from care.views.references import REFERENCES
from orchard.units import UnitSystem
from tests.care.science.layouts import feature, plant

METRIC, US = UnitSystem.METRIC, UnitSystem.US
HOUSE = feature(FeatureKind.BUILDING, (0, 0), (1, 0), (1, 1), id=7, name="House")


def told(code, *, is_pot=False, units=METRIC, whom="feature-7", **values):
    plants = [plant(1, name="Gate"), plant(2, name="Shed", in_container=is_pot)]
    names = names_of(plants, [], [HOUSE], units)
    return conflict_words(Conflict(code, "ours-1", whom, **values), names)


@pytest.mark.parametrize("code", WEIGHT)
def test_every_conflict_is_a_sentence_with_something_to_do(code):
    words = told(code, distance_m=1.236, least_m=3.048, sun_hours=2.4)
    assert "House" in words.what or code == "outside_boundary"
    assert words.what.endswith(".")
    assert words.do.endswith(".")
    assert "None" not in words.what + words.do
    assert TITLES[code]


def test_distances_are_told_in_the_readers_units_and_tell_near_ones_apart():
    apart = {"whom": "ours-2", "distance_m": 2.97, "least_m": 3.048}
    assert told("below_minimum", **apart).what == (
        "Gate and Shed stand 2.97 m apart. The least for the two is 3.05 m."
    )
    assert told("below_minimum", units=US, **apart).what == (
        "Gate and Shed stand 9.7 ft apart. The least for the two is 10 ft."
    )
    assert length_words(3.0, METRIC) == "3 m"


def test_pots_are_asked_to_move():
    for code in ("below_minimum", "crowns_meet"):
        words = told(code, is_pot=True, whom="ours-2", distance_m=0.2, least_m=0.4)
        assert "ove the pot" in words.do
    words = told("crowns_meet", whom="ours-2", distance_m=4.0, least_m=5.0)
    assert "pot" not in words.what + words.do


def test_wires_begin_with_when_to_stop_and_walls_allow_for_training():
    assert told("near_wires", distance_m=1.0, least_m=5.0).do.startswith("Stop: ")
    assert "trained flat" in told("near_wall", distance_m=1.0, least_m=3.0).do


def test_a_place_is_told_from_the_two_nearest_corners():
    corners = [("Gate", (0.0, 0.0)), ("House NE", (3.0, 0.0)), ("Far", (90.0, 0.0))]
    # A triangle of 3, 4 and 5.
    assert (
        place_words((3.0, 4.0), corners, METRIC) == "4 m from House NE, 5 m from Gate"
    )
    assert place_words((3.0, -4.0), [], METRIC) == "3 m right, 4 m down the page"
    assert place_words((-1.0, 4.0), [], US) == "3.3 ft left, 13.1 ft up the page"


@pytest.mark.parametrize(
    ("bearing", "words"),
    [
        (0, "up the page"),
        (45, "to the upper left"),
        (90, "to the left"),
        (180, "down the page"),
        (270, "to the right"),
        (350, "up the page"),
    ],
)
def test_north_is_said_as_the_arrow_points(bearing, words):
    assert north_words(bearing) == words
    right = -math.sin(math.radians(bearing))
    assert ("left" in words) == (right < -0.4)
    assert ("right" in words) == (right > 0.4)


def test_the_midday_sun_stands_towards_the_equator():
    assert sun_words(0.0, 47.0) == "The midday sun comes from the bottom."
    assert sun_words(0.0, -27.0) == "The midday sun comes from the top."
    # With the east up the page the south lies to the right.
    assert sun_words(90.0, 47.0) == "The midday sun comes from the right."


def test_hours_of_sun_are_told_in_whole_ones():
    assert hours_words(None) == ""
    assert hours_words(1.2) == "about 1 hour of sun"
    assert hours_words(8.6) == "about 9 hours of sun"


def test_what_lies_there_is_told_with_height_and_flow():
    tap = feature(FeatureKind.TAP, (0, 0), name="Tap", flow_l_per_min=12.0)
    wall = feature(FeatureKind.WALL, (0, 0), (1, 0), height_m=1.8)
    assert feature_words(tap, METRIC) == "Tap, 12 L a minute"
    assert lies_words(tap, US) == "tap, 3.2 gal a minute"
    assert lies_words(wall, METRIC) == "wall or fence, 1.8 m high"
    assert feature_words(wall, METRIC) == "wall"


def test_scales_and_neighbours_are_named():
    assert scale_words(100, METRIC) == "1:100, 1 cm on paper is 1 m"
    assert scale_words(250, METRIC) == "1:250, 1 cm on paper is 2.5 m"
    assert scale_words(120, US) == "1:120, 1 inch on paper is 10 feet"
    beyond = plant(1, standing=Standing.NEIGHBOUR, name="japanese_plum")
    assert plant_words(beyond) == "neighbour's japanese plum"


def test_what_distances_rest_on_is_named():
    assert {"taking_root", "nc_chatham_septic", "extension_tree_roots"} <= set(
        REFERENCES
    )
