"""Facts of the trade on planting, potting and looking. Common practice, no source.

Each was put as growers put it; none was read in a publication.
"""

from datetime import date, timedelta
from typing import Any

import pytest

from care.facts import RainFacts, RainState, Stock, Support
from care.rules import establishing, inspection, planting, potting
from care.science.planting import (
    ABOVE_GROUND_MM,
    ABOVE_GROUND_USUAL_MM,
    BETTER_APART_M,
    FOOT_M,
    LEAST_APART_M,
    nearest_window,
    planting_hole,
)
from orchard.catalogue.species import Habit, species_catalogue
from tests.care.rules.cases import MILD, WARM, morning, orange, outlook, species, tree

ENTERED = date(2014, 1, 2)
PLANTED = date(2014, 3, 1)
#: Trees whose catalogue distances hold for dwarf stocks or narrow kinds, closer than
#: growers like: a difference that is shown on the planting sheet.
CLOSER_THAN_TWELVE_FEET = frozenset(
    {
        "apple",
        "pear",
        "asian_pear",
        "quince",
        "european_plum",
        "japanese_plum",
        "sweet_cherry",
        "sour_cherry",
        "pawpaw",
        "jujube",
        "lime",
        "mandarin_satsuma",
        "guava",
        "sugar_apple",
        "soursop",
        "jaboticaba",
        "cacao",
    }
)


def planned(kind=None, **changes: Any):
    facts: dict[str, Any] = {"planted_on": PLANTED, "entered_on": ENTERED}
    return tree(kind, **{**facts, **changes})


@pytest.mark.parametrize("stock", list(Stock))
@pytest.mark.parametrize("litres", [3.0, 25.0, 100.0])
def test_the_base_stands_one_to_three_inches_above_the_ground_never_below(
    stock, litres
):
    hole = planting_hole(planned(stock=stock, stock_litres=litres))
    above_in = hole.above_ground_m / 0.0254
    assert 1 <= above_in <= 3
    assert hole.depth_m < hole.ball_depth_m
    assert ABOVE_GROUND_MM[0] <= ABOVE_GROUND_USUAL_MM <= ABOVE_GROUND_MM[1]


def test_twelve_feet_is_the_very_least_and_fifteen_to_twenty_better():
    feet = [one / FOOT_M for one in (LEAST_APART_M, *BETTER_APART_M)]
    assert feet == pytest.approx([12, 15, 20])
    sheet = planting.propose(morning(ENTERED, planned()))[-1]
    assert sheet.reason.fact("apart_least_m") == pytest.approx(3.7)


def test_the_catalogues_least_distances_differ_only_where_known():
    trees = [one for one in species_catalogue().values() if one.habit is Habit.TREE]
    close = {one.key for one in trees if one.spacing_min_m < LEAST_APART_M - 0.05}
    assert close == CLOSER_THAN_TWELVE_FEET


def test_the_catalogues_usual_distances_lie_at_twelve_feet_or_more_but_for_two_small_trees():
    trees = [one for one in species_catalogue().values() if one.habit is Habit.TREE]
    usual = {one.key for one in trees if one.spacing_typical_m < LEAST_APART_M - 0.05}
    assert usual == {"pawpaw", "cacao"}


def growth_look(kind, planted=PLANTED, site=MILD):
    its_tree = tree(kind, planted_on=planted, entered_on=planted)
    found = establishing.propose(morning(planted, its_tree, site))
    return next(one for one in found if one.action == "growth")


def test_standing_still_for_a_couple_of_months_is_no_worry():
    look = growth_look(species())
    assert (look.due - PLANTED).days >= 60


def test_slow_evergreens_may_stand_still_for_most_of_a_year():
    look = growth_look(orange(), site=WARM)
    assert 270 <= (look.due - PLANTED).days <= 365


def test_neighbours_in_the_ring_wait_for_the_second_or_third_year():
    sheet = planting.propose(morning(ENTERED, planned()))[-1]
    assert sheet.reason.fact("companions_from") == date(2015, 3, 1)
    assert sheet.reason.fact("companions_surely") == date(2016, 2, 29)


def test_tender_trees_go_in_after_frost_and_before_the_daily_rains():
    rains = RainFacts(RainState.AWAITED, usual_start=166, usual_end=288)  # mid-June
    early = morning(ENTERED, planned(orange()), MILD, rains=rains)
    found, better_on = nearest_window(early, PLANTED)
    assert found.window.start > date(2014, 3, 20)  # the last frost
    assert found.window.end <= date(2014, 6, 15)
    assert better_on == found.window.start


def test_a_pot_keeps_roots_and_tree_small_so_roots_are_cut_not_given_more_room():
    facts: dict[str, Any] = {
        "in_container": True,
        "container_litres": 75.0,
        "planted_on": date(2010, 3, 1),
        "entered_on": date(2010, 3, 1),
    }
    grown = tree(species(container_min_l=60.0), **facts)
    easy = outlook(is_container=True, store_l=22.0, crown_area_m2=1.0)
    (task,) = potting.propose(morning(ENTERED, grown, water=easy))
    assert task.action == "root_prune"
    assert task.amount == 75.0


def test_a_root_pruning_takes_the_top_back_too():
    facts: dict[str, Any] = {
        "in_container": True,
        "container_litres": 75.0,
        "planted_on": date(2010, 3, 1),
        "entered_on": date(2010, 3, 1),
    }
    (task,) = potting.propose(morning(ENTERED, tree(species(), **facts)))
    assert "top_cut" in str(task.reason.fact("checks")).split()


def test_no_fruit_and_no_feed_in_the_planting_year():
    sheet = planting.propose(morning(ENTERED, planned()))[-1]
    lines = str(sheet.reason.fact("checks")).split()
    assert {"fruit_off", "no_feed_in_hole"} <= set(lines)


def test_a_hole_that_drains_in_minutes_is_sand():
    its_tree = planned(drainage_hours=0.2)
    sheet = planting.propose(morning(ENTERED, its_tree))[-1]
    assert sheet.reason.fact("drainage") == "sand"
    assert "raised_mound" not in str(sheet.reason.fact("checks")).split()


def test_stakes_are_for_wind_only_and_for_one_season():
    sheet = planting.propose(morning(ENTERED, planned()))[-1]
    assert "stake_if_windy" in str(sheet.reason.fact("checks")).split()
    staked = tree(planted_on=PLANTED, entered_on=PLANTED, support=Support.STAKE)
    found = establishing.propose(morning(PLANTED, staked))
    unstake = next(one for one in found if one.action == "unstake")
    assert timedelta(days=150) <= unstake.due - PLANTED <= timedelta(days=366)


def test_minutes_of_work_lie_in_what_volunteers_take():
    # From memory: planting 45-90 minutes, a look with its log entry 5.
    assert 45 <= planting.EFFORT_PLANT_MINUTES <= 90
    assert inspection.EFFORT_MINUTES == 5
