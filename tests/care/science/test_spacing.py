"""Distances between plants against printed tables, and laws of any plan."""

from dataclasses import replace

import pytest
from hypothesis import given, strategies as st

from care.facts import ClumpFacts, Standing
from care.planning.species_facts import species_facts
from care.science.container_water import pot_diameter_m
from care.science.planting import FOOT_M
from care.science.spacing import (
    accepted_groups,
    apart_m,
    crown_today_m,
    grown_spread_m,
    pair_distances_m,
    spacing_conflicts,
)
from tests.care.rules.cases import species
from tests.care.science.layouts import layout, plant, plants, turned

# Oregon State University Extension, EC 819, as reprinted [ft].
OREGON_FT = {
    "apple": (5, 40),
    "apricot": (15, 25),
    "sour_cherry": (14, 20),
    "sweet_cherry": (20, 35),
    "fig": (12, 20),
    "peach": (12, 15),
    "pear": (10, 20),
    "asian_persimmon": (15, 20),
    "european_plum": (10, 20),
    "japanese_plum": (10, 20),
    "pawpaw": (15, 20),
}
# University of Arizona, Master Gardener manual, one distance a kind [ft].
ARIZONA_FT = {
    "apricot": 18,
    "sour_cherry": 20,
    "sweet_cherry": 25,
    "fig": 15,
    "almond": 25,
}
ARIZONA_APPLE_FT = {"dwarf": 12, "semi-dwarf": 18, "standard": 25}


def two(kind="apple", other="apple", **changes):
    return plant(1, kind), plant(2, other, **changes)


def codes(*some):
    return [found.code for found in spacing_conflicts(some)]


@pytest.mark.parametrize("kind", sorted(OREGON_FT))
def test_what_is_recommended_lies_in_the_range_of_oregon(kind):
    least_ft, most_ft = OREGON_FT[kind]
    recommended_ft = apart_m(*two(kind, kind)).recommended_m / FOOT_M
    # Pawpaws: the catalogue has Kentucky's 8 ft of an orchard that is kept small.
    is_inside = least_ft - 0.1 <= recommended_ft <= most_ft + 0.1
    assert is_inside == (kind != "pawpaw")


def test_the_least_goes_below_oregons_only_for_kinds_with_dwarf_stocks():
    below = {
        kind
        for kind, (least_ft, _) in OREGON_FT.items()
        if apart_m(*two(kind, kind)).least_m / FOOT_M < least_ft - 0.2
    }
    assert below == {"sour_cherry", "sweet_cherry", "pawpaw"}


@pytest.mark.parametrize("kind", sorted(ARIZONA_FT))
def test_what_is_recommended_is_within_a_quarter_of_arizonas(kind):
    recommended_ft = apart_m(*two(kind, kind)).recommended_m / FOOT_M
    assert recommended_ft == pytest.approx(ARIZONA_FT[kind], rel=0.25)


def test_an_apple_lies_between_arizonas_dwarf_and_standard():
    apart = apart_m(*two())
    dwarf_m, standard_m = (
        ARIZONA_APPLE_FT[name] * FOOT_M for name in ("dwarf", "standard")
    )
    assert apart.least_m < dwarf_m < apart.recommended_m < standard_m


def test_two_kinds_meet_half_way_between_their_spacings():
    # Catalogue: apple 1.8 and 4.6 m, pear 3.0 and 6.1 m.
    apart = apart_m(*two("apple", "pear"))
    assert apart.least_m == pytest.approx((1.8 + 3.0) / 2)
    assert apart.recommended_m == pytest.approx((4.6 + 6.1) / 2)
    assert apart.sources == ("osu_ec819", "umaine")


def test_a_dwarfing_stock_asks_for_less_and_never_for_less_than_the_least():
    half = plant(1, grown_spread_m=2.5)
    tiny = plant(2, grown_spread_m=0.5)
    assert apart_m(half, half).recommended_m == pytest.approx(2.3)
    assert apart_m(tiny, tiny).recommended_m == pytest.approx(1.8)


def test_a_kind_without_figures_falls_back_on_what_is_usual_of_trees():
    bare = {"spacing_min_m": None, "spacing_typical_m": None}
    lone = plant(1, species=species(**bare))
    assert apart_m(lone, lone).least_m == pytest.approx(12 * FOOT_M)
    assert apart_m(lone, lone).recommended_m == pytest.approx(5.0)
    assert apart_m(lone, lone).sources == ("common_practice",)
    shrub = plant(2, species=species(habit="shrub", mature_spread_m=None, **bare))
    assert apart_m(shrub, shrub).least_m == 0
    assert codes(shrub, plant(3, species=shrub.species, place_m=(0.1, 0.0))) == []


def test_what_rests_on_memory_is_said_to():
    assert "spacing_min_m" in species_facts("quince").unverified
    assert apart_m(*two("quince", "quince")).sources == ("memory",)


