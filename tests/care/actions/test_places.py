"""Places of shifts: yes and no, cover, taking, leaving, and who is told."""

from datetime import timedelta

import pytest

from care.actions.place_changes import PlaceError, Trouble
from care.actions.places import accept, ask_for_cover, claim, keep, leave, refuse
from care.models import HandOver, Shift, ShiftPlace, ShiftRefusal
from care.planning.place_rules import Against, Stop
from orchard.models import AuditEntry, Message
from orchard.views.trail_words import WHAT_WORDS
from tests.care.shift_people import NOW, SATURDAY, helper, hold, places_of, shift_on


@pytest.fixture
def ana(site, db):
    return helper(site, "ana")


@pytest.fixture
def per(site, db):
    return helper(site, "per")


@pytest.fixture
def shift(site):
    return shift_on(site)


@pytest.fixture
def held(shift, ana):
    return hold(places_of(shift)[0], ana)


def told(member):
    rows = Message.objects.filter(person=member.person).order_by("pk")
    return [(row.what, row.body["title"], row.body["lines"]) for row in rows]


def refused(action, **facts):
    with pytest.raises(PlaceError) as caught:
        action(now=NOW, **facts)
    return caught.value.codes


def test_yes_is_said_once_and_no_opens_the_place(shift, held, ana, per):
    assert accept(place=held, by=ana, now=NOW)
    assert not accept(place=held, by=ana, now=NOW)
    assert refused(accept, place=held, by=per) == (Trouble.NOT_YOURS,)
    assert refuse(place=held, by=ana, now=NOW)
    assert not refuse(place=held, by=ana, now=NOW)  # tapped twice
    held.refresh_from_db()
    assert (held.state, held.holder, held.busy_on, held.version) == (
        "open",
        None,
        None,
        1,
    )
    assert ShiftRefusal.objects.get(shift=shift).person == ana.person
    assert [row[0] for row in told(per)] == ["place_open"]
    assert told(ana) == []
    # A no is taken back by taking the place.
    assert claim(place=held, by=ana, now=NOW).is_new
    assert not ShiftRefusal.objects.exists()
    noted = set(AuditEntry.objects.values_list("what", flat=True))
    assert noted >= {"place_said_no", "place_claimed"}
    assert noted <= set(WHAT_WORDS)


def test_a_place_stays_the_asker_s_until_somebody_takes_it(shift, held, ana, per):
    assert ask_for_cover(place=held, by=ana, now=NOW)
    assert not ask_for_cover(place=held, by=ana, now=NOW)
    held.refresh_from_db()
    assert (held.state, held.holder, held.busy_on) == ("offered", ana.person, SATURDAY)
    assert keep(place=held, by=ana, now=NOW)
    assert not keep(place=held, by=ana, now=NOW)
    assert ask_for_cover(place=held, by=ana, to=per.person_id, now=NOW)
    other = helper(shift.site, "other")
    assert refused(claim, place=held, by=other) == (Stop.OFFERED_TO_ANOTHER,)
    taken = claim(place=held, by=per, now=NOW)
    assert (taken.is_new, taken.against) == (True, ())
    assert not claim(place=held, by=per, now=NOW).is_new  # tapped twice
    assert refused(claim, place=held, by=other) == (Trouble.QUICKER,)
    assert refused(keep, place=held, by=ana) == (Trouble.NOT_YOURS,)
    held.refresh_from_db()
    assert (held.state, held.holder, held.version) == ("held", per.person, 4)
    rows = HandOver.objects.filter(place=held).order_by("version")
    assert [(row.version, row.why) for row in rows] == [
        (1, "cover_asked"),
        (2, "kept"),
        (3, "cover_asked"),
        (4, "claimed"),
    ]
    assert told(ana) == [
        (
            "place_taken",
            "per takes your place",
            ["Long row 5, Saturday 5 July, 9:00: it is no longer yours. Thank you."],
        )
    ]
    asked = [row for row in told(per) if row[0] == "cover_asked"]
    assert asked[0][1] == "ana asks you for cover"
    # An open call reached everybody who may, in one message of the day.
    assert [row[0] for row in told(per)].count("place_open") == 1


