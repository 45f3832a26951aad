"""Two people at the same instant, on a database that really lets them."""

import itertools
import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.db import connections

from care.actions.holds import log_spray
from care.actions.same_job import SameJobError
from care.actions.tasks import complete_task, skip_task, take_back
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


def test_done_and_skipped_at_once_is_done_with_at_most_a_voided_skip(site, thirsty):
    site.refresh_from_db()
    plan_site(site, TODAY, NOW)
    pk = Task.objects.get(tree=thirsty, kind="watering", key="next").pk
    turns = itertools.cycle(["done", "skip"])
    lock = threading.Lock()

    def act() -> str:
        with lock:
            what = next(turns)
        task = Task.objects.select_related("tree", "site").get(pk=pk)
        act_of: dict[str, Any] = {"person": None, "on": TODAY, "now": NOW}
        if what == "done":
            return f"done {complete_task(task=task, **act_of).is_new}"
        return f"skip {skip_task(task=task, reason='no_time', **act_of).is_new}"

    for _ in range(5):
        results = at_once(act)
        assert results.count("done True") == 1
        assert results.count("skip True") <= 1
        assert Task.objects.get(pk=pk).status == Task.Status.DONE
        standing = LogEntry.objects.filter(task_id=pk, voided_at=None)
        assert [entry.what for entry in standing] == ["done"]
        for skipped in LogEntry.objects.filter(task_id=pk, what="skipped"):
            assert skipped.replaced_by is not None
        LogEntry.objects.all().delete()
        Task.objects.filter(pk=pk).update(status=Task.Status.OPEN)


def test_undoing_a_skip_and_doing_it_at_once_never_wait_for_each_other(site, thirsty):
    """Both lock the task before the entry: the database finds no deadlock."""
    site.refresh_from_db()
    plan_site(site, TODAY, NOW)
    pk = Task.objects.get(tree=thirsty, kind="watering", key="next").pk
    act_of: dict[str, Any] = {"person": None, "on": TODAY, "now": NOW}

    def task() -> Task:
        return Task.objects.select_related("tree", "site").get(pk=pk)

    lock = threading.Lock()
    for _ in range(5):
        skipped = skip_task(task=task(), reason="no_time", **act_of).entry
        turns = iter([True, False] * 4)

        def act(entry: LogEntry = skipped, turns: Iterator[bool] = turns) -> bool:
            with lock:
                undoes = next(turns)
            if undoes:
                return take_back(entry=entry, person=None, now=NOW)
            return complete_task(task=task(), **act_of).is_new

        at_once(act)
        assert Task.objects.get(pk=pk).status == Task.Status.DONE
        standing = LogEntry.objects.filter(task_id=pk, voided_at=None)
        assert [entry.what for entry in standing] == ["done"]
        LogEntry.objects.all().delete()
        Task.objects.filter(pk=pk).update(status=Task.Status.OPEN)


def test_one_spray_told_by_eight_people_at_once_is_written_once(site, thirsty):
    def spray() -> bool:
        try:
            log_spray(
                site=Site.objects.get(pk=site.pk),
                trees=[thirsty],
                product="Soap",
                waiting_days=7,
                person=None,
                on=TODAY,
                now=NOW,
            )
        except SameJobError:
            return False
        return True

    assert sorted(map(bool, at_once(spray))) == [False] * 7 + [True]
    assert LogEntry.objects.filter(kind="spray").count() == 1


def test_two_portions_ticked_at_once_are_asked_about(site, thirsty):
    tasks = [
        Task.objects.create(
            site=site,
            tree=thirsty,
            kind="feeding",
            key=f"2025/{number}",
            action="feed",
            earliest=TODAY,
            due=TODAY,
            latest=TODAY,
            amount=100.0,
            unit="g",
        ).pk
        for number in range(8)
    ]
    waiting = iter(tasks)
    lock = threading.Lock()

    def feed() -> bool:
        with lock:
            pk = next(waiting)
        task = Task.objects.select_related("tree", "site").get(pk=pk)
        try:
            complete_task(task=task, person=None, on=TODAY, now=NOW)
        except SameJobError:
            return False
        return True

    assert sorted(map(bool, at_once(feed))) == [False] * 7 + [True]
    assert LogEntry.objects.filter(kind="feeding").count() == 1


def test_two_people_who_join_at_once_are_both_named(cast, site, thirsty):
    site.refresh_from_db()
    plan_site(site, TODAY, NOW)
    pk = Task.objects.get(tree=thirsty, kind="watering", key="next").pk
    people = [cast.owner, cast.coordinator, cast.grower] * 2
    waiting = iter(people)
    lock = threading.Lock()

    def tick() -> bool:
        with lock:
            person = next(waiting)
        task = Task.objects.select_related("tree", "site").get(pk=pk)
        return complete_task(task=task, person=person, on=TODAY, now=NOW).is_joined

    assert sum(map(bool, at_once(tick, people=6))) == 2
    entry = LogEntry.objects.get(task_id=pk)
    named = {entry.person, *entry.also_by.all()}
    assert named == {cast.owner, cast.coordinator, cast.grower}
    assert entry.also_by.count() == 2


def test_ticking_while_the_plan_is_made_waits_for_it(site, make_tree):
    """A tick that held its task and asked for the site would wait for the plan, and
    the plan, which holds the site, for that task: the database would refuse one."""
    set_normals(site=site, months=[(m, 12.0, 30.0, 2.0) for m in range(1, 13)])
    pots = {"in_container": True, "container_litres": 20.0}
    trees = [make_tree(f"Lemon {n}", species_key="lemon", **pots) for n in range(6)]
    site.refresh_from_db()
    plan_site(site, TODAY, NOW)
    turn = itertools.count()

    def work() -> object:
        number = next(turn)
        if number % 2:
            # Another day moves every watering, so that the plan writes each task.
            for day in (1, 2, 0):
                plan_site(Site.objects.get(), TODAY + timedelta(days=day), NOW)
            return None
        for tree in trees:
            task = Task.objects.get(
                tree=tree, kind="watering", key="next", status="open"
            )
            outcome = complete_task(task=task, person=None, on=TODAY, now=NOW)
            take_back(entry=outcome.entry, person=None, now=NOW)
        return None

    at_once(work, people=2)
    assert not LogEntry.objects.filter(voided_at=None).exists()
