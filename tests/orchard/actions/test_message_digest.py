"""The mail of the day: one a day, at its hour, with everything that can wait."""

from datetime import UTC, datetime, time, timedelta

import pytest
from allauth.account.models import EmailAddress
from django.core import mail

from orchard.actions import message_digest
from orchard.actions.message_channels import send_due
from orchard.actions.message_ways import choose_ways
from orchard.actions.messages import LEASE, Told, choose_messages, write_message
from orchard.models import Message, MessageWays

#: Noon in Los Angeles, where the test site lies; the mail of the day comes at 18:00.
NOON = datetime(2026, 3, 2, 20, 0, tzinfo=UTC)
SIX = datetime(2026, 3, 3, 2, 0, tzinfo=UTC)
DAY = timedelta(days=1)


@pytest.fixture
def grower(cast):
    EmailAddress.objects.create(
        user=cast.grower, email="g@example.org", verified=True, primary=True
    )
    choose(cast.grower)
    return cast.grower


def choose(person, **values):
    usual = {
        "way": "digest",
        "digest_at": time(18),
        "quiet_from": time(22),
        "quiet_until": time(6),
        "urgent_in_quiet": True,
    }
    choose_ways(person=person, **(usual | values))


def write(person, orchard, key, what=Told.PLACE_TAKEN, due_at=NOON, **values):
    return write_message(
        person=person,
        orchard=orchard,
        what=what,
        key=key,
        why="You asked.",
        title=f"Message {key}",
        lines=[f"Line of {key} & more"],
        path="/s/test-site/",
        due_at=due_at,
        **values,
    )


def send(now):
    return send_due(now=lambda: now, channel_name="email")


def subjects():
    return [one.subject for one in mail.outbox]


def test_what_can_wait_waits_for_its_hour_and_comes_together(grower, site):
    write(grower, site.orchard, "a")
    write(grower, site.orchard, "b")
    assert send(NOON) == 0
    assert send(SIX - timedelta(minutes=1)) == 0
    assert mail.outbox == []
    assert send(SIX) == 2
    assert subjects() == ["Your orchard today: 2 messages"]
    body = mail.outbox[0].body
    assert body.index("Message a") < body.index("Message b")
    assert "Line of b & more" in body
    assert "Stop these mails: http://testserver/stop/" in body
    page, kind = mail.outbox[0].alternatives[0]
    assert kind == "text/html"
    assert "<h2>Message a</h2>" in page
    assert "Line of b &amp; more" in page
    rows = Message.objects.values_list("channel", "sent_at", "attempts")
    assert set(rows) == {("digest", SIX, 1)}


def test_there_is_one_a_day_and_none_without_news(grower, site):
    assert send(SIX) == 0
    write(grower, site.orchard, "a")
    assert send(SIX) == 1
    write(grower, site.orchard, "b", due_at=SIX + timedelta(minutes=5))
    assert send(SIX + timedelta(hours=1)) == 0
    assert send(SIX + DAY) == 1
    assert send(SIX + 2 * DAY) == 0
    assert subjects() == ["Your orchard today: 1 message"] * 2


def test_what_is_urgent_or_would_come_too_late_comes_at_once(grower, site):
    write(grower, site.orchard, "cold", Told.COLD_TONIGHT)
    write(grower, site.orchard, "soon", until=SIX)
    write(grower, site.orchard, "moved", Told.SHIFT_CHANGED, is_urgent=True)
    write(grower, site.orchard, "later", until=SIX + timedelta(minutes=1))
    assert send(NOON) == 3
    assert subjects() == ["Message cold", "Message soon", "Message moved"]
    assert send(SIX) == 1


def test_what_is_not_wanted_any_more_is_left_out(grower, site):
    write(grower, site.orchard, "a")
    write(grower, site.orchard, "b", Told.PLACE_OPEN)
    choose_messages(person=grower, wanted=[Told.PLACE_OPEN])
    assert send(SIX) == 1
    assert "Message a" not in mail.outbox[0].body


def test_its_hour_is_by_the_persons_own_clock(grower, site):
    site.time_zone = "Asia/Kathmandu"
    site.save()
    write(grower, site.orchard, "a")
    there = datetime(2026, 3, 3, 12, 15, tzinfo=UTC)  # 18:00, at +5:45
    assert send(there - timedelta(minutes=1)) == 0
    assert send(there) == 1


def test_a_mail_server_that_is_down_delays_it_and_loses_nothing(
    grower, site, monkeypatch
):
    write(grower, site.orchard, "a")
    assert send(NOON) == 0

    def refuse(person, messages):
        raise ConnectionRefusedError

    with monkeypatch.context() as patch:
        patch.setattr(message_digest, "mail_digest", refuse)
        assert send(SIX) == 0
    assert Message.objects.get().error == "ConnectionRefusedError: "
    assert send(SIX + LEASE) == 1
    assert len(mail.outbox) == 1


def test_late_it_does_not_come_in_quiet_hours_but_an_hour_in_them_is_kept(grower, site):
    write(grower, site.orchard, "a")
    assert send(SIX + timedelta(hours=5)) == 0  # 23:00
    assert send(SIX + timedelta(hours=12)) == 1  # 6:00
    choose(grower, digest_at=time(4))
    write(grower, site.orchard, "b", due_at=SIX + timedelta(hours=12))
    assert send(SIX + timedelta(hours=34)) == 1


def test_of_two_workers_one_sends_it(grower, site, monkeypatch):
    write(grower, site.orchard, "a")
    sent = message_digest.mail_digest

    def meanwhile(person, messages):
        assert send(SIX) == 0
        sent(person, messages)

    monkeypatch.setattr(message_digest, "mail_digest", meanwhile)
    assert send(SIX) == 1
    assert len(mail.outbox) == 1


def test_a_worker_that_died_is_followed_by_the_next(grower, site, monkeypatch):
    write(grower, site.orchard, "a")

    def die(person, messages):
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(message_digest, "mail_digest", die)
        with pytest.raises(KeyboardInterrupt):
            send(SIX)
    assert send(SIX + timedelta(minutes=1)) == 0
    assert send(SIX + LEASE) == 1
    assert MessageWays.objects.get().digest_sent_at == SIX + LEASE


def test_everybody_reads_it_in_their_own_language(grower, site):
    grower.language = "es"
    grower.save()
    write(grower, site.orchard, "a")
    assert send(SIX) == 1
    page, _ = mail.outbox[0].alternatives[0]
    assert '<html lang="es">' in page
