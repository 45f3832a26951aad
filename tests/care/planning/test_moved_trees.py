"""The plan of a tree that left its pot, or the ground, is that of a newly planted one."""

from datetime import UTC, datetime, timedelta

import pytest

from care.actions.drained import water_tree
from care.actions.logbook import observe
from care.actions.tasks import take_back
from care.actions.tree_moves import Pot, Spot, dig_up, plant_out, repot
from care.models import Task
from care.planning.gather import gather
from care.planning.plan_site import plan_site
from care.planning.propose import outlooks
from orchard.actions.weather import import_days, set_normals
from tests.conftest import TODAY

DAY = timedelta(days=1)
NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)
DRY = [(month, 10.0, 26.0, 5.0) for month in range(1, 13)]
BY = {"person": None, "now": NOW}
SAME_CROWN = {"species_key": "lemon", "crown_width_m": 1.0}


@pytest.fixture
def dry_site(site):
    days = [
        # No two days alike: a sensor that stands still is not believed.
        (
            TODAY - n * DAY,
            {"tmin_c": 12.0 + n % 2, "tmax_c": 28 - n % 2, "rain_mm": 0.0},
        )
        for n in range(1, 60)
    ]
    import_days(site=site, days=days, label="dry", person=None)
    set_normals(site=site, months=DRY)
    return site


@pytest.fixture
def pot(dry_site, make_tree):
    return make_tree("Lemon", **SAME_CROWN, in_container=True, container_litres=50.0)


def asked(site, tree, today=TODAY):
    site.refresh_from_db()
    plan_site(site, today, NOW)
    return {
        (task.kind, task.key, task.action, task.due, task.amount)
        for task in Task.objects.filter(tree=tree, status="open")
    }


def water_of(site, today, *trees):
    site.refresh_from_db()
    found = outlooks(gather(site, today))
    return [found[tree.pk] for tree in trees]


def test_out_of_its_pot_it_is_watered_as_newly_planted(dry_site, pot, make_tree):
    water_tree(tree=pot, litres=5.0, on=TODAY - DAY, **BY)
    observe(tree=pot, what="soil_feel", word="wet", on=TODAY - DAY, **BY)
    before = asked(dry_site, pot)
    assert {kind for kind, *_ in before} >= {"watering", "potting"}
    entry = plant_out(
        tree=pot, ball_litres=50.0, spot=Spot(pot.block_id), on=TODAY, **BY
    )
    new = make_tree("New", **SAME_CROWN, planted_on=TODAY, stock_litres=50.0)
    kinds = {kind for kind, *_ in asked(dry_site, pot, TODAY + DAY)}
    assert kinds >= {"watering", "establishing"}
    # It has been planted: nobody asks for that, nor for anything a pot needs.
    assert kinds.isdisjoint({"planting", "potting"})
    for days in (1, 30):
        on = TODAY + days * DAY
        moved, fresh = water_of(dry_site, on, pot, new)
        assert (moved.is_container, moved.is_established) == (False, False)
        assert moved.due_in_days == fresh.due_in_days
        assert moved.missing_l == pytest.approx(fresh.missing_l)
        assert moved.outer_missing_l == pytest.approx(fresh.outer_missing_l)
    assert take_back(entry=entry, person=None, now=NOW)
    assert asked(dry_site, pot) == before


def test_dug_up_it_is_a_pot_that_was_full_that_day(dry_site, make_tree):
    tree = make_tree(**SAME_CROWN)
    spot = Spot(tree.block_id)
    dig_up(tree=tree, pot=Pot(50.0), spot=spot, on=TODAY - 2 * DAY, **BY)
    (water,) = water_of(dry_site, TODAY, tree)
    assert water.is_container
    # What it drank since, and on the day before that, is missing: not the dry weeks in
    # which it stood in the ground, and nobody watered a pot.
    assert 2 * water.use_l < water.missing_l < 3.2 * water.use_l
    kinds = {kind for kind, *_ in asked(dry_site, tree)}
    assert kinds.isdisjoint({"planting", "establishing"})


def test_once_repotted_no_other_potting_is_asked_for_soon(dry_site, pot):
    keys = {key for kind, key, *_ in asked(dry_site, pot) if kind == "potting"}
    assert keys
    entry = repot(tree=pot, pot=Pot(80.0), on=TODAY, **BY)
    assert not any(kind == "potting" for kind, *_ in asked(dry_site, pot))
    assert entry.before
