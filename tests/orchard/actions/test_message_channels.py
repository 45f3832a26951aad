"""Sending what is due: by mail, to the log, or not at all."""

import logging
from datetime import UTC, datetime, timedelta
from smtplib import SMTPServerDisconnected

import pytest
from allauth.account.models import EmailAddress
from django.core import mail

from orchard.actions import message_channels
from orchard.actions.message_channels import CHANNELS, send_due
from orchard.actions.message_mail import stop_token
from orchard.actions.messages import Told, messages_for, write_message
from orchard.models import Message

DROPPED = "Connection unexpectedly closed"
NOW = datetime(2026, 3, 1, 16, 0, tzinfo=UTC)


def clock():
    return NOW


@pytest.fixture
def written(cast):
    confirm(cast.grower, "grower@example.org")
    return write(cast.grower)


def confirm(person, email, **values):
    facts = {"verified": True, "primary": True, **values}
    return EmailAddress.objects.create(user=person, email=email, **facts)


def write(person, title="Cold <tonight>", key="cold/1"):
    return write_message(
        person=person,
        orchard=None,
        what=Told.COLD_TONIGHT,
        key=key,
        why="You look after them.",
        title=title,
        lines=["Bring Anna & Ben in", "Cover the fig"],
        path="/s/test-site/",
        due_at=NOW,
    )


def test_a_mail_says_what_why_and_where_in_text_and_in_a_page(written, cast):
    assert send_due(now=clock, channel_name="email") == 1
    (one,) = mail.outbox
    assert (one.to, one.subject) == (["grower@example.org"], "Cold <tonight>")
    assert one.body == (
        "Cold <tonight>\n\nBring Anna & Ben in\nCover the fig\n\n"
        "http://testserver/s/test-site/\n\nYou look after them.\n"
        "Choose your messages: http://testserver/you/#messages\n"
        f"Stop these mails: http://testserver/stop/{stop_token(cast.grower)}/\n"
    )
    page, kind = one.alternatives[0]
    assert kind == "text/html"
    assert "<h1>Cold &lt;tonight&gt;</h1>" in page
    assert "<p>Bring Anna &amp; Ben in</p>" in page
    row = Message.objects.get()
    assert (row.channel, row.sent_at, row.error) == ("email", NOW, "")


def test_a_line_break_in_a_name_stays_out_of_the_head_of_the_mail(written, cast):
    Message.objects.all().delete()
    write(cast.grower, title="Eve\r\nBcc: all@example.org joined")
    assert send_due(now=clock, channel_name="email") == 1
    assert mail.outbox[0].subject == "Eve Bcc: all@example.org joined"
    assert mail.outbox[0].recipients() == ["grower@example.org"]


def test_an_address_with_a_line_break_is_an_error_that_is_kept(written, cast):
    EmailAddress.objects.update(email="a@example.org\nBcc: b@example.org")
    assert send_due(now=clock, channel_name="email") == 0
    row = Message.objects.get()
    assert row.sent_at is None
    assert row.error.startswith(("BadHeaderError", "ValueError"))


def test_the_development_channel_prints(written, caplog):
    with caplog.at_level(logging.WARNING, logger=message_channels.__name__):
        assert send_due(now=clock, channel_name="development") == 1
    assert "To grower:" in caplog.text
    assert "Bring Anna & Ben in" in caplog.text
    assert mail.outbox == []


def test_without_a_channel_the_row_stays_to_be_read(written, cast, settings):
    settings.MESSAGE_CHANNEL = "page"
    assert send_due(now=clock) == 0
    assert messages_for(cast.grower).get().attempts == 0


def test_an_address_that_nobody_confirmed_gets_no_mail(cast):
    cast.viewer.email = "somebody@example.org"
    cast.viewer.save()
    confirm(cast.viewer, "somebody@example.org", verified=False)
    write(cast.viewer)
    assert send_due(now=clock, channel_name="email") == 0
    assert Message.objects.get().attempts == 0


def test_a_mail_server_that_is_down_is_kept_and_tried_again(
    written, cast, monkeypatch, caplog
):
    def refuse(message, now):
        raise SMTPServerDisconnected(DROPPED)

    down = message_channels.Channel("email", refuse)
    with monkeypatch.context() as patch:
        patch.setitem(CHANNELS, "email", down)
        assert send_due(now=clock, channel_name="email") == 0
    row = Message.objects.get()
    assert row.error == f"SMTPServerDisconnected: {DROPPED}"
    assert "was not sent" in caplog.text
    assert send_due(now=clock, channel_name="email") == 0
    later = NOW + timedelta(minutes=1)
    assert send_due(now=lambda: later, channel_name="email") == 1
    assert Message.objects.get().error == ""


def test_one_that_fails_does_not_hold_up_the_next(written, cast, monkeypatch):
    confirm(cast.owner, "owner@example.org")
    write(cast.owner)
    send = CHANNELS["email"].send

    def picky(message, now):
        if message.person == cast.grower:
            raise ConnectionRefusedError
        send(message, now)

    channel = message_channels.Channel("email", picky)
    monkeypatch.setitem(CHANNELS, "email", channel)
    assert send_due(now=clock, channel_name="email") == 1
    assert mail.outbox[0].to == ["owner@example.org"]


def test_what_came_too_late_is_closed_and_not_sent(written):
    later = NOW + timedelta(days=4)
    assert send_due(now=lambda: later, channel_name="email") == 0
    assert mail.outbox == []
    assert Message.objects.get().error == "Too late to be of use."


def test_one_run_sends_no_more_than_its_share(written, cast, monkeypatch):
    write(cast.grower, key="cold/2")
    monkeypatch.setattr(message_channels, "MOST_AT_ONCE", 1)
    assert send_due(now=clock, channel_name="email") == 1
    assert Message.objects.filter(sent_at=None).count() == 1
