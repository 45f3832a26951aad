"""Tasks of the plan, written by hand, and a site that holds its plan for fresh."""

import uuid
from collections.abc import Callable
from datetime import date, timedelta

import pytest
from django.db.models import F
from django.utils import timezone

from care.models import Round, Task
from orchard.models import Site, Tree
from tests.conftest import TODAY


@pytest.fixture
def keep_plan(site: Site) -> Callable[[], None]:
    """Call it last: the pages then read the tasks as they were written here."""

    def keep() -> None:
        Site.objects.filter(pk=site.pk).update(
            planned_revision=F("revision"), planned_on=TODAY
        )

    return keep


@pytest.fixture
def make_task(site: Site) -> Callable[..., Task]:
    """Write a task of the plan; a watering due today unless told otherwise."""

    def make(tree: Tree, *, days: int = 0, **values: object) -> Task:
        due = TODAY + timedelta(days=days)
        facts: dict[str, object] = {
            "kind": "watering",
            "key": "next",
            "action": "water",
            "earliest": due - timedelta(days=2),
            "due": due,
            "latest": due + timedelta(days=2),
            "amount": 18.0,
            "unit": "L",
            "reason": {"code": "water_established", "facts": [], "would_change": []},
            **values,
        }
        return Task.objects.create(site=site, tree=tree, **facts)

    return make


@pytest.fixture
def make_round(site: Site) -> Callable[..., Round]:
    """Write a round of the plan."""

    def make(day: date, tasks: list[Task], **values: object) -> Round:
        one = Round.objects.create(
            site=site,
            block=tasks[0].tree.block,
            day=day,
            uid=uuid.uuid4(),
            changed_at=timezone.now(),
            **values,
        )
        Task.objects.filter(pk__in=[task.pk for task in tasks]).update(round=one)
        return one

    return make
