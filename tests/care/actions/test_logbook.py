"""What people write without being asked changes what they are asked next."""

from datetime import UTC, datetime, timedelta

import pytest

from care.actions.logbook import log_harvest
from care.actions.tasks import take_back
from care.models import Task
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)


@pytest.fixture
def picking(site, make_tree):
    return Task.objects.create(
        site=site,
        tree=make_tree(),
        kind="harvest",
        key="2025/1",
        action="pick",
        earliest=TODAY - timedelta(days=3),
        due=TODAY,
        latest=TODAY + timedelta(days=9),
    )


def harvest(tree, on=TODAY):
    return log_harvest(tree=tree, mass_kg=4.5, person=None, on=on, now=NOW)


def test_a_harvest_ticks_the_picking_that_was_asked_for(picking):
    entry = harvest(picking.tree)
    picking.refresh_from_db()
    assert (picking.status, entry.task, entry.amount) == ("done", picking, 4.5)


def test_a_second_harvest_is_logged_by_itself(picking):
    harvest(picking.tree)
    later = log_harvest(tree=picking.tree, mass_kg=9.0, person=None, on=TODAY, now=NOW)
    assert (later.task, later.amount) == (None, 9.0)


def test_a_harvest_before_the_window_ticks_nothing(picking):
    assert harvest(picking.tree, TODAY - timedelta(days=9)).task is None
    picking.refresh_from_db()
    assert picking.status == "open"


def test_a_notice_not_to_pick_is_not_answered_by_picking(picking):
    Task.objects.filter(pk=picking.pk).update(action="hold", key="2025/hold0705")
    assert harvest(picking.tree).task is None
    picking.refresh_from_db()
    assert picking.status == "open"


def test_taking_the_harvest_back_asks_for_the_picking_again(picking):
    entry = harvest(picking.tree)
    picking.refresh_from_db()
    assert take_back(entry=entry, person=None, now=NOW)
    picking.refresh_from_db()
    assert picking.status == "open"


def test_a_harvest_makes_the_plan_stale(picking):
    picking.site.refresh_from_db()
    before = picking.site.revision
    harvest(picking.tree)
    picking.site.refresh_from_db()
    assert picking.site.revision == before + 1
