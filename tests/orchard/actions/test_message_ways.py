"""By which way a message goes, and until when it waits."""

from datetime import UTC, datetime, time, timedelta

import pytest
from allauth.account.models import EmailAddress
from django.core import mail

from orchard.actions import message_channels, push_messages
from orchard.actions.message_channels import send_due
from orchard.actions.message_ways import choose_ways, stop_mails
from orchard.actions.messages import Told, choose_messages, write_message
from orchard.actions.push import DeviceGoneError, PushError
from orchard.actions.push_devices import add_device
from orchard.models import Message, MessageWays, PushSubscription
from tests.orchard.actions.push_service import HOST, Browser

#: Noon in Los Angeles, where the test site lies.
NOON = datetime(2026, 3, 2, 20, 0, tzinfo=UTC)
NIGHT = datetime(2026, 3, 3, 7, 0, tzinfo=UTC)  # 23:00
MORNING = datetime(2026, 3, 3, 14, 0, tzinfo=UTC)  # 6:00
HOUR = timedelta(hours=1)


@pytest.fixture
def pushed(monkeypatch):
    """What push services took; one that is named in ``refusing`` takes nothing."""

    class Pushed(list):
        refusing: dict[str, Exception] = {}

    taken = Pushed()

    def push(*, device, notice, now):
        if device.endpoint in taken.refusing:
            raise taken.refusing[device.endpoint]
        taken.append((device.endpoint, notice))

    monkeypatch.setattr(push_messages, "push", push)
    taken.refusing = {}
    return taken


@pytest.fixture
def grower(cast):
    EmailAddress.objects.create(
        user=cast.grower, email="g@example.org", verified=True, primary=True
    )
    return cast.grower


@pytest.fixture
def add(settings):
    settings.PUSH_HOSTS = (HOST,)

    def add(person, number=1, device_key=""):
        return add_device(
            person=person,
            **Browser(number).said,
            user_agent="Phone",
            device_key=device_key or f"key {number}",
            now=NOON,
        )

    return add


def choose(person, way, **values):
    usual = {
        "digest_at": time(18),
        "quiet_from": time(22),
        "quiet_until": time(6),
        "urgent_in_quiet": True,
    }
    choose_ways(person=person, way=way, **(usual | values))


def write(person, orchard, what=Told.SHIFT_CHANGED, due_at=NOON, **values):
    return write_message(
        person=person,
        orchard=orchard,
        what=what,
        key=values.pop("key", "k"),
        why="You asked.",
        title=values.pop("title", "Bea takes your place"),
        lines=["Pruning, Saturday 7 March, 9:00"],
        path="/s/test-site/",
        due_at=due_at,
        **values,
    )


def send(now, channel_name="email"):
    return send_due(now=lambda: now, channel_name=channel_name)


def state():
    row = Message.objects.get()
    return row.channel, row.attempts, row.held_until


def test_without_a_choice_it_goes_by_mail(grower, site, pushed):
    write(grower, site.orchard)
    assert send(NOON) == 1
    assert state()[0] == "email"
    assert (len(mail.outbox), pushed) == (1, [])


def test_to_devices_it_goes_once_each_and_by_no_other_way(grower, site, pushed, add):
    add(grower, 1)
    add(grower, 2)
    write(grower, site.orchard)
    assert send(NOON) == 1
    assert [endpoint[-1] for endpoint, _ in pushed] == ["1", "2"]
    assert (state()[0], mail.outbox) == ("push", [])
    assert send(NOON + HOUR) == 0
    assert len(pushed) == 2


def test_a_device_shows_no_names_but_of_weather(grower, site, pushed, add):
    add(grower)
    write(grower, site.orchard)
    write(grower, site.orchard, Told.COLD_TONIGHT, key="c", title="Cold at home")
    send(NOON)
    shown = [(notice.title, notice.body) for _, notice in pushed]
    assert shown == [
        ("A shift of yours changes", "Test orchard: Tap to read it."),
        ("Cold at home", "Pruning, Saturday 7 March, 9:00"),
    ]
    assert [notice.is_urgent for _, notice in pushed] == [False, True]
    assert len({notice.topic for _, notice in pushed}) == 2


def test_every_kind_is_shown_in_words(grower, site, pushed, add):
    add(grower)
    for what in Told:
        write(grower, site.orchard, what, key=what)
    assert send(NOON) == len(Told)
    assert all(notice.title and notice.body for _, notice in pushed)


def test_where_no_device_takes_it_mail_does(grower, site, pushed, add):
    device = add(grower)
    pushed.refusing = {device.endpoint: PushError("busy")}
    write(grower, site.orchard)
    assert send(NOON) == 1
    assert state()[0] == "email"
    device.refresh_from_db()
    assert (device.failures, device.failing_since, device.error) == (1, NOON, "busy")


def test_without_mail_a_busy_service_is_asked_again(grower, site, pushed, add):
    device = add(grower)
    pushed.refusing = {device.endpoint: PushError("busy")}
    write(grower, site.orchard)
    assert send(NOON, "page") == 0
    assert Message.objects.get().error == "PushError: busy"
    pushed.refusing = {}
    assert send(NOON + HOUR, "page") == 1
    device.refresh_from_db()
    assert (device.failures, device.failing_since, device.error) == (0, None, "")
    assert device.sent_at == NOON + HOUR


