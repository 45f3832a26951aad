"""Devices and tests of messages on one's own page, and the ends of sessions."""

from datetime import UTC, datetime, time
from smtplib import SMTPServerDisconnected

import pytest
from allauth.account.models import EmailAddress
from allauth.usersessions.models import UserSession
from django.core import mail
from django.core.cache import cache
from django.test import Client

from orchard.actions import push_messages
from orchard.actions.push import PushError
from orchard.actions.push_devices import MOST_DEVICES
from orchard.models import MessageWays, PushSubscription
from orchard.views import devices
from tests.orchard.actions.push_service import HOST, Browser
from tests.orchard.plain_page import page_of, text_of

YOU = "/you/"
ADD, TEST = "/you/devices/add/", "/you/messages/test/"
CHROME = "Mozilla/5.0 (Linux; Android 15) Chrome/140.0.0.0 Mobile Safari/537.36"
NOW = datetime(2026, 3, 1, 16, 5, tzinfo=UTC)
PASSWORD = "a good long pass"
INSIDE = "502 from inside"


@pytest.fixture(autouse=True)
def known(settings, tmp_path):
    settings.PUSH_HOSTS = (HOST,)
    settings.PUSH_KEY_FILE = tmp_path / "push_key.pem"
    cache.clear()


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


def values_of(browser):
    said = browser.said
    return {
        "endpoint": said["endpoint"],
        "p256dh": said["public_key"],
        "auth": said["auth_secret"],
    }


def add(client, number=1, **changes):
    values = values_of(Browser(number)) | changes
    answer = client.post(ADD, values, headers={"User-Agent": CHROME}, follow=True)
    return text_of(page_of(answer))


def words(client):
    return text_of(page_of(client.get(YOU)).xpath("//section[@id='messages']")[0])


def test_a_browser_becomes_a_device_that_is_named_and_removed(grower, cast):
    assert "No device takes messages yet." in words(grower)
    assert "Messages come to this device from now on." in add(grower)
    assert "Chrome on Android" in words(grower)
    assert "Nothing was sent to it yet." in words(grower)
    assert "Messages go to your devices." in words(grower)
    device = PushSubscription.objects.get(person=cast.grower)
    assert MessageWays.objects.get(person=cast.grower).way == "push"
    grower.post(f"/you/devices/{device.pk}/remove/")
    assert "No device takes messages yet." in words(grower)
    assert "messages wait here until you look" in words(grower)


def test_the_page_gives_a_browser_the_key_and_says_what_may_be_missing(grower):
    (form,) = page_of(grower.get(YOU)).xpath(f"//form[@action='{ADD}']")
    assert len(form.get("data-push")) == 87
    said = {
        one.get("data-push-says"): text_of(one) for one in form.xpath(".//p[@hidden]")
    }
    assert "https" in said["insecure"]
    assert "home screen" in said["home"]
    assert "settings" in said["denied"]
    assert form.xpath(".//button[@hidden]")


def test_a_device_that_fails_or_is_off_says_so(grower, cast):
    add(grower)
    PushSubscription.objects.update(failures=1, sent_at=NOW)
    assert "The last message went there on 1 March 2026, 16:05 (UTC)" in words(grower)
    assert "It is tried again." in words(grower)
    PushSubscription.objects.update(is_off=True)
    assert "nothing more is sent to it" in words(grower)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"endpoint": "https://127.0.0.1/x"}, "does not know the push service"),
        ({"endpoint": "https://push.example.com/x"}, "does not know the push service"),
        ({"p256dh": "AAAA"}, "does not know the push service"),
        ({"endpoint": "https://" + "a" * 600}, "said too little"),
        ({"auth": ""}, "said too little"),
    ],
)
def test_what_is_no_push_service_is_refused_in_words(grower, changes, said):
    assert said in add(grower, **changes)
    assert not PushSubscription.objects.exists()


def test_nobody_has_more_devices_than_they_could(grower, cast, client_of):
    for number in range(MOST_DEVICES):
        add(client_of(cast.grower), number)
    assert "Remove a device that you no longer use first." in add(grower, 99)
    assert PushSubscription.objects.count() == MOST_DEVICES


def test_a_browser_with_a_new_address_stays_one_device(grower):
    add(grower, 1)
    add(grower, 2)
    assert PushSubscription.objects.get().endpoint.endswith("/2")


def test_a_phone_that_changes_hands_tells_its_latest_person_alone(
    grower, cast, client_of
):
    add(grower)
    add(client_of(cast.owner))
    assert PushSubscription.objects.get().person == cast.owner
    assert "No device takes messages yet." in words(grower)


def sign_in(name):
    client = Client()
    values = {"login": name, "password": PASSWORD}
    assert client.post("/accounts/login/", values).status_code == 302
    return client


def test_who_signs_out_hears_no_more_on_that_device(cast):
    phone, tablet = sign_in("grower"), sign_in("grower")
    add(phone, 1)
    add(tablet, 2)
    phone.post("/accounts/logout/")
    assert PushSubscription.objects.get().endpoint.endswith("/2")