def test_who_takes_a_place_agrees_to_it_but_no_rule_bends(site, shift, ana):
    first, second = places_of(shift)
    busy = helper(site, "busy", days=[6], most_a_week=0, most_a_season=0)
    taken = claim(place=first, by=busy, now=NOW)
    assert set(taken.against) == set(Against)
    # One shift a day, the same shift or another.
    assert refused(claim, place=second, by=busy) == (Stop.SAME_DAY,)
    evening = shift_on(site, name="Evening")
    assert refused(claim, place=places_of(evening)[0], by=busy) == (Stop.SAME_DAY,)
    ladder = places_of(shift_on(site, SATURDAY + timedelta(days=1), ("ladder",)))[0]
    assert refused(claim, place=ladder, by=ana) == (Stop.NO_SKILL,)
    able = helper(site, "able", skills=["ladder"])
    assert claim(place=ladder, by=able, now=NOW).is_new
    viewer = helper(site, "looker", role="viewer")
    assert refused(claim, place=second, by=viewer) == (Stop.NOT_MEMBER,)
    for facts, why in (
        ({"status": Shift.Status.DRAFT}, Stop.NOT_ON),
        ({"status": Shift.Status.CANCELLED}, Stop.NOT_ON),
        ({"day": SATURDAY - timedelta(days=4)}, Stop.OVER),
    ):
        off = places_of(shift_on(site, **{"day": SATURDAY, **facts}))[0]
        assert refused(claim, place=off, by=ana) == (why,)


def test_i_cannot_come_always_works_and_asks_nothing(cast, site, shift, held, ana, per):
    young = helper(site, "young", is_under_18=True, mentors=[ana])
    assert leave(place=held, by=ana, now=NOW)
    assert not leave(place=held, by=ana, now=NOW)
    assert refused(leave, place=held, by=per) == (Trouble.NOT_YOURS,)
    assert [row[:2] for row in told(per)] == [("place_open", "You could take a place")]
    assert told(ana) == []
    assert told(young) == []  # may not, so is not asked
    for arranges in (cast.owner, cast.coordinator):
        rows = Message.objects.filter(person=arranges, what="place_left")
        assert [row.body["title"] for row in rows] == ["ana cannot come"]
    assert HandOver.objects.get(place=held).why == "cannot_come"
    # The one who left is put on no other shift, and may come back.
    assert not ShiftPlace.objects.filter(holder=ana.person).exists()
    assert claim(place=held, by=ana, now=NOW).is_new


def test_open_places_are_told_of_once_a_day(site, shift, held, ana, per):
    second = hold(places_of(shift)[1], helper(site, "second"))
    leave(place=held, by=ana, now=NOW)
    leave(place=second, by=second.holder.memberships.get(), now=NOW)
    sunday = shift_on(site, SATURDAY + timedelta(days=1))
    place = hold(places_of(sunday)[0], ana)
    leave(place=place, by=ana, now=NOW)
    [(_, title, lines)] = told(per)
    assert title == "You could take one of some places"
    assert [line.split(",")[0] for line in lines] == ["Long row 5", "Long row 6"]
    # Once it was sent the next waits for the morning.
    Message.objects.filter(person=per.person).update(sent_at=NOW)
    place = hold(places_of(shift_on(site, SATURDAY + timedelta(days=2)))[0], ana)
    leave(place=place, by=ana, now=NOW)
    first, later = Message.objects.filter(person=per.person).order_by("pk")
    assert later.due_at - first.due_at < timedelta(days=1)
    assert later.due_at.astimezone(first.due_at.tzinfo) > first.due_at


def test_stepping_in_late_counts_more_and_leaving_late_is_known(site, ana, per):
    tomorrow = shift_on(site, SATURDAY - timedelta(days=2))
    place = hold(places_of(tomorrow)[0], ana)
    leave(place=place, by=ana, now=NOW)
    assert HandOver.objects.get(place=place).why == "cannot_come_late"
    claim(place=place, by=per, now=NOW)
    place.refresh_from_db()
    assert place.credit_percent == 150
    leave(place=place, by=per, now=NOW)
    place.refresh_from_db()
    assert place.credit_percent == 100


def test_places_of_another_orchard_are_not_there(cast, shift, held):
    stranger = cast.stranger.memberships.get()
    for action in (accept, refuse, leave, claim, keep, ask_for_cover):
        with pytest.raises(ShiftPlace.DoesNotExist):
            action(place=held, by=stranger, now=NOW)
