"""What cold the species of a site bear, by the tree of each that is hurt first."""

from datetime import date, timedelta

from care.planning.cold_ahead import cold_stand
from care.planning.cold_by_species import cold_by_species
from care.planning.gather import gather
from orchard.actions.weather import set_normals
from tests.care.test_season_page import NORMALS
from tests.conftest import TODAY


def test_each_species_has_the_figure_of_its_tree_that_is_hurt_first(site, make_tree):
    old = make_tree(name="Old", species_key="lemon", planted_on=date(2010, 3, 1))
    young = make_tree(name="Young", species_key="lemon", planted_on=date(2025, 3, 1))
    pot = make_tree(
        name="Pot", species_key="lemon", in_container=True, container_litres=40.0
    )
    make_tree(name="Apple")
    make_tree(name="Next", species_key="fig", planted_on=TODAY + timedelta(days=90))
    set_normals(site=site, months=NORMALS)
    records = gather(site, TODAY)
    found = cold_by_species(records)
    assert [(kind.species, kind.in_container) for kind in found] == [
        ("Lemon", True),
        ("Lemon", False),
        ("Apple", False),
    ]
    stands = {tree.pk: cold_stand(records, tree.pk) for tree in (old, young, pot)}
    assert found[0].bears_c == stands[pot.pk].bears_c
    in_ground = max(stands[old.pk].bears_c, stands[young.pk].bears_c)
    assert found[1].bears_c == in_ground
    assert found[1].ahead.threshold_c == in_ground
    assert found[1].ahead.first_autumn is not None


def test_without_weather_the_figures_stand_alone(site, make_tree):
    make_tree(species_key="lemon")
    (lemon,) = cold_by_species(gather(site, TODAY))
    assert lemon.ahead is None
