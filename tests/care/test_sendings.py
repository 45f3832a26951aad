"""The address where phones send what they kept: each once, told in words."""

import uuid
from datetime import UTC, datetime, timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone

from care.jobs import forget_sendings
from care.models import LogEntry, Sending
from care.views import sendings as page
from orchard.models import Membership
from orchard.views.phone import person_mark
from tests.care.sending_phone import PATH, Phone
from tests.conftest import TODAY


@pytest.fixture
def phone(cast, client_of):
    return Phone(client_of(cast.grower))


def test_the_phone_learns_who_is_signed_in(cast, client_of, client):
    owner = client_of(cast.owner).get(PATH)
    grower = client_of(cast.grower).get(PATH)
    assert "no-store" in owner.headers["Cache-Control"]
    assert owner.json()["csrf"]
    assert owner.json()["person"] != grower.json()["person"]
    assert datetime.fromisoformat(owner.json()["now"]) <= datetime.now(UTC)
    for answer in (client.get(PATH), client.post(PATH, {"id": "1"})):
        assert (answer.status_code, answer.json()["state"]) == (401, "signed_out")


def test_a_tick_is_done_once_however_often_it_is_sent(phone, make_tree, make_task):
    task = make_task(make_tree())
    kept = phone.keep("task_done", task=str(task.public_id), amount="20")
    status, first = phone.post(kept)
    assert (status, first["state"], first["id"]) == (200, "kept", kept["id"])
    entry = LogEntry.objects.get()
    assert first["entry"] == str(entry.public_id)
    assert (entry.amount, entry.task, entry.on) == (20, task, TODAY)
    later = {**kept, "sent_at": (timezone.now() + timedelta(minutes=1)).isoformat()}
    assert phone.post(later) == (200, {**first, "state": "again"})
    assert LogEntry.objects.count() == 1
    assert Sending.objects.get().entry == entry


def test_another_body_under_the_same_id_is_refused(
    phone, cast, client_of, make_tree, make_task
):
    task = make_task(make_tree())
    kept = phone.keep("task_done", task=str(task.public_id), amount="20")
    phone.post(kept)
    note = SimpleUploadedFile("a.txt", b"more")
    others = Phone(client_of(cast.owner))
    for who, body in (
        (phone, {**kept, "amount": "21"}),
        (phone, {**kept, "minutes": "3"}),
        (phone, {**kept, "photo": note}),
        (others, kept),
    ):
        status, answer = who.post(body)
        assert (status, answer["state"]) == (422, "other_body")
        assert answer["id"] == kept["id"]
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


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("id", "not an id"),
        ("id", ""),
        ("happened_at", "yesterday"),
        ("happened_at", "2025-07-02T10:00:00"),  # of which offset?
        ("happened_at", "9999-12-31T23:59:59-12:00"),
        ("sent_at", "0001-01-01T00:00:00+00:00"),
        ("sent_at", "x" * 500),
        ("what", "tree_end"),
        ("what", "x" * 500),
        ("what", ""),
        ("task", "7"),
        ("task", ""),
        ("task", "\x00"),
    ],
)
def test_garbage_is_refused_in_words(phone, make_tree, make_task, field, value):
    task = make_task(make_tree())
    kept = phone.keep("task_done", task=str(task.public_id))
    status, answer = phone.post({**kept, field: value})
    assert (status, answer["state"]) == (422, "refused")
    assert answer["words"]
    assert not LogEntry.objects.exists()


@pytest.mark.parametrize(
    ("body", "kind"),
    [
        ('{"id": "1"}', "application/json"),
        ("\x00\x01", "multipart/form-data; boundary=x"),
        ("--x\r\nContent-Disposition: form-data", "multipart/form-data; boundary=x"),
        ("a", "multipart/form-data"),
        ("", "text/plain"),
    ],
)
def test_garbage_for_a_body_is_refused_in_words(phone, body, kind):
    answer = phone.client.post(PATH, body, content_type=kind)
    assert (answer.status_code, answer.json()["state"]) == (422, "refused")


