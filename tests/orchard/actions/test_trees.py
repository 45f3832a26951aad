from datetime import date

import pytest
from django.db import IntegrityError, transaction

from orchard.actions.trees import (
    Company,
    add_tree,
    add_trees,
    change_tree,
    end_tree,
    put_pot,
    revive_tree,
)
from orchard.models import Block, Clump, Site, Tree
from tests.conftest import TODAY

POT = {"name": "Lemon", "species_key": "lemon", "in_container": True}
SIXTY = {**POT, "container_litres": 60.0}


def revision(site):
    return Site.objects.get(pk=site.pk).revision


def test_a_tree_comes_with_block_clump_and_stay_in_one_act(site):
    before = revision(site)
    company = Company("Patio", "Hedge", ("under_cover", date(2025, 6, 1)))
    tree = add_tree(site=site, values=SIXTY, today=TODAY, company=company)
    assert (tree.block.name, tree.clump.name) == ("Patio", "Hedge")
    assert tree.stays.get().place == "under_cover"
    assert tree.entered_on == TODAY
    assert revision(site) == before + 1


def test_nothing_stays_of_a_tree_that_cannot_be(site):
    before = revision(site)
    with pytest.raises(IntegrityError), transaction.atomic():
        add_tree(
            site=site,
            values={**POT, "container_litres": 0.0},
            today=TODAY,
            company=Company("New block", "New clump"),
        )
    assert not Block.objects.filter(name="New block").exists()
    assert not Clump.objects.exists()
    assert revision(site) == before


def test_many_trees_are_entered_all_or_none(site):
    before = revision(site)
    good = {"name": "Fig", "species_key": "fig"}
    trees = add_trees(site=site, rows=[good, SIXTY], block_name="Patio", today=TODAY)
    assert [tree.position for tree in trees] == [0, 1]
    assert revision(site) == before + 1
    with pytest.raises(IntegrityError), transaction.atomic():
        add_trees(
            site=site,
            rows=[good, {**POT, "container_litres": 0.0}],
            block_name="Yard",
            today=TODAY,
        )
    assert site.trees.count() == 2
    assert not Block.objects.filter(name="Yard").exists()


def test_a_changed_tree_raises_the_revision_by_one(site, make_tree):
    tree = make_tree()
    before = revision(site)
    change_tree(
        tree=tree,
        values={"crown_width_m": 4.0, "block": None},
        company=Company(block_name="Far end"),
    )
    again = Tree.objects.get(pk=tree.pk)
    assert (again.crown_width_m, again.block.name) == (4.0, "Far end")
    assert revision(site) == before + 1


def test_a_pot_stands_in_one_place_a_day(site, make_tree):
    pot = make_tree("Lemon", in_container=True, container_litres=60.0)
    put_pot(tree=pot, place="outdoors", since=date(2025, 4, 1))
    before = revision(site)
    put_pot(tree=pot, place="under_cover", since=date(2025, 4, 1))
    assert [stay.place for stay in pot.stays.all()] == ["under_cover"]
    assert revision(site) == before + 1


def test_a_tree_in_the_ground_cannot_be_carried(make_tree):
    with pytest.raises(ValueError, match="pot"):
        put_pot(tree=make_tree(), place="outdoors", since=TODAY)


def test_a_lost_tree_may_come_back(site, make_tree):
    tree = make_tree()
    before = revision(site)
    end_tree(tree=tree, status="lost", on=TODAY, reason="Frost")
    assert Tree.objects.get(pk=tree.pk).ended_reason == "Frost"
    revive_tree(tree=tree)
    assert Tree.objects.get(pk=tree.pk).ended_on is None
    assert revision(site) == before + 2


def test_a_clump_of_the_same_name_elsewhere_is_another_clump(cast, site):
    other = cast.stranger.orchards.get().sites.get()
    values = {"name": "Fig", "species_key": "fig"}
    hedge = Company(clump_name="Hedge")
    mine, theirs = (
        add_tree(site=place, values=values, today=TODAY, company=hedge)
        for place in (site, other)
    )
    assert mine.clump != theirs.clump
    assert (mine.clump.site, theirs.clump.site) == (site, other)


def test_a_tree_may_be_entered_before_it_is_planted(site):
    values = {"name": "Fig", "species_key": "fig", "planted_on": date(2025, 7, 3)}
    tree = add_tree(site=site, values=values, today=TODAY)
    assert tree.entered_on < tree.planted_on
    assert tree.is_planned(TODAY)
