"""What the season may bring a site: parts that are known, and parts that are not."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import WeatherSeries
from care.planning.cold_by_species import cold_by_species
from care.planning.gather import gather
from care.planning.season_ahead import (
    knows_the_year,
    of_species,
    season_ahead,
    tree_ahead,
)
from care.planning.species_facts import species_facts
from orchard.actions.weather import import_days, set_normals
from orchard.models import Stay
from tests.care.science.reference import SeattleRecord
from tests.care.test_season_page import NORMALS
from tests.conftest import TODAY

SEATTLE = SeattleRecord()


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
    apples = season_ahead(of_species(records, species_facts("apple")), [])
    assert [stage.species_key for stage in apples.stages] == ["apple"]
    assert apples.stages[0] == found.stages[0]


def test_a_frost_free_site_hears_of_no_frost(site, make_tree):
    make_tree()
    set_normals(site=site, months=NORMALS)
    records = gather(site, TODAY)
    free = replace(records, site=replace(records.site, is_frost_free=True))
    assert season_ahead(free, []).frost is None


@pytest.mark.parametrize(("july_days", "is_known"), [(9, False), (10, True)])
def test_a_winter_alone_tells_nothing_of_a_summer(july_days, is_known):
    months = np.array([day.month for day in SEATTLE.days[:366]])
    july = np.flatnonzero(months == 7)
    tmin_c = SEATTLE.tmin_c[:366].copy()
    tmin_c[july[july_days:]] = np.nan
    series = WeatherSeries(
        SEATTLE.start, tmin_c, SEATTLE.tmax_c[:366], SEATTLE.rain_mm[:366], "o" * 366
    )
    assert knows_the_year(series) is is_known
    assert not knows_the_year(replace(series, origin="f" * 366))


def test_nothing_is_likely_before_every_month_is_known(site, make_tree):
    tree = make_tree()
    days = [
        (TODAY - timedelta(days=n), {"tmin_c": 10.0 + n % 3, "tmax_c": 20.0 + n % 4})
        for n in range(1, 30)
    ]
    import_days(site=site, days=days, label="a month", person=None)
    records = gather(site, TODAY)
    assert season_ahead(records, [250.0]).chill is None
    assert tree_ahead(records, tree.pk, [250.0]) is None
    assert all(kind.ahead is None for kind in cold_by_species(records))


def test_without_weather_nothing_is_likely(site):
    found = season_ahead(gather(site, TODAY), [250.0])
    assert (found.chill, found.heat, found.frost, found.stages) == (
        None,
        None,
        None,
        (),
    )
    assert found.members is None


def test_a_tree_has_what_its_species_has_and_no_harvest_before_it_bears(
    site, make_tree
):
    old = make_tree(planted_on=date(2012, 3, 1))
    young = make_tree(name="Young", planted_on=date(2025, 3, 1))
    later = make_tree(name="Later", planted_on=TODAY + timedelta(days=30))
    set_normals(site=site, months=NORMALS)
    records = gather(site, TODAY)
    grown = tree_ahead(records, old.pk, [250.0])
    whip = tree_ahead(records, young.pk, [250.0])
    assert grown.harvest_begins is not None
    assert whip.harvest_begins is None
    assert whip.full_bloom == grown.full_bloom
    assert grown.enough == {}  # it is summer: the next winter has not begun
    assert tree_ahead(records, later.pk, []) is None
    assert tree_ahead(records, 0, []) is None
    assert tree_ahead(replace(records, weather=None), old.pk, []) is None
    winter = tree_ahead(gather(site, date(2026, 1, 10)), old.pk, [250.0])
    assert winter.enough[250.0].low < date(2026, 1, 10)


def test_of_a_pot_indoors_nothing_is_told_by_the_weather_outdoors(site, make_tree):
    pot = make_tree(in_container=True, container_litres=60.0)
    Stay.objects.create(tree=pot, place="indoors_heated", since=date(2025, 5, 1))
    set_normals(site=site, months=NORMALS)
    assert tree_ahead(gather(site, TODAY), pot.pk, []) is None
