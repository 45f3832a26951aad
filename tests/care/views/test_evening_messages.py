"""Whom to tell of an evening that cannot wait, when, and not a second time."""

from datetime import UTC, datetime, timedelta
from io import StringIO
from zoneinfo import ZoneInfo

import pytest
from django.core.management import CommandError, call_command

from care.jobs import write_evening_messages
from care.views import evening_messages
from care.views.evening_messages import is_evening, write_evenings
from orchard.actions.in_care import take
from orchard.actions.messages import Told, choose_messages
from orchard.actions.places import add_site
from orchard.jobs import send_messages
from orchard.models import Membership, Message, Role, Site
from tests.conftest import TODAY

# In July the site's clock is seven hours behind: Pacific daylight time, tz database.
FOUR = datetime(2025, 7, 2, 23, 0, tzinfo=UTC)


@pytest.fixture
def care(cast):
    def arrange(role, thing, **values):
        member = Membership.objects.get(person=getattr(cast, role))
        take(by=member, member=member, thing=thing, now=FOUR, **values)

    return arrange


@pytest.fixture
def cold(make_tree, make_task, keep_plan):
    """Three pots to bring in tonight."""
    trees = [make_tree(name) for name in ("Lemon", "Lime", "Fig")]
    for tree in trees:
        make_task(
            tree, kind="cold", action="move_in", is_urgent=True, amount=None, unit=""
        )
    keep_plan()
    return trees


def named():
    """Return the trees each person was told of."""
    return {
        message.person.username: [
            name
            for name in ("Lemon", "Lime", "Fig")
            if any(line.startswith(f"• {name}:") for line in message.body["lines"])
        ]
        for message in Message.objects.select_related("person")
    }


def test_people_are_told_of_what_they_look_after_and_arrangers_of_what_nobody_does(
    cold, care
):
    lemon, lime, _ = cold
    care("grower", lemon)
    care("owner", lime)
    assert write_evenings(FOUR) == 3
    assert named() == {
        "grower": ["Lemon"],
        "owner": ["Lime", "Fig"],
        "coordinator": ["Fig"],
    }


def test_a_backup_is_told_as_well(cold, care):
    lemon, _, _ = cold
    care("coordinator", lemon)
    care("grower", lemon, is_backup=True)
    write_evenings(FOUR)
    assert named()["grower"] == ["Lemon"]


def test_the_message_says_where_why_and_until_when(cold, care):
    care("grower", cold[0])
    write_evenings(FOUR)
    message = Message.objects.get(person__username="grower")
    assert message.body["title"] == "Test site: 1 thing to do before the cold"
    assert message.body["path"] == "/s/test-site/"
    assert (
        message.why == "You look after trees in Test site, or arrange the work there."
    )
    assert message.due_at == FOUR
    until = datetime.fromisoformat(message.body["until"])
    assert until.astimezone(UTC) == datetime(2025, 7, 3, 5, 0, tzinfo=UTC)


def test_each_is_told_once_a_day(site, cold, cast):
    assert write_evenings(FOUR) == 2
    assert write_evenings(FOUR + timedelta(minutes=10)) == 0
    Site.objects.filter(pk=site.pk).update(
        own_today=TODAY + timedelta(days=1), planned_on=TODAY + timedelta(days=1)
    )
    assert write_evenings(FOUR + timedelta(days=1)) == 2


def test_calm_and_other_work_is_not_told(make_tree, make_task, keep_plan):
    make_task(make_tree("Calm"), kind="cold", action="cover")
    make_task(make_tree("Dry"), is_urgent=True)
    make_task(
        make_tree("Later"),
        kind="cold",
        action="cover",
        is_urgent=True,
        not_before=TODAY + timedelta(days=1),
    )
    keep_plan()
    assert write_evenings(FOUR) == 0


def test_who_may_not_tick_is_not_told(cold, care, cast):
    care("grower", cold[0])
    Membership.objects.filter(person=cast.grower).update(role=Role.VIEWER)
    write_evenings(FOUR)
    # What the former grower looked after is nobody's now, and is not lost.
    everything = ["Lemon", "Lime", "Fig"]
    assert named() == {"owner": everything, "coordinator": everything}


