"""Two people at the same instant, on a database that really lets them."""

import threading
from collections.abc import Callable
from datetime import UTC, datetime

import pytest
from django.db import connections

from care.actions.tasks import complete_task
from care.models import LogEntry, Round, Task
from care.planning.plan_site import plan_site
from orchard.actions.people import make_signin_link, use_signin_link
from orchard.actions.weather import set_normals
from orchard.models import Site
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.postgresql]


def at_once(work: Callable[[], object], people: int = 8) -> list[object]:
    """Run the same work from many connections that start together."""
    gate = threading.Barrier(people)
    results: list[object] = []

    def run() -> None:
        try:
            gate.wait()
            results.append(work())
        finally:
            connections.close_all()

    threads = [threading.Thread(target=run) for _ in range(people)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(results) == people
    return results


@pytest.fixture
def thirsty(site, make_tree):
    set_normals(site=site, months=[(m, 12.0, 30.0, 2.0) for m in range(1, 13)])
    return make_tree(
        "Lemon", species_key="lemon", in_container=True, container_litres=20.0
    )


def test_one_task_ticked_by_eight_people_is_one_entry(site, thirsty):
    site.refresh_from_db()
    plan_site(site, TODAY, NOW)
    pk = Task.objects.get(tree=thirsty, kind="watering", key="next").pk

    def tick() -> bool:
        task = Task.objects.select_related("tree", "site").get(pk=pk)
        return complete_task(task=task, person=None, on=TODAY, now=NOW).is_new

    assert sorted(map(bool, at_once(tick))) == [False] * 7 + [True]
    assert LogEntry.objects.filter(task_id=pk).count() == 1


def test_eight_plans_at_once_make_one_plan(site, thirsty):
    def plan() -> None:
        plan_site(Site.objects.get(pk=site.pk), TODAY, NOW)

    at_once(plan)
    keys = list(Task.objects.values_list("tree_id", "kind", "key"))
    assert keys
    assert len(keys) == len(set(keys))
    places = list(
        Round.objects.filter(is_withdrawn=False).values_list("block_id", "day")
    )
    assert len(places) == len(set(places))


def test_one_signin_link_opens_for_exactly_one(cast):
    token = make_signin_link(person=cast.owner).rstrip("/").rsplit("/", 1)[1]
    from django.utils import timezone

    used = at_once(lambda: use_signin_link(token=token, now=timezone.now()))
    assert sum(person is not None for person in used) == 1
