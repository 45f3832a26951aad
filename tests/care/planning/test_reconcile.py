"""Matching proposals to stored tasks: identities are stable, people's work is theirs."""

from datetime import date, timedelta
from typing import Any

import pytest

from care.facts import WorkDone
from care.models import Task
from care.planning.reconcile import match, wanted
from care.proposals import Proposal, Reason
from tests.conftest import TODAY

DAY = timedelta(days=1)


def proposal(tree_id: int, *, due: date = TODAY, **values: object) -> Proposal:
    facts: dict[str, Any] = {
        "kind": "watering",
        "key": "next",
        "action": "water",
        "earliest": due,
        "latest": due + 3 * DAY,
        "reason": Reason("root_zone_dry", (("missing_l", 20.0),)),
        "amount": 20.0,
        "unit": "L",
        **values,
    }
    return Proposal(tree_id=tree_id, due=due, **facts)


def identity(one: Proposal) -> tuple[int, str, str]:
    return (one.tree_id, one.kind, one.key)


def plan(site, *proposals: Proposal) -> list[Task]:
    stored = Task.objects.filter(site=site, status__in=["open", "withdrawn"])
    matched = match(site, {identity(p): p for p in proposals}, stored)
    Task.objects.bulk_create(matched.created)
    for task in matched.changed:
        task.save()
    return matched.current


def test_the_same_proposals_twice_change_nothing(site, make_tree):
    tree = make_tree()
    plan(site, proposal(tree.pk))
    again = match(
        site, {identity(proposal(tree.pk)): proposal(tree.pk)}, Task.objects.all()
    )
    assert (again.created, again.changed) == ([], [])


def test_a_moved_date_keeps_the_row(site, make_tree):
    tree = make_tree()
    (before,) = plan(site, proposal(tree.pk))
    (after,) = plan(site, proposal(tree.pk, due=TODAY + 2 * DAY))
    assert after.pk == before.pk
    assert after.public_id == before.public_id
    assert after.due == TODAY + 2 * DAY


def test_a_withdrawn_task_returns_as_itself(site, make_tree):
    tree = make_tree()
    (before,) = plan(site, proposal(tree.pk))
    assert plan(site) == []
    assert Task.objects.get().status == "withdrawn"
    assert Task.objects.get().reason["code"] == "root_zone_dry"
    (after,) = plan(site, proposal(tree.pk))
    assert after.pk == before.pk
    assert Task.objects.get().status == "open"


def test_done_and_skipped_tasks_are_never_touched(site, make_tree):
    tree = make_tree()
    (task,) = plan(site, proposal(tree.pk))
    Task.objects.filter(pk=task.pk).update(status="done")
    done = Task.objects.filter(pk=task.pk).values().get()
    (following,) = plan(site, proposal(tree.pk, due=TODAY + 9 * DAY))
    assert following.pk != task.pk
    assert Task.objects.filter(pk=task.pk).values().get() == done


def test_a_task_held_back_by_a_person_stays_back(site, make_tree):
    tree = make_tree()
    (task,) = plan(site, proposal(tree.pk))
    Task.objects.filter(pk=task.pk).update(not_before=TODAY + 5 * DAY)
    (held,) = plan(site, proposal(tree.pk))
    assert held.earliest == held.due == held.latest == TODAY + 5 * DAY


def test_closed_calendar_work_is_not_asked_again():
    feeding = proposal(1, kind="feeding", key="2025/1", action="feed")
    closed = [(1, "feeding", "2025/1")]
    assert wanted([feeding], [], closed, TODAY) == {}
    assert wanted([feeding], [], [], TODAY) == {identity(feeding): feeding}


@pytest.mark.parametrize(("days_ago", "due_in"), [(0, 2), (1, 1), (2, 0), (5, 0)])
def test_a_skipped_watering_is_believed_for_two_days(days_ago, due_in):
    skip = WorkDone(1, "watering", "next", TODAY - days_ago * DAY, what="skipped")
    (kept,) = wanted([proposal(1)], [skip], [], TODAY).values()
    assert kept.due == TODAY + due_in * DAY


def test_a_pot_already_moved_tonight_is_not_asked_for_again():
    moving = proposal(1, kind="cold", action="move_in", latest=TODAY, is_urgent=True)
    done = WorkDone(1, "cold", "next", TODAY)
    assert wanted([moving], [done], [], TODAY) == {}
    yesterday = WorkDone(1, "cold", "next", TODAY - DAY)
    assert len(wanted([moving], [yesterday], [], TODAY)) == 1


def test_far_projections_are_not_stored():
    later = proposal(1, key="later/1", is_firm=False)
    assert wanted([later], [], [], TODAY) == {}
