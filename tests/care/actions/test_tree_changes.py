"""What an entry changes of its tree is taken back with it, and nothing else is."""

from datetime import UTC, datetime, timedelta

import pytest

from care.actions.logbook import observe
from care.actions.tasks import complete_task, take_back
from care.models import Task
from orchard.actions.trees import change_tree
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)
DAY = timedelta(days=1)


def drained(tree, hours):
    return observe(
        tree=tree, what="drainage_hours", person=None, on=TODAY, now=NOW, value=hours
    )


@pytest.fixture
def planting(site, make_tree):
    tree = make_tree("Fig", planted_on=TODAY + 3 * DAY)
    return Task.objects.create(
        site=site,
        tree=tree,
        kind="planting",
        key="2025/plant",
        action="plant",
        earliest=TODAY,
        due=TODAY + 3 * DAY,
        latest=TODAY + 9 * DAY,
    )


def test_a_drainage_test_is_a_fact_of_the_trees_ground(make_tree):
    tree = make_tree()
    entry = drained(tree, 6.5)
    tree.refresh_from_db()
    assert tree.drainage_hours == 6.5
    assert take_back(entry=entry, person=None, now=NOW)
    tree.refresh_from_db()
    assert tree.drainage_hours is None


def test_taking_back_a_second_test_leaves_the_first(make_tree):
    tree = make_tree()
    drained(tree, 6.5)
    take_back(entry=drained(tree, 60.0), person=None, now=NOW)
    tree.refresh_from_db()
    assert tree.drainage_hours == 6.5


def test_what_was_changed_since_stays(make_tree):
    tree = make_tree()
    entry = drained(tree, 6.5)
    change_tree(tree=tree, values={"drainage_hours": 24.0})
    take_back(entry=entry, person=None, now=NOW)
    tree.refresh_from_db()
    assert tree.drainage_hours == 24.0


def test_a_test_that_says_what_was_known_changes_nothing(make_tree):
    tree = make_tree(drainage_hours=6.5)
    entry = drained(tree, 6.5)
    assert entry.before is None
    take_back(entry=entry, person=None, now=NOW)
    tree.refresh_from_db()
    assert tree.drainage_hours == 6.5


def test_a_planned_tree_stands_from_the_day_it_was_really_planted(planting):
    outcome = complete_task(task=planting, person=None, on=TODAY, now=NOW)
    tree = planting.tree
    tree.refresh_from_db()
    assert tree.planted_on == TODAY
    assert not tree.is_planned(TODAY)
    outcome.entry.refresh_from_db()
    take_back(entry=outcome.entry, person=None, now=NOW)
    tree.refresh_from_db()
    assert tree.planted_on == TODAY + 3 * DAY


def test_other_steps_of_planting_leave_the_day_alone(planting):
    Task.objects.filter(pk=planting.pk).update(action="locate", key="2025/locate")
    planting.refresh_from_db()
    complete_task(task=planting, person=None, on=TODAY, now=NOW)
    planting.tree.refresh_from_db()
    assert planting.tree.planted_on == TODAY + 3 * DAY
