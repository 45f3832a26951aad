"""The shifts in a member's calendar: theirs alone, told of, and with nothing private."""

from datetime import time, timedelta

import pytest
from django.db.models import F
from django.utils import timezone

from care.actions.calendar_links import make_calendar_link
from care.actions.shift_changes import cancel_shift, move_shift
from care.actions.shifts import make_shift
from care.models import HandOver, Shift
from orchard.models import Membership, Site, WayIn
from tests.care.calendars.strict_calendar import problems, read
from tests.conftest import TODAY

SATURDAY = TODAY + timedelta(days=3)


@pytest.fixture
def secret(cast):
    membership = Membership.objects.get(person=cast.grower)
    return make_calendar_link(membership=membership, label="Phone")[1]


@pytest.fixture
def make_held(site, cast):
    def make(name="Garden morning", day=SATURDAY, *, holder=None, **values):
        now = timezone.now()
        shift = make_shift(
            site=site,
            values={
                "name": name,
                "day": day,
                "starts_at": time(9),
                "minutes": 180,
                "kinds": ["watering", "pruning"],
                "note": "Ring 555-0142",
                "block": site.blocks.get(),
                **values,
            },
            skills=["", "ladder"],
            person=cast.owner,
            now=now,
        )
        Shift.objects.filter(pk=shift.pk).update(status="published", published_at=now)
        shift.places.filter(number=1).update(
            state="held", holder=holder or cast.grower, busy_on=day
        )
        return Shift.objects.get(pk=shift.pk)

    return make


@pytest.fixture
def asked(client, secret, site):
    """Return what a calendar program reads, and the answer's tag."""

    def ask():
        Site.objects.update(planned_revision=F("revision"), planned_on=TODAY)
        answer = client.get(f"/calendar/{secret}.ics")
        found = problems(answer.content)
        assert found <= {"no component"}
        calendar = read(answer.content)
        events = [one for one in calendar.components if one.name == "VEVENT"]
        return events, answer.headers["ETag"], answer.content.decode()

    return ask


def test_a_held_shift_is_told_from_hour_to_hour_without_what_is_private(
    site, cast, make_held, asked
):
    WayIn.objects.create(site=site, gate="Code 4711", key_note="Third pot")
    shift = make_held()
    (event,), _, content = asked()
    assert event.text("UID") == str(shift.uid)
    assert event.all("DTSTART")[0].value == "20250705T090000"
    assert event.all("DTSTART")[0].parameters == {"TZID": "America/Los_Angeles"}
    assert event.text("SUMMARY") == "Garden morning: 1 of 2 people"
    assert event.text("DESCRIPTION") == (
        "Where: Long row\nWhat: watering, pruning\n"
        "How to get in, and what to bring, is on the shift's page."
    )
    assert event.text("URL") == f"http://testserver/s/test-site/shifts/{shift.uid}/"
    for secret in ("4711", "Third pot", "555-0142", "grower", "owner", "47.45"):
        assert secret not in content


def test_only_shifts_the_member_holds_and_was_told_of_are_there(cast, make_held, asked):
    held = make_held("Mine")
    make_held("Another's", TODAY, holder=cast.owner)
    draft = make_held("Draft", TODAY + timedelta(days=9))
    Shift.objects.filter(pk=draft.pk).update(status="draft", published_at=None)
    make_held("Long ago", TODAY - timedelta(days=31))
    make_held("Far off", TODAY + timedelta(days=401))
    missed = make_held("Missed", TODAY - timedelta(days=2))
    missed.places.update(state="missed")
    events, _, _ = asked()
    assert [one.text("UID") for one in events] == [str(held.uid)]


def test_moving_and_cancelling_are_new_versions_of_the_same_event(
    cast, make_held, asked
):
    shift = make_held()
    (event,), first, _ = asked()
    version = int(event.text("SEQUENCE"))
    by = {"person": cast.owner, "now": timezone.now()}
    move_shift(shift=shift, day=SATURDAY, starts_at=time(14), **by)
    (event,), moved, _ = asked()
    assert event.all("DTSTART")[0].value == "20250705T140000"
    assert int(event.text("SEQUENCE")) == version + 1
    cancel_shift(shift=shift, why="Thunder is forecast.", **by)
    (event,), cancelled, _ = asked()
    assert event.text("UID") == str(shift.uid)
    assert event.text("STATUS") == "CANCELLED"
    assert event.text("SUMMARY").startswith("Cancelled: Garden morning")
    assert event.text("DESCRIPTION") == "It does not take place.\nThunder is forecast."
    assert int(event.text("SEQUENCE")) == version + 2
    assert len({first, moved, cancelled}) == 3
    for days, count in ((7, 1), (8, 0)):
        Shift.objects.update(day=TODAY - timedelta(days=days))
        assert len(asked()[0]) == count


def test_nothing_changes_until_something_does_and_then_its_time_is_told(
    cast, make_held, asked
):
    shift = make_held()
    (event,), tag, _ = asked()
    assert asked()[1] == tag
    place = shift.places.get(number=2)
    at = timezone.now() + timedelta(minutes=5)
    shift.places.filter(pk=place.pk).update(
        state="held", holder=cast.owner, busy_on=shift.day
    )
    HandOver.objects.create(
        place=place, version=1, to_person=cast.owner, why="taken", at=at
    )
    (changed,), other, _ = asked()
    assert changed.text("SUMMARY") == "Garden morning: 2 of 2 people"
    assert other != tag
    assert changed.text("LAST-MODIFIED") == f"{at:%Y%m%dT%H%M%SZ}"
    assert changed.text("SEQUENCE") == event.text("SEQUENCE")


def test_a_demonstrations_shifts_are_shown_in_the_present(site, make_held, asked):
    make_held()
    Site.objects.filter(pk=site.pk).update(calendar_shift_days=366)
    (event,), _, _ = asked()
    assert event.all("DTSTART")[0].value == "20260706T090000"


def test_many_shifts_take_as_few_queries_as_one(
    client, secret, make_held, asked, django_assert_max_num_queries
):
    path = f"/calendar/{secret}.ics"
    make_held()
    asked()
    with django_assert_max_num_queries(8) as few:
        client.get(path)
    for number in range(12):
        make_held(f"More {number}", TODAY + timedelta(days=10 + number))
    assert len(asked()[0]) == 13
    with django_assert_max_num_queries(8) as many:
        client.get(path)
    assert len(many) == len(few)
