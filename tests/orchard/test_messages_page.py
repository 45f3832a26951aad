"""Messages on one's own page: what was told, how, and what one wants to be told."""

from datetime import UTC, datetime

import pytest
from allauth.account.models import EmailAddress

from orchard.actions.messages import MOST_ATTEMPTS, Told, wanted_by, write_message
from orchard.models import Membership, Message
from tests.orchard.plain_page import page_of, text_of

YOU = "/you/"
NOW = datetime(2026, 3, 1, 16, 5, tzinfo=UTC)


def write(person, orchard=None, key="k", title="Cold tonight"):
    return write_message(
        person=person,
        orchard=orchard,
        what=Told.COLD_TONIGHT,
        key=key,
        why="You look after them.",
        title=title,
        lines=["Bring the lemon in"],
        path="/s/test-site/",
        due_at=NOW,
    )


def section(client):
    (found,) = page_of(client.get(YOU)).xpath("//section[@id='messages']")
    return found


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


def test_a_message_is_read_with_its_day_and_the_page_it_leads_to(grower, cast, site):
    write(cast.grower, site.orchard)
    found = section(grower)
    words = text_of(found)
    assert "Cold tonight Bring the lemon in 1 March 2026, 16:05 (UTC)" in words
    assert "shown here only" in words
    assert found.xpath(".//a/@href") == ["/s/test-site/"]


def test_nobody_reads_the_messages_of_others(grower, cast, site):
    write(cast.owner, site.orchard, title="For the owner")
    assert "None yet." in text_of(section(grower))


def test_who_left_reads_no_more_of_the_orchard(grower, cast, site):
    write(cast.grower, site.orchard)
    Membership.objects.filter(person=cast.grower).delete()
    assert "None yet." in text_of(section(grower))


def test_without_mail_the_page_says_that_messages_wait_here(grower, site):
    assert "This server sends no mail" in text_of(section(grower))


def test_with_mail_it_says_where_they_go_or_how_to_have_them_sent(
    grower, cast, settings
):
    settings.MESSAGE_CHANNEL = "email"
    assert "Confirm your email address" in text_of(section(grower))
    EmailAddress.objects.create(
        user=cast.grower, email="g@example.org", verified=True, primary=True
    )
    assert "Messages are sent to g@example.org as well." in text_of(section(grower))


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({}, "shown here only"),
        ({"attempts": 1, "error": "OSError"}, "not sent yet, will be tried again"),
        ({"attempts": MOST_ATTEMPTS, "error": "OSError"}, "shown here only"),
        ({"sent_at": NOW, "channel": "email"}, "sent by email"),
        ({"sent_at": NOW, "channel": "push"}, "sent to your devices"),
        ({"sent_at": NOW, "channel": "digest"}, "sent with the mail of the day"),
        ({"held_until": NOW}, "waits for the hour you chose"),
        ({"sent_at": NOW, "channel": "development"}, "(UTC), sent"),
    ],
)
def test_it_says_how_far_a_message_got_without_the_servers_secrets(
    grower, cast, settings, values, said
):
    settings.MESSAGE_CHANNEL = "email"
    write(cast.grower)
    Message.objects.update(**values)
    words = text_of(section(grower))
    assert said in words
    assert "OSError" not in words


def test_each_kind_is_switched_by_oneself(grower, cast):
    boxes = section(grower).xpath(".//input[@name='wanted']")
    assert {box.get("value") for box in boxes} == set(Told)
    assert all(box.get("checked") is not None for box in boxes)
    answer = grower.post(f"{YOU}messages/", {"wanted": ["removed", "role_changed"]})
    assert answer.headers["Location"] == "/you/#messages"
    assert wanted_by(cast.grower) == {"removed", "role_changed"}
    assert wanted_by(cast.owner) == set(Told)
    boxes = section(grower).xpath(".//input[@name='wanted'][@checked]")
    assert {box.get("value") for box in boxes} == {"removed", "role_changed"}
    grower.post(f"{YOU}messages/", {})
    assert wanted_by(cast.grower) == set()


def test_an_unknown_kind_changes_nothing(grower, cast):
    answer = grower.post(f"{YOU}messages/", {"wanted": ["spam"]}, follow=True)
    assert "There is no such message." in text_of(page_of(answer))
    assert wanted_by(cast.grower) == set(Told)


def test_the_page_asks_the_database_as_often_for_many_messages(
    grower, cast, site, django_assert_num_queries
):
    write(cast.grower, site.orchard)
    grower.get(YOU)
    with django_assert_num_queries(10):
        grower.get(YOU)
    for number in range(40):
        write(cast.grower, site.orchard, key=str(number))
    with django_assert_num_queries(10):
        page = page_of(grower.get(YOU))
    assert len(page.xpath("//section[@id='messages']//li[@class='line']")) == 20
