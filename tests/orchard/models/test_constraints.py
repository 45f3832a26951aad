"""What the database itself refuses, whoever writes to it."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import IntegrityError, transaction

from care.models import LogEntry
from orchard.models import (
    FrostEvening,
    Membership,
    Site,
    Tree,
    WeatherBatch,
    WeatherDay,
    WeatherSeries,
)
from tests.conftest import TODAY


def refused(write) -> bool:
    try:
        with transaction.atomic():
            write()
    except IntegrityError:
        return True
    return False


@pytest.mark.parametrize(
    "facts",
    [
        {"name": ""},
        {"species_key": ""},
        {"in_container": True, "container_litres": None},
        {"in_container": True, "container_litres": 0.0},
        {"crown_width_m": 0.0},
        {"drip_l_per_h": 0.0},
        {"drainage_hours": -1.0},
        {"water_distance_m": -1.0},
        {"soil_ph": 12.0},
        {"goal": "win"},
        {"support": "hope"},
    ],
)
def test_an_impossible_tree(make_tree, facts):
    assert refused(lambda: make_tree(**facts))


def test_a_tree_may_be_planned_and_then_stands_from_its_day_on(make_tree):
    tree = make_tree(planted_on=TODAY + timedelta(days=1))
    assert tree.is_planned(TODAY)
    assert not tree.is_planned(TODAY + timedelta(days=1))


def test_a_tree_that_ended_without_a_date(make_tree):
    tree = make_tree()
    assert refused(lambda: Tree.objects.filter(pk=tree.pk).update(status="lost"))


def test_two_trees_with_one_tag(make_tree):
    make_tree(tag="A1")
    assert refused(lambda: make_tree(tag="A1"))
    make_tree(tag="")
    make_tree(tag="")


@pytest.mark.parametrize(
    "facts",
    [
        {"latitude_deg": 91.0},
        {"longitude_deg": -181.0},
        {"soil_texture": "gravel"},
        {"soil_ph": 2.9},
        {"soil_nitrogen": "twice"},
        {"hose_bucket_l": 10.0},
        {"hose_bucket_l": 10.0, "hose_bucket_s": 0.0},
        {"water_setback_m": -1.0},
        {"feed_density_g_per_ml": 0.0},
    ],
)
def test_an_impossible_site(site, facts):
    assert refused(lambda: Site.objects.filter(pk=site.pk).update(**facts))


@pytest.mark.parametrize(
    "facts", [{"tmin_c": 9.0, "tmax_c": 8.0}, {"rain_mm": -1.0}, {"rain_mm": 5000.0}]
)
def test_an_impossible_day(site, facts):
    series = WeatherSeries.objects.create(owner=site, kind="station", name="x")
    batch = WeatherBatch.objects.create(series=series, label="x")
    day = date(2025, 1, 1)
    assert refused(lambda: WeatherDay.objects.create(batch=batch, day=day, **facts))


def test_one_day_twice_in_a_batch(site):
    series = WeatherSeries.objects.create(owner=site, kind="station", name="x")
    batch = WeatherBatch.objects.create(series=series, label="x")
    WeatherDay.objects.create(batch=batch, day=TODAY, rain_mm=1.0)
    assert refused(lambda: WeatherDay.objects.create(batch=batch, day=TODAY))


def test_air_damper_than_it_can_be(site):
    evening = {"site": site, "on": TODAY, "air_c": 2.0}
    assert refused(lambda: FrostEvening.objects.create(**evening, dew_point_c=2.1))
    FrostEvening.objects.create(**evening, dew_point_c=2.0)
    assert refused(lambda: FrostEvening.objects.create(**evening, dew_point_c=1.0))


def test_a_hold_that_ended_before_it_began(site):
    entry = {"site": site, "what": "done", "kind": "spray", "on": TODAY}
    entry |= {"recorded_at": datetime(2025, 7, 2, tzinfo=UTC)}
    before = TODAY - timedelta(days=1)
    assert refused(lambda: LogEntry.objects.create(**entry, held_until=before))
    LogEntry.objects.create(**entry, held_until=TODAY)


def test_a_role_nobody_knows(site, cast):
    members = Membership.objects.filter(person=cast.viewer)
    assert refused(lambda: members.update(role="king"))


def test_one_person_twice_in_an_orchard(site, cast):
    assert refused(
        lambda: Membership.objects.create(
            person=cast.viewer, orchard=site.orchard, role="grower"
        )
    )