def test_who_switched_it_off_is_not_told(cold, cast):
    choose_messages(person=cast.owner, wanted=[Told.REMOVED])
    assert write_evenings(FOUR) == 1
    assert set(named()) == {"coordinator"}


@pytest.mark.parametrize(
    "zone",
    ["America/Los_Angeles", "Australia/Sydney", "Pacific/Kiritimati", "Asia/Kathmandu"],
)
@pytest.mark.parametrize(
    ("hour", "minute", "expected"),
    [(15, 59, False), (16, 0, True), (21, 59, True), (22, 0, False), (3, 0, False)],
)
def test_the_evening_is_that_of_the_sites_own_clock(zone, hour, minute, expected):
    local = datetime(2025, 7, 2, hour, minute, tzinfo=ZoneInfo(zone))
    assert is_evening(Site(time_zone=zone), local.astimezone(UTC)) is expected


@pytest.mark.parametrize(
    ("zone", "day", "four_utc"),
    [
        # Clocks go back on 2 November and forward on 9 March 2025, tz database.
        ("America/Los_Angeles", (2025, 11, 1), 23),
        ("America/Los_Angeles", (2025, 11, 2), 24),
        ("America/Los_Angeles", (2025, 3, 9), 23),
        # In the south they go forward on 5 October 2025: eleven hours ahead from then.
        ("Australia/Sydney", (2025, 10, 5), 5),
        # No sun and no midnight sun changes the clock: 78 degrees north.
        ("Arctic/Longyearbyen", (2025, 12, 21), 15),
        ("Arctic/Longyearbyen", (2025, 6, 21), 14),
    ],
)
def test_four_in_the_afternoon_follows_the_change_of_clocks(zone, day, four_utc):
    at = datetime(*day, tzinfo=UTC) + timedelta(hours=four_utc)
    site = Site(time_zone=zone)
    assert is_evening(site, at)
    assert not is_evening(site, at - timedelta(minutes=1))
    assert is_evening(site, at + timedelta(hours=5, minutes=59))
    assert not is_evening(site, at + timedelta(hours=6))


def test_outside_the_evening_nothing_is_written(cold):
    assert write_evenings(FOUR - timedelta(minutes=1)) == 0


def test_a_site_that_fails_does_not_silence_the_others(site, cold, monkeypatch, caplog):
    whole = evening_messages.site_evening

    def broken_first(one, now):
        if one.slug == "broken":
            raise ZeroDivisionError
        return whole(one, now)

    values = {"name": "Broken", "latitude_deg": 1.0, "longitude_deg": 1.0}
    zone = {"time_zone": site.time_zone}
    add_site(orchard=site.orchard, values={**values, **zone})
    monkeypatch.setattr(evening_messages, "site_evening", broken_first)
    with pytest.raises(ExceptionGroup) as raised:
        write_evenings(FOUR)
    assert isinstance(raised.value.exceptions[0], ZeroDivisionError)
    assert "Nobody was told of the evening at site" in caplog.text
    assert set(named()) == {"owner"}


def test_an_orchard_that_fails_is_not_silent_either(cold, monkeypatch, caplog):
    monkeypatch.setattr(evening_messages, "tell_evening", lambda *_: 1 / 0)
    with pytest.raises(ExceptionGroup):
        write_evenings(FOUR)
    assert "Nobody was told of the evening in orchard" in caplog.text


def test_the_jobs_write_and_send(cold, cast, monkeypatch, settings, caplog):
    choose_messages(person=cast.coordinator, wanted=[])
    settings.MESSAGE_CHANNEL = "development"
    monkeypatch.setattr("django.utils.timezone.now", lambda: FOUR)
    assert write_evening_messages() == 1
    assert write_evening_messages() == 0
    assert send_messages() == 1
    assert send_messages() == 0


def test_the_command_does_what_the_jobs_do(site, cold, monkeypatch):
    monkeypatch.setattr("django.utils.timezone.now", lambda: FOUR)
    out = StringIO()
    call_command("send_messages", "--channel", "development", stdout=out)
    call_command("send_messages", stdout=out)
    assert out.getvalue() == "1 written, 1 sent\n0 written, 0 sent\n"
    with pytest.raises(CommandError):
        call_command("send_messages", "--channel", "pigeon")