def test_a_device_that_is_gone_is_removed_and_the_others_take_it(
    grower, site, pushed, add
):
    gone, other = add(grower, 1), add(grower, 2)
    pushed.refusing = {gone.endpoint: DeviceGoneError("410")}
    write(grower, site.orchard)
    assert send(NOON) == 1
    assert state()[0] == "push"
    assert list(PushSubscription.objects.all()) == [other]


def test_a_week_of_failures_switches_a_device_off(grower, site, pushed, add):
    device = add(grower)
    pushed.refusing = {device.endpoint: PushError("busy")}
    for day in (0, 1, 2, 3, 6, 7):
        assert not PushSubscription.objects.get().is_off
        now = NOON + timedelta(days=day)
        write(grower, site.orchard, key=str(day), due_at=now)
        send(now)
    assert PushSubscription.objects.get().is_off
    add(grower)  # the same browser again
    assert not PushSubscription.objects.get().is_off


def test_who_wants_nothing_is_sent_nothing(grower, site, pushed, add):
    add(grower)
    choose(grower, "none")
    write(grower, site.orchard, Told.COLD_TONIGHT)
    assert send(NOON) == 0
    assert (state()[:2], pushed, mail.outbox) == (("", 0), [], [])


def test_mail_that_was_stopped_stays_so_until_it_is_chosen_again(
    grower, site, pushed, add
):
    stop_mails(person=grower)
    write(grower, site.orchard)
    assert send(NOON) == 0
    assert state()[:2] == ("", 0)
    device = add(grower)
    pushed.refusing = {device.endpoint: PushError("busy")}
    assert send(NOON) == 0
    assert mail.outbox == []
    choose(grower, "mail")
    assert send(NOON + HOUR) == 1
    assert len(mail.outbox) == 1


def test_who_was_shut_out_is_sent_nothing(grower, site, pushed, add):
    add(grower)
    grower.is_active = False
    grower.save()
    write(grower, site.orchard)
    assert send(NOON) == 0
    assert (pushed, mail.outbox) == ([], [])


def test_at_night_it_waits_for_the_morning_of_its_place(grower, site, pushed):
    write(grower, site.orchard, due_at=NIGHT, time_zone="America/Los_Angeles")
    assert send(NIGHT) == 0
    assert state() == ("", 0, MORNING)
    assert send(MORNING - timedelta(minutes=1)) == 0
    assert send(MORNING) == 1


def test_the_night_is_that_of_the_place_it_tells_of(grower, site):
    write(grower, site.orchard, due_at=NIGHT, time_zone="Australia/Sydney")
    assert send(NIGHT) == 1  # six in the evening there


def test_what_is_urgent_and_would_come_too_late_may_come_at_night(grower, site):
    soon = {"due_at": NIGHT, "until": NIGHT + HOUR}
    write(grower, site.orchard, Told.COLD_TONIGHT, **soon)
    assert send(NIGHT) == 1
    Message.objects.all().delete()
    write(grower, site.orchard, Told.COLD_TONIGHT, due_at=NIGHT)
    assert send(NIGHT) == 0  # it is of use in the morning still
    Message.objects.all().delete()
    choose(grower, "mail", urgent_in_quiet=False)
    write(grower, site.orchard, Told.COLD_TONIGHT, **soon)
    assert send(NIGHT) == 0


def test_a_choice_frees_what_was_held_back(grower, site):
    write(grower, site.orchard, due_at=NIGHT)
    assert send(NIGHT) == 0
    choose(grower, "mail", quiet_from=None, quiet_until=None)
    assert send(NIGHT) == 1


def test_held_back_or_not_it_is_not_sent_once_it_is_not_wanted(grower, site):
    write(grower, site.orchard, due_at=NIGHT)
    assert send(NIGHT) == 0
    choose_messages(person=grower, wanted=[])
    assert send(MORNING) == 0
    assert Message.objects.get().error == "Switched off meanwhile."


def test_a_new_device_leaves_the_mail_of_the_day_as_it_is(grower, add):
    choose(grower, "digest")
    add(grower)
    assert MessageWays.objects.get().way == "digest"
    choose(grower, "none")
    add(grower, 2)
    assert MessageWays.objects.get().way == "push"


def test_development_prints_whatever_was_chosen(grower, site, pushed, caplog):
    choose(grower, "none")
    write(grower, site.orchard, due_at=NIGHT)
    assert send(NIGHT, "development") == 1
    assert message_channels.__name__ in {record.name for record in caplog.records}


def test_without_an_address_nothing_waits_for_the_mail_of_the_day(
    cast, site, pushed, add
):
    add(cast.grower)
    choose(cast.grower, MessageWays.Way.DIGEST)
    write(cast.grower, site.orchard)
    assert send(NOON) == 1
    assert (state()[0], len(pushed)) == ("push", 1)
