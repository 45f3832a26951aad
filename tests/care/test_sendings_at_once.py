"""The same thing sent by many at one instant, and a server that dies in the middle."""

import json
import os
import subprocess
import sys
import uuid
from collections import Counter
from urllib.parse import urlunsplit

import pytest
from django.db import connection
from django.test import RequestFactory
from django.utils import timezone

from care.models import LogEntry, Sending, Task
from care.views.sendings import sendings
from tests.care.sending_phone import PATH
from tests.care.test_two_people import at_once

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.postgresql]


def body(what, **fields):
    now = timezone.now().isoformat()
    return {
        "id": str(uuid.uuid4()),
        "what": what,
        "happened_at": now,
        "sent_at": now,
        **fields,
    }


def post(person, kept):
    request = RequestFactory().post(PATH, kept)
    request.user = person
    request._dont_enforce_csrf_checks = True
    return json.loads(sendings(request, site="test-site").content)


@pytest.fixture
def task(make_tree, make_task):
    return make_task(make_tree())


def test_the_same_id_from_eight_connections_is_one_entry(cast, task):
    kept = body("task_done", task=str(task.public_id), amount="9")
    answers = at_once(lambda: post(cast.grower, kept))
    assert Counter(one["state"] for one in answers) == {"kept": 1, "again": 7}
    entry = LogEntry.objects.get()
    assert {one["entry"] for one in answers} == {str(entry.public_id)}
    assert Sending.objects.get().entry == entry


def test_of_other_bodies_under_one_id_one_is_written(cast, task):
    kept = body("tree_note", tree=str(task.tree.public_id))
    notes = iter("abcdefgh")
    answers = at_once(lambda: post(cast.grower, {**kept, "note": next(notes)}))
    assert Counter(one["state"] for one in answers) == {"kept": 1, "other_body": 7}
    assert LogEntry.objects.count() == 1


def test_eight_phones_tick_one_task_and_one_entry_names_their_people(cast, task):
    people = [cast.owner, cast.coordinator, cast.grower] * 3
    turn = iter(people)

    def tick():
        return post(next(turn), body("task_done", task=str(task.public_id)))

    answers = at_once(tick, people=9)
    assert {one["state"] for one in answers} <= {"kept", "joined"}
    entry = LogEntry.objects.get()
    named = {entry.person, *entry.also_by.all()}
    assert named == {cast.owner, cast.coordinator, cast.grower}
    assert len(entry.also_by.all()) == 2
    assert Sending.objects.filter(entry=entry).count() == 9


def test_ticks_skips_and_undos_at_once_leave_one_line_standing(cast, task):
    people = [cast.owner, cast.coordinator, cast.grower]
    first = body("task_done", task=str(task.public_id))
    post(cast.owner, first)
    turn = iter(range(9))

    def press():
        number = next(turn)
        named = {"task": str(task.public_id)}
        what = ("task_done", "task_skip", "entry_undo")[number % 3]
        more = {"entry": first["id"]} if what == "entry_undo" else named
        kept = body(what, reason="other", **more)
        return post(people[number % 3], kept)["state"]

    assert set(at_once(press, people=9)) <= {"kept", "joined"}
    task.refresh_from_db()
    standing = LogEntry.objects.filter(task=task, voided_at=None)
    wanted = {Task.Status.OPEN: [], Task.Status.DONE: ["done"]}
    wanted[Task.Status.SKIPPED] = ["skipped"]
    assert [one.what for one in standing] == wanted[Task.Status(task.status)]


DIES = """
import json, os, sys
import django
django.setup()
from care.actions import sendings as actions
from orchard.models import Person
from tests.care.test_sendings_at_once import post
actions._mark_times = lambda arrived: os._exit(9)  # all is written, nothing committed
post(Person.objects.get(username="grower"), json.loads(sys.argv[1]))
"""


def test_a_server_that_dies_before_it_answers_has_written_nothing(cast, task):
    kept = body("task_done", task=str(task.public_id), amount="9")
    place = connection.settings_dict
    host = f"{place['USER']}:{place['PASSWORD']}@{place['HOST']}:{place['PORT']}"
    url = urlunsplit(("postgresql", host, f"/{place['NAME']}", "", ""))
    died = subprocess.run(
        [sys.executable, "-c", DIES, json.dumps(kept)],
        env={
            **os.environ,
            "ORCHARD_TEST_DATABASE_URL": url,
            "DJANGO_SETTINGS_MODULE": "tests.settings",
        },
        check=False,
        capture_output=True,
    )
    assert died.returncode == 9, died.stderr
    assert not LogEntry.objects.exists()
    task.refresh_from_db()
    assert task.status == Task.Status.OPEN
    assert post(cast.grower, kept)["state"] == "kept"
    assert post(cast.grower, kept)["state"] == "again"
    assert LogEntry.objects.count() == 1
