"""What stands on the plan: whose it is, how large it grows, in how many queries."""

from datetime import date

import pytest

from care.facts import Standing
from care.planning.gather_layout import layout_facts
from orchard.models import (
    Clump,
    Feature,
    Graft,
    NeighbourTree,
    Planting,
    SitePlan,
    WantedTree,
)
from tests.conftest import TODAY


@pytest.fixture
def full(site, make_tree):
    hedge = Clump.objects.create(
        site=site, name="Hedge", is_hedge=True, height_limit_m=2.0
    )
    apple = make_tree("Apple", x_m=1.0, y_m=2.0, cultivar="Gala", clump=hedge)
    make_tree("Fig", species_key="fig", in_container=True, container_litres=40.0)
    Graft.objects.create(
        tree=apple, species_key="apple", cultivar="Fuji", grafted_on=date(2024, 3, 1)
    )
    SitePlan.objects.create(site=site, up_bearing_deg=15.0)
    Feature.objects.create(
        site=site, kind="free", points_m=[[0, 0], [9, 0], [9, 9], [0, 9]]
    )
    planting = Planting.objects.create(site=site, name="Spring", begun_on=TODAY)
    WantedTree.objects.create(planting=planting, name="Pear", species_key="pear")
    NeighbourTree.objects.create(site=site, species_key="apple", distance_m=12.0)
    return site


def test_everybodys_plants_are_on_the_plan(full):
    layout = layout_facts(full, TODAY)
    assert [(each.name, each.standing) for each in layout.plants] == [
        ("Apple", Standing.OURS),
        ("Fig", Standing.OURS),
        ("Pear", Standing.WANTED),
        ("apple", Standing.NEIGHBOUR),
    ]
    assert layout.up_bearing_deg == 15.0
    assert layout.features[0].points_m[2] == (9.0, 9.0)


def test_a_declared_limit_is_how_high_a_plant_grows(full):
    apple = layout_facts(full, TODAY).plants[0]
    assert apple.grown_height_m == 2.0
    assert apple.place_m == (1.0, 2.0)
    assert [name for name, _ in apple.grafts] == ["Fuji"]


def test_a_wanted_tree_that_has_a_row_counts_once(full, make_tree):
    wanted = WantedTree.objects.get()
    wanted.tree = make_tree("Pear")
    wanted.save()
    names = [each.name for each in layout_facts(full, TODAY).plants]
    assert names.count("Pear") == 1


def test_a_rootstock_keeps_a_plant_small(full, make_tree):
    make_tree("Dwarf", rootstock="M.9")
    WantedTree.objects.update(rootstock="Quince C")
    plants = {each.name: each for each in layout_facts(full, TODAY).plants}
    # An apple of 5 by 6 m, a pear of 5 by 8 m; see test_rootstocks.
    dwarf, pear = plants["Dwarf"], plants["Pear"]
    assert dwarf.grown_spread_m == pytest.approx(5 * 12 / 25)
    assert dwarf.grown_height_m == pytest.approx(6 * 0.4)
    assert pear.grown_spread_m == pytest.approx(5 * 18 / 25)
    assert pear.grown_height_m == pytest.approx(8 * 0.6)


def test_queries_stay_constant(full, make_tree, django_assert_max_num_queries):
    for number in range(5):
        make_tree(f"Apple {number}", x_m=3.0 * number, y_m=8.0)
    with django_assert_max_num_queries(12):
        layout_facts(full, TODAY)
