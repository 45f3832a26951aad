"""When each species is likely to bloom and to be picked, told ahead of time."""

from dataclasses import replace
from datetime import date

import numpy as np

from care.facts import Observation
from care.planning.gather import Records
from care.planning.species_facts import species_facts
from care.planning.stages_ahead import stages_ahead
from tests.care.planning.water_cases import SITE, normals, old_apple, weather

FEBRUARY, JUNE = date(2015, 2, 20), date(2015, 6, 10)


def told(today, *species, series=None, seen=(), trees=(), site=SITE):
    grown = [
        old_apple(id=number, species=species_facts(key))
        for number, key in enumerate(species, start=1)
    ]
    records = Records(
        site=site,
        trees=(*grown, *trees),
        weather=series or weather(today, days_ahead=200),
        work=(),
        observations=tuple(seen),
        holds=(),
        typed_minimum_c=None,
        revision=1,
        today=today,
    )
    return {each.species_key: each for each in stages_ahead(records)}


def test_the_bloom_of_2015_came_within_what_february_told():
    # 19 March 2015 by the weather that came (see test_stages.py): the earliest of the
    # record.
    bloom = told(FEBRUARY, "sweet_cherry")["sweet_cherry"].full_bloom
    assert bloom.low <= date(2015, 3, 19) < bloom.middle < bloom.high
    assert not bloom.is_firm
    assert bloom.members.past_years == 3


def test_a_bloom_that_the_weather_brought_is_firm_and_its_picking_follows():
    cherry = told(JUNE, "sweet_cherry")["sweet_cherry"]
    assert cherry.full_bloom.is_firm
    assert abs((cherry.full_bloom.middle - date(2015, 3, 19)).days) <= 1
    # Sixty days and more from bloom to the first cherries.
    wait = (cherry.harvest_begins.low - cherry.full_bloom.low).days
    assert 50 <= wait <= 70
    assert not cherry.harvest_begins.is_firm


def test_a_bloom_that_somebody_saw_stands():
    seen = Observation(1, "bloom_stage", date(2015, 3, 24), word="full_bloom")
    cherry = told(JUNE, "sweet_cherry", seen=[seen])["sweet_cherry"]
    assert cherry.full_bloom.low == cherry.full_bloom.high == date(2015, 3, 24)
    assert cherry.full_bloom.is_firm
    assert cherry.full_bloom.members.count == 1


def test_months_alone_give_a_wider_range_than_a_record():
    by_record = told(FEBRUARY, "peach")["peach"].full_bloom
    by_months = told(FEBRUARY, "peach", series=normals(FEBRUARY, days_ahead=200))
    bloom = by_months["peach"].full_bloom
    assert bloom.members.generated == 30
    assert bloom.high - bloom.low > by_record.high - by_record.low


def test_species_come_by_name_and_planned_trees_not_at_all():
    planned = old_apple(
        id=9, species=species_facts("quince"), planted_on=date(2015, 11, 1)
    )
    found = told(FEBRUARY, "sweet_cherry", "lemon", "apple", trees=[planned])
    assert list(found) == ["apple", "lemon", "sweet_cherry"]


def test_evergreens_and_places_too_warm_for_rest_have_no_modelled_bloom():
    lemon = told(FEBRUARY, "lemon")["lemon"]
    assert lemon.full_bloom is None
    assert lemon.harvest_begins is None
    warm = weather(FEBRUARY, days_ahead=200)
    warm = replace(warm, tmin_c=warm.tmin_c + 15, tmax_c=warm.tmax_c + 15)
    assert told(FEBRUARY, "apple", series=warm)["apple"].full_bloom is None


def test_a_bloom_far_from_its_months_is_not_believed():
    cold = weather(FEBRUARY, days_ahead=200)
    cold = replace(cold, tmin_c=cold.tmin_c - 9, tmax_c=cold.tmax_c - 9)
    assert told(FEBRUARY, "apple", series=cold)["apple"].full_bloom is None


def test_southern_trees_bloom_half_a_year_later():
    today = date(2015, 8, 20)
    series = normals(today, days_ahead=200)
    turned = (np.arange(len(series)) + 183) % 365
    series = replace(series, tmin_c=series.tmin_c[turned], tmax_c=series.tmax_c[turned])
    south = replace(SITE, latitude_deg=-47.45)
    bloom = told(today, "peach", series=series, site=south)["peach"].full_bloom
    assert date(2015, 9, 10) < bloom.middle < date(2015, 10, 31)


def test_without_weather_nothing_is_told():
    records = Records(SITE, (), None, (), (), (), None, 1, FEBRUARY)
    assert stages_ahead(records) == ()
