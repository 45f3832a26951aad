"""Mail stops by one click in the mail, signed in or not (RFC 2369, RFC 8058)."""

import re
from datetime import UTC, datetime

import pytest
from allauth.account.models import EmailAddress
from django.core import mail
from django.test import Client

from orchard.actions.message_channels import send_due
from orchard.actions.message_mail import stop_token
from orchard.actions.messages import Told, write_message
from orchard.models import MessageWays
from tests.orchard.plain_page import page_of, text_of

NOON = datetime(2026, 3, 2, 20, 0, tzinfo=UTC)


@pytest.fixture
def grower(cast):
    EmailAddress.objects.create(
        user=cast.grower, email="g@example.org", verified=True, primary=True
    )
    return cast.grower


def sent(person, key="k"):
    write_message(
        person=person,
        orchard=None,
        what=Told.COLD_TONIGHT,
        key=key,
        why="You look after them.",
        title="Cold",
        lines=["Bring it in"],
        due_at=NOON,
    )
    return send_due(now=lambda: NOON, channel_name="email")


def header(name):
    return mail.outbox[-1].message()[name]


def test_a_mail_program_stops_them_in_one_step_and_with_nothing_else(grower, settings):
    settings.BASE_URL = "https://trees.example.org"
    assert sent(grower) == 1
    assert header("List-Unsubscribe-Post") == "List-Unsubscribe=One-Click"
    found = re.fullmatch(
        r"<https://trees\.example\.org(/stop/[^/<>\s]+/)>", header("List-Unsubscribe")
    )
    # RFC 8058, section 3.2: no cookies, no sign-in, no page before.
    strict = Client(enforce_csrf_checks=True)
    body = "List-Unsubscribe=One-Click"
    form = "application/x-www-form-urlencoded"
    assert strict.post(found[1], body, content_type=form).status_code == 200
    assert MessageWays.objects.get(person=grower).is_mail_stopped
    assert sent(grower, "again") == 0


def test_over_plain_http_only_the_link_is_given(grower):
    assert sent(grower) == 1
    assert (
        header("List-Unsubscribe") == f"<http://testserver/stop/{stop_token(grower)}/>"
    )
    assert header("List-Unsubscribe-Post") is None
    assert header("Auto-Submitted") == "auto-generated"  # RFC 3834


def test_an_address_too_long_for_its_line_stands_in_the_text_alone(grower, settings):
    settings.BASE_URL = f"https://{'a' * 50}.example.org"
    assert sent(grower) == 1
    assert header("List-Unsubscribe") is None
    assert header("List-Unsubscribe-Post") is None
    assert f"{settings.BASE_URL}/stop/" in mail.outbox[0].body


def test_opening_the_link_asks_and_changes_nothing(grower):
    """Mail scanners open every link."""
    page = page_of(Client().get(f"/stop/{stop_token(grower)}/"))
    assert "Stop the mails?" in text_of(page)
    assert "grower" not in text_of(page).lower()
    assert not MessageWays.objects.exists()


def test_whoever_stopped_them_can_have_them_again(grower):
    address = f"/stop/{stop_token(grower)}/"
    MessageWays.objects.create(person=grower, way="digest")
    page = page_of(Client().post(address))
    assert "The mails have stopped" in text_of(page)
    (name,) = page.xpath("//main//input/@name")
    assert "The mails come again" in text_of(
        page_of(Client().post(address, {name: "1"}))
    )
    ways = MessageWays.objects.get()
    assert (ways.way, ways.is_mail_stopped) == ("digest", False)


@pytest.mark.parametrize("change", ["x{}", "{}x", "1{}", "nobody", "²-{}", "9" * 99])
def test_a_link_that_nobody_was_sent_stops_nothing(grower, change):
    address = f"/stop/{change.format(stop_token(grower))}/"
    assert Client().get(address).status_code == 404
    assert Client().post(address).status_code == 404
    assert not MessageWays.objects.exists()


def test_it_stops_the_mail_of_its_own_person_alone(grower, cast):
    Client().post(f"/stop/{stop_token(cast.owner)}/")
    assert not MessageWays.objects.filter(person=grower).exists()
    assert MessageWays.objects.get(person=cast.owner).is_mail_stopped
