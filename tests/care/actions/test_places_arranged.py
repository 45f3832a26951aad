"""What coordinators do with places, learners on hold, missed shifts and hours."""

from datetime import timedelta

import pytest
from django.core.exceptions import PermissionDenied

from care.actions.place_changes import PlaceError, Trouble
from care.actions.places import claim, leave
from care.actions.places_arranged import (
    assign,
    close_unconfirmed,
    mark_missed,
    settle_site,
    unassign,
    write_hours,
)
from care.models import ShiftPlace
from care.planning.place_facts import read_facts
from care.planning.place_rules import Stop
from care.planning.shift_shares import helper_seasons
from orchard.actions.members import remove_member
from orchard.models import Membership, Message
from tests.care.shift_people import NOW, SATURDAY, helper, hold, places_of, shift_on
from tests.conftest import TODAY

YESTERDAY = TODAY - timedelta(days=1)


@pytest.fixture
def arranger(cast):
    return Membership.objects.get(person=cast.coordinator)


@pytest.fixture
def owner(cast):
    return Membership.objects.get(person=cast.owner)


def refused(action, **facts):
    with pytest.raises(PlaceError) as caught:
        action(now=NOW, **facts)
    return caught.value.codes


def test_a_coordinator_gives_and_takes_places_under_the_same_rules(site, arranger):
    ana, per = helper(site, "ana"), helper(site, "per")
    place, ladder = places_of(shift_on(site, skills=("", "ladder")))
    facts = {"place": place, "by": arranger, "now": NOW}
    assert assign(person_id=ana.person_id, **facts).is_new
    assert not assign(person_id=ana.person_id, **facts).is_new
    assert assign(person_id=per.person_id, **facts).is_new  # in Ana's stead
    kinds = Message.objects.values_list("person__username", "what")
    assert list(kinds.order_by("pk")) == [
        ("ana", "shift_proposed"),
        ("ana", "place_taken"),
        ("per", "shift_proposed"),
    ]
    codes = refused(assign, place=ladder, person_id=ana.person_id, by=arranger)
    assert codes == (Stop.NO_SKILL,)
    assert unassign(**facts)
    assert not unassign(**facts)
    with pytest.raises(PermissionDenied):
        assign(place=place, person_id=ana.person_id, by=ana, now=NOW)


def test_a_learner_is_on_hold_as_soon_as_a_grown_up_leaves_and_till_one_comes(site):
    mentor, other = helper(site, "mentor"), helper(site, "other")
    young = helper(site, "young", is_under_18=True, mentors=[mentor])
    shift = shift_on(site, learners=1)
    first, second, learning = places_of(shift)
    assert refused(claim, place=learning, by=young) == (Stop.NO_MENTOR,)
    claim(place=first, by=mentor, now=NOW)
    assert refused(claim, place=learning, by=young) == (Stop.UNDER_18_TWO,)
    claim(place=second, by=other, now=NOW)
    assert claim(place=learning, by=young, now=NOW).is_new
    leave(place=second, by=other, now=NOW)
    learning.refresh_from_db()
    assert (learning.on_hold, learning.holder) == (True, young.person)
    told = Message.objects.get(person=young.person)
    assert told.body["title"] == "Your place to learn is on hold"
    claim(place=second, by=other, now=NOW)
    learning.refresh_from_db()
    assert not learning.on_hold
    # A ladder that comes into the work holds at once, and is written by the next job.
    shift.is_hazardous = True
    shift.save()
    facts = read_facts(site, [shift], TODAY)[shift.pk]
    assert facts.is_on_hold(facts.places[-1])
    assert (settle_site(site=site, now=NOW), settle_site(site=site, now=NOW)) == (1, 0)
    learning.refresh_from_db()
    assert learning.on_hold