def test_a_lost_phone_that_is_signed_out_is_told_nothing_more(cast):
    phone, tablet = sign_in("grower"), sign_in("grower")
    add(phone, 1)
    add(tablet, 2)
    lost = UserSession.objects.get(session_key=phone.session.session_key)
    tablet.post(f"/you/sessions/{lost.pk}/end/")
    assert PushSubscription.objects.get().endpoint.endswith("/2")


def test_a_new_password_leaves_only_the_device_it_was_set_on(cast):
    phone, tablet = sign_in("grower"), sign_in("grower")
    add(phone, 1)
    add(tablet, 2)
    new = {"password1": "another long pass", "password2": "another long pass"}
    values = {"oldpassword": PASSWORD, **new}
    assert tablet.post("/accounts/password/change/", values).status_code == 302
    assert PushSubscription.objects.get().endpoint.endswith("/2")
    tablet.post("/accounts/logout/")
    assert not PushSubscription.objects.exists()


def trial(client, way):
    cache.clear()
    return text_of(page_of(client.post(TEST, {"way": way}, follow=True)))


def test_a_test_to_devices_says_what_came_of_it(grower, monkeypatch):
    taken = []
    monkeypatch.setattr(push_messages, "push", lambda **values: taken.append(values))
    assert "None of your devices takes messages." in trial(grower, "push")
    add(grower)
    assert "on its way to 1 device." in trial(grower, "push")
    assert taken[0]["notice"].title == "A test"

    def refuse(**values):
        raise PushError(INSIDE)

    monkeypatch.setattr(push_messages, "push", refuse)
    said = trial(grower, "push")
    assert "did not take the test" in said
    assert "502" not in said


def test_a_test_by_mail_says_what_came_of_it(grower, cast, settings, monkeypatch):
    assert "This server sends no mail." in trial(grower, "mail")
    settings.MESSAGE_CHANNEL = "email"
    assert "Confirm your email address first." in trial(grower, "mail")
    EmailAddress.objects.create(
        user=cast.grower, email="g@example.org", verified=True, primary=True
    )
    assert "The test was sent to g@example.org." in trial(grower, "mail")
    assert mail.outbox[0].subject == "A test"

    def refuse(person):
        raise SMTPServerDisconnected

    monkeypatch.setattr(devices, "mail_trial", refuse)
    assert "The mail server did not take the test." in trial(grower, "mail")


def test_tests_do_not_come_fast(grower):
    trial(grower, "push")
    again = grower.post(TEST, {"way": "push"}, follow=True)
    assert "Wait a moment before the next test." in text_of(page_of(again))


def choose(client, **values):
    return text_of(page_of(client.post("/you/messages/ways/", values, follow=True)))


def test_ways_and_hours_are_chosen_for_oneself(grower, cast, settings):
    settings.MESSAGE_CHANNEL = "email"
    said = choose(
        grower,
        way="digest",
        digest_at="07:00",
        quiet_from="21:00",
        quiet_until="05:00",
    )
    assert "It is kept how messages reach you." in said
    ways = MessageWays.objects.get()
    assert (ways.person, ways.way, ways.digest_at) == (cast.grower, "digest", time(7))
    assert (ways.quiet_from, ways.quiet_until) == (time(21), time(5))
    assert not ways.urgent_in_quiet
    choose(grower, way="mail", digest_at="07:00", urgent_in_quiet="on")
    ways.refresh_from_db()
    assert (ways.way, ways.quiet_from, ways.quiet_until) == ("mail", None, None)
    assert ways.urgent_in_quiet


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"way": "digest", "quiet_from": "21:00"}, "begin and end"),
        ({"way": "pigeon"}, "Select a valid choice"),
        ({"way": "mail", "digest_at": "25:00"}, "Select a valid choice"),
    ],
)
def test_half_a_choice_changes_nothing_and_says_why(grower, settings, values, said):
    settings.MESSAGE_CHANNEL = "email"
    found = choose(grower, **({"digest_at": "18:00"} | values))
    assert "Nothing was changed." in found
    assert said in found
    assert not MessageWays.objects.exists()


def test_without_mail_no_way_by_mail_is_offered(grower):
    page = page_of(grower.get(YOU))
    assert page.xpath("//input[@name='way']/@value") == ["push", "none"]
    assert "Nothing was changed." in choose(grower, way="digest")
    assert "It is kept" in choose(grower, way="none")
    assert "Nothing is sent" in words(grower)
    settings_kept = MessageWays.objects.get()
    assert settings_kept.digest_at == time(18)


def test_the_page_says_how_messages_come_as_things_stand(grower, cast, settings):
    settings.MESSAGE_CHANNEL = "email"
    EmailAddress.objects.create(
        user=cast.grower, email="g@example.org", verified=True, primary=True
    )
    choose(grower, way="digest", digest_at="18:00")
    assert "to g@example.org once a day, at 18:00" in words(grower)
    MessageWays.objects.update(is_mail_stopped=True)
    assert "You stopped the mails" in words(grower)
    MessageWays.objects.update(is_mail_stopped=False, way="push")
    add(grower)
    assert "where none takes one, to g@example.org" in words(grower)
