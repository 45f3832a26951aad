"""The address where phones send what they kept: each once, told in words."""

import json
import uuid
from datetime import UTC, datetime, timedelta

import pytest
from django.utils import timezone

from care.models import LogEntry, Sending, Task
from tests.conftest import TODAY

PATH = "/s/test-site/sending/"


class Phone:
    """One person's phone: what it keeps, sent as its script sends it."""

    def __init__(self, client):
        self.client = client

    def keep(self, what, *, ago_h=0.0, ahead_h=0.0, **fields):
        """Return what the phone keeps, its clock ``ahead_h`` ahead of ours."""
        here = timezone.now() + timedelta(hours=ahead_h)
        return {
            "id": str(uuid.uuid4()),
            "what": what,
            "happened_at": (here - timedelta(hours=ago_h)).isoformat(),
            "sent_at": here.isoformat(),
            **fields,
        }

    def post(self, kept):
        answer = self.client.post(PATH, kept)
        return answer.status_code, json.loads(answer.content)

    def send(self, what, **fields):
        return self.post(self.keep(what, **fields))


@pytest.fixture
def phone(cast, client_of):
    return Phone(client_of(cast.grower))


def test_the_phone_learns_who_is_signed_in(cast, client_of, client):
    owner = client_of(cast.owner).get(PATH)
    grower = client_of(cast.grower).get(PATH)
    assert owner.headers["Cache-Control"].count("no-store") == 1
    assert owner.json()["csrf"]
    assert owner.json()["person"] != grower.json()["person"]
    assert datetime.fromisoformat(owner.json()["now"]) <= datetime.now(UTC)
    signed_out = client.get(PATH)
    assert (signed_out.status_code, signed_out.json()) == (401, {"state": "signed_out"})


def test_a_tick_is_done_once_however_often_it_is_sent(phone, make_tree, make_task):
    task = make_task(make_tree())
    kept = phone.keep("task_done", task=str(task.public_id), amount="20")
    status, first = phone.post(kept)
    assert (status, first["state"], first["id"]) == (200, "kept", kept["id"])
    entry = LogEntry.objects.get()
    assert first["entry"] == str(entry.public_id)
    assert (entry.amount, entry.task, entry.on) == (20, task, TODAY)
    kept["sent_at"] = (timezone.now() + timedelta(minutes=1)).isoformat()
    assert phone.post(kept) == (200, {**first, "state": "again"})
    assert LogEntry.objects.count() == 1
    assert Sending.objects.get().entry == entry


def test_another_body_under_the_same_id_is_refused(phone, make_tree, make_task):
    task = make_task(make_tree())
    kept = phone.keep("task_done", task=str(task.public_id), amount="20")
    phone.post(kept)
    status, answer = phone.post({**kept, "amount": "21"})
    assert (status, answer["state"], answer["id"]) == (422, "other_body", kept["id"])
    assert LogEntry.objects.get().amount == 20


def test_what_is_typed_wrongly_is_said_at_its_field(phone, make_tree, make_task):
    task = make_task(make_tree())
    kept = phone.keep("task_done", task=str(task.public_id), amount="much")
    status, answer = phone.post(kept)
    assert (status, answer["state"]) == (422, "refused")
    assert list(answer["fields"]) == ["amount"]
    assert answer["words"].endswith(answer["fields"]["amount"][0])
    assert not Sending.objects.exists()
    assert phone.post({**kept, "amount": "18"})[0] == 200


def test_a_tick_for_what_the_plan_withdrew_is_in_the_log(phone, make_tree, make_task):
    task = make_task(make_tree(), status=Task.Status.WITHDRAWN)
    status, answer = phone.send("task_done", ago_h=24, task=str(task.public_id))
    assert (status, answer["state"]) == (200, "late")
    assert "in the log all the same" in answer["words"]
    entry = LogEntry.objects.get()
    assert (entry.on, entry.amount) == (TODAY - timedelta(days=1), 18)
    task.refresh_from_db()
    assert task.status == Task.Status.DONE