def test_who_is_taken_out_of_the_orchard_holds_nothing_and_nobody_else_moves(
    site, owner
):
    mentor, other = helper(site, "mentor"), helper(site, "other")
    free = helper(site, "free")
    learner = helper(site, "learner", is_learner=True, mentors=[mentor])
    shift, later = shift_on(site, learners=1), shift_on(site, SATURDAY + timedelta(7))
    first, second, learning = places_of(shift)
    for place, member in ((first, mentor), (second, other), (learning, learner)):
        hold(place, member)
    kept = hold(places_of(later)[0], other)
    gone = hold(places_of(later)[1], mentor)
    remove_member(by=owner, member_id=mentor.pk, now=NOW)
    facts = read_facts(site, [shift, later], TODAY)
    assert facts[shift.pk].holder(facts[shift.pk].places[0]) is None
    assert settle_site(site=site, now=NOW) == 2
    rows = ShiftPlace.objects.in_bulk()
    assert [rows[one.pk].state for one in (first, gone)] == ["open", "open"]
    assert rows[learning.pk].on_hold
    others = [(rows[one.pk].holder_id, rows[one.pk].version) for one in (second, kept)]
    assert others == [(other.person_id, 0)] * 2
    # Who may is told; who holds another place on both days is not.
    told = Message.objects.get(what="place_open", person=free.person)
    assert len(told.body["lines"]) == 2
    assert not Message.objects.filter(person=other.person).exists()


def test_missed_is_said_after_the_shift_by_who_was_there_or_arranges(site, arranger):
    ana, per, out = (helper(site, name) for name in ("ana", "per", "out"))
    shift = shift_on(site, YESTERDAY)
    first, second = places_of(shift)
    hold(first, ana)
    hold(second, per)
    ahead = hold(places_of(shift_on(site))[0], ana)
    assert refused(mark_missed, place=ahead, by=arranger) == (Trouble.NOT_YET,)
    assert refused(mark_missed, place=first, by=ana) == (Trouble.ONESELF,)
    assert refused(mark_missed, place=first, by=out) == (Trouble.NOT_YOURS,)
    assert mark_missed(place=first, by=per, now=NOW)
    assert not mark_missed(place=first, by=per, now=NOW)
    assert refused(write_hours, place=first, minutes=60, by=ana) == (Trouble.NOT_YOURS,)
    season = helper_seasons(site, TODAY)[ana.person_id]
    assert (season.missed, season.shifts, season.asks_for_talk) == (1, 1, False)
    # One who arranges shifts may put it right.
    assert write_hours(place=first, minutes=95, by=arranger, now=NOW)
    assert write_hours(place=second, minutes=100, by=per, now=NOW)
    assert not write_hours(place=second, minutes=100, by=per, now=NOW)
    seasons = helper_seasons(site, TODAY)
    assert [seasons[one.person_id].minutes for one in (ana, per)] == [95, 100]
    open_place = places_of(shift_on(site, YESTERDAY, name="Evening"))[0]
    assert refused(mark_missed, place=open_place, by=arranger) == (
        Trouble.NOBODY_THERE,
    )


def test_what_nobody_speaks_of_counts_after_a_week(site, db):
    ana = helper(site, "ana")
    old = hold(places_of(shift_on(site, TODAY - timedelta(days=8)))[0], ana)
    new = hold(places_of(shift_on(site, TODAY - timedelta(days=6)))[0], ana)
    waits = shift_on(site, TODAY - timedelta(days=9), learners=1)
    learner = helper(site, "learner", is_learner=True)
    on_hold = hold(places_of(waits)[2], learner)
    ShiftPlace.objects.filter(pk=on_hold.pk).update(on_hold=True)
    before = helper_seasons(site, TODAY)[ana.person_id]
    assert close_unconfirmed(site=site, now=NOW) == 2
    after = helper_seasons(site, TODAY)[ana.person_id]
    assert (before.minutes, before.unconfirmed) == (after.minutes, after.unconfirmed)
    assert (after.minutes, after.unconfirmed, after.shifts) == (120, 1, 2)
    rows = ShiftPlace.objects.in_bulk()
    states = [rows[one.pk].state for one in (old, new, on_hold)]
    assert states == ["done", "held", "open"]
