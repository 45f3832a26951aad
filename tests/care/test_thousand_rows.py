"""A thousand rows: the round and the log stay pages that a phone can show."""

import gzip
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from care.models import LogEntry, Task
from orchard.models import Tree
from tests.conftest import TODAY

ROUND = "/s/test-site/"
MANY = 1000


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def plant(site, make_tree, make_task, keep_plan):
    """Plant trees by the hundred, each with a watering of today."""
    pattern = make_tree("Pattern", position=30_000)
    task = make_task(pattern)
    names = [field.attname for field in Tree._meta.concrete_fields]
    alike = {name: getattr(pattern, name) for name in names}
    of_task = {
        field.attname: getattr(task, field.attname)
        for field in Task._meta.concrete_fields
    }
    for one in (alike, of_task):
        del one["id"], one["public_id"]

    def plant(number):
        start = Tree.objects.count()
        trees = Tree.objects.bulk_create(
            Tree(**{**alike, "name": f"Apple {n:04}", "position": n})
            for n in range(start, start + number)
        )
        Task.objects.bulk_create(
            Task(**{**of_task, "tree_id": tree.pk}) for tree in trees
        )
        keep_plan()
        return trees

    return plant


def queries(grower, address):
    grower.get(address)
    with CaptureQueriesContext(
        connection,
    ) as asked:
        answer = grower.get(address)
    return len(asked), answer


def test_a_round_of_a_thousand_tasks_is_shown_by_the_hundred(grower, plant):
    plant(20)
    few, _ = queries(grower, ROUND)
    plant(MANY - 20)
    many, answer = queries(grower, ROUND)
    assert many == few
    page = text(answer)
    assert page.count(">Done</button>") == 100
    assert "Tasks 1 to 100 of 1001, in walking order." in page
    assert "All 1001 watered" in page
    assert "All 1001 done today" in page
    assert len(gzip.compress(answer.content)) < 60_000
    last = text(grower.get(f"{ROUND}?from=1000"))
    assert "Tasks 1001 to 1001 of 1001" in last
    assert "Water Pattern" in last
    assert "Those before" in last
    assert "The next ones" not in last


@pytest.mark.parametrize("asked", ["-5", "x", "99999999", "1e3", ""])
def test_a_part_that_is_none_is_the_first_or_the_last(grower, plant, asked):
    plant(120)
    page = text(grower.get(f"{ROUND}?from={asked}"))
    assert "of 121, in walking order." in page


def test_a_log_of_a_thousand_lines_is_shown_by_the_page(grower, cast, site, plant):
    trees = plant(20)
    LogEntry.objects.bulk_create(
        LogEntry(
            site=site,
            tree=trees[n % 20],
            person=cast.grower,
            what="done",
            kind="watering",
            action="water",
            on=TODAY - timedelta(days=n // 20),
            recorded_at=timezone.now(),
            amount=5,
            unit="L",
        )
        for n in range(MANY)
    )
    few, first = queries(grower, f"{ROUND}log/")
    many, _ = queries(grower, f"{ROUND}log/?page=7")
    assert many == few
    assert "Page 1 of 20" in text(first)


def test_one_tree_at_a_time_shows_the_head_of_a_long_walk(grower, plant):
    plant(20)
    few, _ = queries(grower, f"{ROUND}round/tree/")
    plant(MANY - 20)
    many, answer = queries(grower, f"{ROUND}round/tree/")
    assert many == few
    page = text(answer)
    assert "1 of 1001" in page
    assert "961 more follow once these are done." in page