@pytest.mark.parametrize("read_anyway", [2000, 100_000])
def test_too_much_at_once_is_said_and_nothing_of_it_stored(
    phone, make_tree, make_task, monkeypatch, read_anyway
):
    monkeypatch.setattr(page, "MOST_BYTES", 2000)
    monkeypatch.setattr(page, "READ_ANYWAY_BYTES", read_anyway)
    task = make_task(make_tree())
    photo = SimpleUploadedFile("a.jpg", b"x" * 3000)
    kept = phone.keep("task_done", task=str(task.public_id), photo=photo)
    status, answer = phone.post(kept)
    assert (status, answer["state"]) == (413, "too_large")
    assert answer["id"] == ""  # to find it, all that came would be stored first
    assert not LogEntry.objects.exists()


def test_too_many_fields_and_files_are_too_much(phone):
    files = [SimpleUploadedFile(f"{n}.jpg", b"x") for n in range(101)]
    assert phone.send("tree_photo", photo=files)[0] == 413
    assert phone.send("tree_note", note=["x"] * 1001)[0] == 413


def test_a_role_that_may_not_and_an_orchard_left_are_told_so(
    cast, client_of, make_tree, make_task
):
    task = str(make_task(make_tree()).public_id)
    viewer = Phone(client_of(cast.viewer))
    status, answer = viewer.send("task_done", task=task)
    assert (status, answer["state"]) == (403, "may_not")
    assert "Ask an owner" in answer["words"]
    grower = Phone(client_of(cast.grower))
    kept = grower.keep("task_done", task=task, ago_h=24)
    Membership.objects.filter(person=cast.grower).delete()
    status, answer = grower.post(kept)
    assert (status, answer["state"], answer["id"]) == (404, "gone", kept["id"])
    assert "no longer a member" in answer["words"]
    # A phone may hold what several kept: it is told whom this concerns.
    assert grower.client.get(PATH).json()["person"] == person_mark(cast.grower)
    assert grower.client.get(PATH).json()["state"] == "gone"
    assert not LogEntry.objects.exists()


def test_a_task_of_another_orchard_is_not_there(cast, client_of, make_tree, make_task):
    task = make_task(make_tree())
    stranger = Phone(client_of(cast.stranger))
    kept = stranger.keep("task_done", task=str(task.public_id))
    answer = stranger.client.post(
        "/s/elsewhere/sending/", {**kept, "sent_at": kept["happened_at"]}
    )
    assert (answer.status_code, answer.json()["state"]) == (404, "gone")


def test_a_forged_form_writes_nothing(cast, make_tree, make_task):
    browser = Client(enforce_csrf_checks=True)
    browser.force_login(
        cast.grower, backend="allauth.account.auth_backends.AuthenticationBackend"
    )
    task = make_task(make_tree())
    phone = Phone(browser)
    kept = phone.keep("task_done", task=str(task.public_id))
    status, answer = phone.post(kept)
    assert (status, answer["state"]) == (409, "busy")  # the phone fetches a new key
    assert not LogEntry.objects.exists()
    key = browser.get(PATH).json()["csrf"]
    body = {**kept, "sent_at": kept["happened_at"]}
    answer = browser.post(PATH, body, headers={"X-CSRFToken": key})
    assert answer.json()["state"] == "kept"


def test_rows_nobody_asks_about_any_more_go(phone, cast, site, make_tree, make_task):
    task = make_task(make_tree())
    phone.send("task_done", task=str(task.public_id))
    long_ago = timezone.now() - timedelta(days=121)
    Sending.objects.create(
        id=uuid.uuid4(),
        person=cast.grower,
        site=site,
        what="task_done",
        body_sha256="0" * 64,
        happened_at=long_ago,
        received_at=long_ago,
    )
    assert forget_sendings() == 1
    assert Sending.objects.count() == 1
