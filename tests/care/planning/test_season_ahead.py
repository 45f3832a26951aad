"""What the season may bring a site: parts that are known, and parts that are not."""

from dataclasses import replace

from care.planning.gather import gather
from care.planning.season_ahead import of_species, season_ahead
from orchard.actions.weather import set_normals
from tests.care.test_season_page import NORMALS
from tests.conftest import TODAY


def test_usual_weather_alone_tells_of_all_but_says_it_is_made_up(site, make_tree):
    make_tree()
    make_tree(name="Lemon", species_key="lemon")
    set_normals(site=site, months=NORMALS)
    records = gather(site, TODAY)
    found = season_ahead(records, [250.0])
    assert found.chill is not None
    assert set(found.chill.enough) == {250.0}
    assert found.frost is not None
    assert [stage.species_key for stage in found.stages] == ["apple", "lemon"]
    assert found.members is not None
    assert found.members.is_generated
    apples = season_ahead(of_species(records, "apple"), [])
    assert [stage.species_key for stage in apples.stages] == ["apple"]
    assert apples.stages[0] == found.stages[0]


def test_a_frost_free_site_hears_of_no_frost(site, make_tree):
    make_tree()
    set_normals(site=site, months=NORMALS)
    records = gather(site, TODAY)
    free = replace(records, site=replace(records.site, is_frost_free=True))
    assert season_ahead(free, []).frost is None


def test_without_weather_nothing_is_likely(site):
    found = season_ahead(gather(site, TODAY), [250.0])
    assert (found.chill, found.heat, found.frost, found.stages) == (
        None,
        None,
        None,
        (),
    )
    assert found.members is None
