"""Messages leave by real workers: each once, and none is lost when one is killed."""

import re
from collections import Counter

import pytest

from tests.services.mail_sink import mail_sink
from tests.services.real_worker import ask, call, manage, wait_until, worker

pytestmark = pytest.mark.service

WRITE = """
from allauth.account.models import EmailAddress
from django.utils import timezone
from orchard.actions.messages import Told, write_message
from orchard.models import MessageWays, Person
person = Person.objects.create_user('someone')
EmailAddress.objects.create(
    user=person, email='someone@example.org', verified=True, primary=True
)
MessageWays.objects.create(person=person, quiet_from=None, quiet_until=None)
for number in range({number}):
    write_message(
        person=person, orchard=None, what=Told.COLD_TONIGHT, key=str(number),
        why='A test.', title='Message <%s>' % number, lines=['Bring the lemon in'],
        due_at=timezone.now(),
    )
"""
# Somebody else waits for the mail of a day that has begun.
WAIT = """
from datetime import time, timedelta
other = Person.objects.create_user('other')
EmailAddress.objects.create(
    user=other, email='other@example.org', verified=True, primary=True
)
MessageWays.objects.create(
    person=other, way='digest', digest_at=time(0), quiet_from=None, quiet_until=None
)
for number in range(2):
    write_message(
        person=other, orchard=None, what=Told.PLACE_TAKEN, key=str(number),
        why='A test.', title='Waited <%s>' % number, lines=['Thank you'],
        due_at=timezone.now() - timedelta(hours=25),
    )
"""
JOB = "orchard.jobs.send_messages"
UNSENT = "select count(*) from orchard_message where sent_at is null"


def prepare(environment, number, more=""):
    manage(environment, "shell", "-c", WRITE.format(number=number) + more)


def all_sent(folder):
    return ask(folder, UNSENT) == [(0,)]


def test_two_workers_print_each_message_once(environment, tmp_path):
    environment["ORCHARD_MESSAGES"] = "development"
    prepare(environment, number=40)
    logs = [tmp_path / "one.log", tmp_path / "two.log"]
    with worker(environment, logs[0]), worker(environment, logs[1]):
        for _ in range(4):
            call(environment, JOB)
        assert wait_until(lambda: all_sent(tmp_path))
    printed = re.findall(r"Message <(\d+)>", "".join(log.read_text() for log in logs))
    assert Counter(map(int, printed)) == Counter(range(40))


def test_a_worker_mails_what_is_due_and_says_so_in_the_rows(environment, tmp_path):
    with mail_sink() as sink:
        environment["ORCHARD_EMAIL_URL"] = sink.url
        prepare(environment, number=3, more=WAIT)
        with worker(environment, tmp_path / "worker.log"):
            call(environment, JOB)
            assert wait_until(lambda: all_sent(tmp_path))
        day, mail, *others = sink.taken
    assert [one["Subject"] for one in (mail, *others)] == [
        f"Message <{number}>" for number in range(3)
    ]
    assert mail["To"] == "someone@example.org"
    body = mail.get_body(("plain",))
    assert body is not None
    assert "Bring the lemon in" in body.get_content()
    assert (day["To"], day["Subject"]) == (
        "other@example.org",
        "Your orchard today: 2 messages",
    )
    page = day.get_body(("html",))
    assert page is not None
    assert "Waited &lt;1&gt;" in page.get_content()
    assert str(day["List-Unsubscribe"]).startswith("<http://localhost:8000/stop/2-")
    channels = "select distinct channel from orchard_message order by channel"
    assert ask(tmp_path, channels) == [("digest",), ("email",)]


def test_of_a_worker_killed_while_sending_nothing_is_lost(environment, tmp_path):
    """At least once: the one that was going out may go out again, and no other."""
    with mail_sink(seconds_each=0.2) as sink:
        environment["ORCHARD_EMAIL_URL"] = sink.url
        prepare(environment, number=12)
        with worker(environment, tmp_path / "worker.log") as killed:
            call(environment, JOB)
            assert wait_until(lambda: len(sink.taken) >= 3)
            killed.kill()
        assert not all_sent(tmp_path)
        ask(tmp_path, "update orchard_message set lease_until = '2020-01-01'")
        manage(environment, "send_messages")
        assert all_sent(tmp_path)
        counts = Counter(sink.subjects())
    assert set(counts) == {f"Message <{number}>" for number in range(12)}
    assert sum(counts.values()) <= 13


def test_a_mail_server_that_is_down_loses_nothing(environment, tmp_path):
    with mail_sink() as sink:
        environment["ORCHARD_EMAIL_URL"] = sink.url
    prepare(environment, number=2)  # the server is gone by now
    assert "0 sent" in manage(environment, "send_messages")
    errors = ask(tmp_path, "select error, attempts from orchard_message")
    assert [attempts for _, attempts in errors] == [1, 1]
    assert all("ConnectionRefusedError" in str(error) for error, _ in errors)
