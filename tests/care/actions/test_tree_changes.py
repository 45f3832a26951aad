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


def test_the_hours_a_test_hole_took_are_kept_when_the_test_is_ticked(planting):
    Task.objects.filter(pk=planting.pk).update(action="drainage", key="2025/drainage")
    planting.refresh_from_db()
    outcome = complete_task(task=planting, person=None, on=TODAY, now=NOW, amount=6.5)
    tree = planting.tree
    tree.refresh_from_db()
    assert tree.drainage_hours == 6.5
    assert (outcome.entry.amount, outcome.entry.unit) == (6.5, "h")
    assert take_back(entry=outcome.entry, person=None, now=NOW)
    tree.refresh_from_db()
    assert tree.drainage_hours is None


def test_a_test_ticked_without_its_hours_says_nothing_of_the_ground(planting):
    Task.objects.filter(pk=planting.pk).update(action="drainage", key="2025/drainage")
    planting.refresh_from_db()
    complete_task(task=planting, person=None, on=TODAY, now=NOW)
    planting.tree.refresh_from_db()
    assert planting.tree.drainage_hours is None


def test_a_fitted_trunk_guard_stands_until_it_is_taken_back(planting):
    guard = {"kind": "weeding", "action": "fit_guard", "key": "next/guard"}
    Task.objects.filter(pk=planting.pk).update(**guard)
    planting.refresh_from_db()
    outcome = complete_task(task=planting, person=None, on=TODAY, now=NOW)
    planting.tree.refresh_from_db()
    assert planting.tree.has_trunk_guard
    assert take_back(entry=outcome.entry, person=None, now=NOW)
    planting.tree.refresh_from_db()
    assert not planting.tree.has_trunk_guard


def test_other_steps_of_planting_leave_the_day_alone(planting):
    Task.objects.filter(pk=planting.pk).update(action="locate", key="2025/locate")
    planting.refresh_from_db()
    complete_task(task=planting, person=None, on=TODAY, now=NOW)
    planting.tree.refresh_from_db()
    assert planting.tree.planted_on == TODAY + 3 * DAY


@pytest.fixture
def make_pot(make_tree):
    def make(**values):
        return make_tree("Lemon", in_container=True, container_litres=40.0, **values)

    return make


def asked(tree, kind, action, amount=None, unit=""):
    return Task.objects.create(
        site=tree.site,
        tree=tree,
        kind=kind,
        key="2025/any",
        action=action,
        earliest=TODAY,
        due=TODAY,
        latest=TODAY + 9 * DAY,
        amount=amount,
        unit=unit,
    )


def test_a_tree_that_was_potted_on_stands_in_the_new_pot(make_pot):
    tree = make_pot(container_diameter_m=0.4)
    task = asked(tree, "potting", "pot_up", 60.0, "L")
    outcome = complete_task(task=task, person=None, on=TODAY, now=NOW, amount=80.0)
    tree.refresh_from_db()
    assert tree.container_litres == 80.0
    assert tree.container_diameter_m == pytest.approx(0.4 * 2 ** (1 / 3), abs=1e-3)
    take_back(entry=outcome.entry, person=None, now=NOW)
    tree.refresh_from_db()
    assert (tree.container_litres, tree.container_diameter_m) == (40.0, 0.4)


def test_a_pot_whose_width_nobody_measured_gets_none(make_pot):
    tree = make_pot()
    task = asked(tree, "potting", "pot_up", 60.0, "L")
    complete_task(task=task, person=None, on=TODAY, now=NOW)
    tree.refresh_from_db()
    assert (tree.container_litres, tree.container_diameter_m) == (60.0, None)


def test_roots_that_were_only_looked_at_change_no_pot(make_pot):
    tree = make_pot()
    task = asked(tree, "potting", "look_at_roots")
    outcome = complete_task(task=task, person=None, on=TODAY, now=NOW)
    tree.refresh_from_db()
    assert tree.container_litres == 40.0
    assert outcome.entry.before is None


def test_a_widened_ring_is_watered_as_wide(make_tree):
    tree = make_tree(watered_radius_m=0.3)
    task = asked(tree, "establishing", "widen", 0.45, "m")
    outcome = complete_task(task=task, person=None, on=TODAY, now=NOW)
    tree.refresh_from_db()
    assert tree.watered_radius_m == 0.45
    take_back(entry=outcome.entry, person=None, now=NOW)
    tree.refresh_from_db()
    assert tree.watered_radius_m == 0.3


def test_a_tree_whose_stake_was_taken_off_stands_alone(make_tree):
    tree = make_tree(support="stake")
    task = asked(tree, "establishing", "unstake")
    complete_task(task=task, person=None, on=TODAY, now=NOW)
    tree.refresh_from_db()
    assert tree.support == "none"
