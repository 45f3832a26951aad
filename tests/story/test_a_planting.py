"""A tree from the plan to its first looks: call, test, plant, and stand."""

from datetime import UTC, date, datetime, time, timedelta

import pytest

from care.actions.logbook import observe
from care.actions.tasks import NotOpenError, complete_task, take_back
from care.models import Task
from care.planning.plan_site import plan_site
from tests.conftest import TODAY

DAY = timedelta(days=1)
PLANTED = TODAY + 80 * DAY  # mid-September, when rains return to a mild place


def live_until(site, today):
    site.refresh_from_db()
    site.own_today = today
    site.save(update_fields=["own_today"])
    now = datetime.combine(today, time(8), UTC)
    plan_site(site, today, now)
    return now


def open_task(tree, action):
    return Task.objects.filter(tree=tree, action=action, status="open").first()


def tick(site, tree, action, today):
    now = live_until(site, today)
    task = open_task(tree, action)
    assert task is not None, action
    return complete_task(task=task, person=None, on=today, now=now)


@pytest.fixture
def planned(make_tree):
    return make_tree("New pear", species_key="pear", planted_on=PLANTED)


def test_a_planned_tree_is_asked_about_planted_and_then_looked_at(site, planned):
    live_until(site, TODAY)
    kinds = set(Task.objects.filter(tree=planned).values_list("kind", flat=True))
    assert kinds == {"planting"}

    now = live_until(site, PLANTED - 20 * DAY)
    blocked = open_task(planned, "plant")
    with pytest.raises(NotOpenError):
        complete_task(task=blocked, person=None, on=PLANTED, now=now)

    tick(site, planned, "locate", PLANTED - 20 * DAY)
    now = live_until(site, PLANTED - 9 * DAY)
    observe(
        tree=planned,
        what="drainage_hours",
        value=8.0,
        person=None,
        on=PLANTED - 9 * DAY,
        now=now,
    )
    live_until(site, PLANTED - 8 * DAY)
    assert open_task(planned, "drainage") is None

    outcome = tick(site, planned, "plant", PLANTED + DAY)
    planned.refresh_from_db()
    assert planned.planted_on == PLANTED + DAY

    live_until(site, PLANTED + 20 * DAY)
    assert open_task(planned, "plant") is None
    settled = open_task(planned, "settled")
    assert settled is not None
    assert settled.due == PLANTED + 29 * DAY

    assert take_back(entry=outcome.entry, person=None, now=now)
    planned.refresh_from_db()
    assert planned.planted_on == PLANTED


@pytest.mark.parametrize(
    ("planned_on", "really_on"),
    [
        # The care year turns on 1 November, and keys are named by it.
        (date(2025, 11, 1), date(2025, 10, 30)),
        (date(2025, 10, 30), date(2025, 11, 4)),
    ],
)
def test_a_tree_planted_in_another_season_than_planned_is_not_planted_twice(
    site, make_tree, planned_on, really_on
):
    tree = make_tree("New pear", species_key="pear", planted_on=planned_on)
    tick(site, tree, "ground", planned_on - 40 * DAY)
    tick(site, tree, "locate", planned_on - 20 * DAY)
    outcome = tick(site, tree, "plant", really_on)
    tree.refresh_from_db()
    assert tree.planted_on == really_on

    asked = Task.objects.filter(tree=tree, kind="planting", status="open")
    for days in range(1, 60, 7):
        live_until(site, really_on + days * DAY)
        assert not asked.exists()

    now = live_until(site, really_on + DAY)
    assert take_back(entry=outcome.entry, person=None, now=now)
    live_until(site, really_on + DAY)
    steps = set(asked.values_list("action", flat=True))
    assert "plant" in steps
    assert not steps & {"ground", "locate"}
