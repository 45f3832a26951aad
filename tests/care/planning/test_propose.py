"""Neighbours that one walk looks over, and what a planned tree asks for."""

from datetime import timedelta

from care.planning.gather import gather
from care.planning.propose import propose, situations
from orchard.actions.places import block_named
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
