"""Neighbours that one walk looks over, and what a planned tree asks for."""

from datetime import date, timedelta
from typing import Any

import pytest

from care.planning.gather import gather
from care.planning.propose import propose, situations
from care.planning.species_facts import species_facts
from care.rules import establishing, inspection, planting, potting
from orchard.actions.places import block_named
from orchard.catalogue.species import species_catalogue
from tests.care.rules.cases import MILD, SHORT, WARM, WARM_SOUTH, morning, tree
from tests.conftest import TODAY

DAY = timedelta(days=1)
OLD = TODAY - 4000 * DAY


def mates(site):
    site.refresh_from_db()
    return {one.tree.name: one.look_mates for one in situations(gather(site, TODAY))}


def test_neighbours_of_one_list_in_one_block_are_looked_over_together(site, make_tree):
    apple = make_tree("Apple", species_key="apple", planted_on=OLD)
    pear = make_tree("Pear", species_key="pear", planted_on=OLD)
    make_tree("Plum", species_key="european_plum", planted_on=OLD)
    make_tree(
        "Far apple",
        block=block_named(site=site, name="Gate"),
        species_key="apple",
        planted_on=OLD,
    )
    found = mates(site)
    assert found["Apple"] == (pear.pk,)
    assert found["Pear"] == (apple.pk,)
    assert found["Plum"] == found["Far apple"] == ()


def test_pots_and_planned_trees_are_looked_over_apart(site, make_tree):
    make_tree("Apple", species_key="apple", planted_on=OLD)
    make_tree("Planned", species_key="apple", planted_on=TODAY + 9 * DAY)
    make_tree(
        "Potted",
        species_key="apple",
        planted_on=OLD,
        in_container=True,
        container_litres=60.0,
    )
    assert set(mates(site).values()) == {()}


def test_a_bearing_tree_leads_the_walk_for_the_young_ones(site, make_tree):
    make_tree("Young", species_key="apple", planted_on=TODAY - 90 * DAY)
    make_tree("Grown", species_key="apple", planted_on=OLD)
    site.refresh_from_db()
    found = situations(gather(site, TODAY))
    assert [one.tree.name for one in found if one.is_look_lead] == ["Grown"]


def test_one_of_the_neighbours_asks_for_the_walk(site, make_tree):
    for name in ("One", "Two", "Three"):
        make_tree(name, species_key="apple", planted_on=OLD)
    site.refresh_from_db()
    looks = [p for p in propose(gather(site, TODAY)) if p.kind == "inspection"]
    assert len(looks) == 1
    assert looks[0].reason.fact("neighbours") == 2


def test_a_planned_tree_asks_for_its_planting_alone(site, make_tree):
    make_tree("Planned", species_key="apple", planted_on=TODAY + 60 * DAY)
    site.refresh_from_db()
    found = propose(gather(site, TODAY))
    assert {one.kind for one in found} == {"planting"}
    assert {one.action for one in found} == {"ground", "locate", "drainage", "plant"}


@pytest.mark.parametrize("key", sorted(species_catalogue()))
def test_every_kind_of_the_catalogue_is_planted_potted_and_looked_over(key):
    kind = species_facts(key)
    lives: list[dict[str, Any]] = [
        {"planted_on": date(2015, 4, 1), "entered_on": date(2013, 12, 1)},
        {"planted_on": date(2013, 11, 1), "entered_on": date(2013, 11, 1)},
        {"planted_on": None, "entered_on": date(2010, 1, 1)},
        {
            "planted_on": date(2011, 4, 1),
            "entered_on": date(2011, 4, 1),
            "in_container": True,
            "container_litres": 30.0,
        },
    ]
    seen = set()
    for site in (MILD, SHORT, WARM, WARM_SOUTH):
        for month in (1, 4, 7, 10):
            today = date(2014, month, 10)
            for life in lives:
                situation = morning(today, tree(kind, **life), site)
                for rule in (planting, establishing, potting, inspection):
                    found = rule.propose(situation)
                    seen |= {one.kind for one in found}
                    assert all(one.reason.fact("checks") != "" for one in found)
    # Giant herbs are not looked at for flares and stakes.
    expected = {"planting", "establishing", "potting", "inspection"}
    assert seen == expected - ({"establishing"} if kind.habit == "herb" else set())