@pytest.mark.parametrize(
    ("distance_m", "code"),
    [
        (1.79, ["below_minimum"]),
        (1.8, ["below_recommended"]),
        (4.59, ["below_recommended"]),
        (4.6, ["crowns_meet"]),
        (4.99, ["crowns_meet"]),
        (5.0, []),
    ],
)
def test_the_gravest_that_holds_is_told(distance_m, code):
    # Catalogue: apple, at least 1.8, usually 4.6 m, 5 m wide when grown.
    assert codes(plant(1), plant(2, place_m=(distance_m, 0.0))) == code


def test_a_conflict_says_who_how_far_and_how_far_it_should_be():
    wanted = plant(7, standing=Standing.WANTED, place_m=(3.0, 4.0))
    (found,) = spacing_conflicts((plant(1, "pear"), wanted))
    assert (found.who, found.whom) == ("wanted-7", "ours-1")
    assert found.distance_m == pytest.approx(5.0)
    assert found.least_m == pytest.approx(5.35)


def test_pots_keep_only_todays_crowns_apart():
    pot = {"in_container": True, "container_litres": 40.0}
    pots = (plant(1, crown_width_m=1.2, **pot), plant(2, crown_width_m=0.8, **pot))
    assert apart_m(*pots).least_m == pytest.approx(pot_diameter_m(40.0))
    assert apart_m(*pots).recommended_m == pytest.approx(1.0)
    assert codes(pots[0], replace(pots[1], place_m=(1.1, 0.0))) == []
    assert codes(pots[0], replace(pots[1], place_m=(0.9, 0.0))) == ["crowns_meet"]
    assert codes(*pots) == ["below_minimum"]
    assert grown_spread_m(pots[0]) == 1.2
    new = plant(3, standing=Standing.WANTED, **pot)
    assert 0.5 < crown_today_m(new) < 1.5
    assert crown_today_m(plant(4)) == 0


def test_a_hedge_is_close_on_purpose_once_its_height_is_declared():
    hedge = ClumpFacts(5, "South hedge", is_hedge=True)
    row = tuple(
        plant(number, clump=hedge, place_m=(number * 1.0, 0)) for number in range(4)
    )
    assert codes(*row) == ["hedge_without_limit"]
    assert spacing_conflicts(row)[0].whom == "clump-5"
    assert accepted_groups(row) == ()
    limited = replace(hedge, height_limit_m=2.0)
    row = tuple(replace(each, clump=limited) for each in row)
    assert codes(*row) == []
    assert accepted_groups(row) == (limited,)
    far = (row[0], replace(row[1], place_m=(20.0, 0.0)))
    assert accepted_groups(far) == ()
    other = plant(
        9, clump=ClumpFacts(6, "Other", height_limit_m=2.0), place_m=(0.0, 1.0)
    )
    assert codes(row[0], other) == ["below_minimum"]


def test_neighbours_trees_are_not_held_against_each_other():
    beyond = [plant(number, standing=Standing.NEIGHBOUR) for number in (1, 2)]
    assert codes(*beyond) == []
    assert spacing_conflicts((*beyond, plant(1)))[0].who == "ours-1"
    assert codes(plant(1), plant(2, place_m=None)) == []
    assert codes() == []


def test_distances_are_those_of_right_triangles():
    at = [
        plant(number, place_m=place)
        for number, place in enumerate([(0, 0), (3, 4), (3, 0)])
    ]
    assert pair_distances_m(at).tolist() == [[0, 5, 3], [5, 0, 4], [3, 4, 0]]


@given(plants(most=2), st.data())
def test_no_side_asks_for_more_than_the_other(some, data):
    one, other = some[0], data.draw(st.sampled_from(some))
    there, back = apart_m(one, other), apart_m(other, one)
    assert there == back
    assert 0 <= there.least_m <= there.recommended_m


@given(plants(), st.data())
def test_neither_order_nor_turning_nor_shifting_the_page_changes_a_conflict(some, data):
    here = spacing_conflicts(some)
    assert here == spacing_conflicts(data.draw(st.permutations(some)))
    turn, shift = data.draw(st.integers(0, 359)), data.draw(st.integers(-50, 50))
    there = spacing_conflicts(turned(layout(*some), turn, (shift, 7.0)).plants)
    assert _told(here) == _told(there)


def _told(conflicts):
    return [(found.code, found.who, found.whom) for found in conflicts]


@given(plants(least=2, most=2), st.integers(1, 100))
def test_moving_a_tree_away_never_adds_a_conflict_nor_makes_one_graver(some, further):
    one, other = some[0], some[-1]
    if one is other:
        return
    x_m, y_m = (b - a for a, b in zip(one.place_m, other.place_m, strict=True))
    away = (1 + further / 50) if x_m or y_m else 0.0
    moved = (
        (
            one.place_m[0] + away * x_m,
            one.place_m[1] + away * y_m,
        )
        if away
        else (one.place_m[0] + further, one.place_m[1])
    )
    order = ["below_minimum", "below_recommended", "hedge_without_limit", "crowns_meet"]
    before = codes(one, other)
    after = codes(one, replace(other, place_m=moved))
    assert len(after) <= len(before)
    if after:
        assert order.index(after[0]) >= order.index(before[0])
