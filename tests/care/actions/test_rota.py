"""The rota written: proposed into drafts, cleared, published; who stays where they are."""

from datetime import timedelta

import pytest
from django.core.exceptions import PermissionDenied
from django.utils import timezone

from care.actions.place_changes import PlaceError
from care.actions.rota import clear_proposal, propose
from care.actions.rota_places import put_on_place
from care.actions.rota_publish import (
    ChangedMeanwhileError,
    NothingToPublishError,
    drafts_of,
    publish,
    seal_of,
)
from care.models import Shift, ShiftPlace
from care.planning.place_rules import Stop
from care.planning.rota_changes import Change, changes_since
from care.planning.rota_facts import read_rota
from care.planning.rota_plan import standing
from orchard.models import Membership, Message
from tests.care.rota_garden import MONDAY, SATURDAY, draft, helper, holders, span

WEEK = timedelta(days=7)


@pytest.fixture
def by(cast, site):
    return Membership.objects.get(person=cast.coordinator, orchard=site.orchard)


@pytest.fixture
def crew(site):
    return [helper(site, name, most_a_week=2) for name in ("ana", "ben", "cleo", "dai")]


@pytest.fixture
def shifts(site, crew):
    return [
        draft(site, day + number * WEEK, ("", ""))
        for number in range(3)
        for day in (MONDAY + timedelta(days=2), SATURDAY)
    ]


def names(site):
    return [holder for _day, _number, holder in holders(site)]


def test_a_proposal_fills_drafts_fairly_and_running_it_again_changes_nothing(
    site, by, shifts
):
    done = propose(span(site, by.person))
    assert (done.filled, done.opened, done.learners) == (12, 0, 0)
    first = holders(site)
    counts = {name: names(site).count(name) for name in names(site)}
    assert counts == dict.fromkeys(("ana", "ben", "cleo", "dai"), 3)
    assert propose(span(site, by.person)).filled == 0
    publish(span(site, by.person))
    assert propose(span(site, by.person)).filled == 0
    assert holders(site) == first


def test_what_a_person_decided_outlasts_clearing_and_proposing(site, by, crew, shifts):
    mine = shifts[0].places.get(number=1)
    assert put_on_place(
        place=mine, person_id=crew[3].person_id, by=by, now=timezone.now()
    )
    propose(span(site, by.person))
    assert clear_proposal(span(site, by.person)) == 11
    assert [one for one in names(site) if one] == ["dai"]
    propose(span(site, by.person))
    mine.refresh_from_db()
    assert mine.holder_id == crew[3].person_id
    nobody = put_on_place(place=mine, person_id=None, by=by, now=timezone.now())
    assert nobody
    assert names(site).count(None) == 1
    assert not put_on_place(place=mine, person_id=None, by=by, now=timezone.now())
    # Drafts are nobody's news.
    assert not Message.objects.exists()


def test_whoever_is_gone_leaves_places_open_and_nobody_else_moves(
    site, by, crew, shifts
):
    propose(span(site, by.person))
    publish(span(site, by.person))
    before = names(site)
    crew[0].delete()
    today = site.today(timezone.now())
    left = standing(read_rota(site, MONDAY, MONDAY + 4 * WEEK, today))
    theirs = ShiftPlace.objects.filter(holder=crew[0].person)
    assert set(left.why) == set(theirs.values_list("pk", flat=True))
    assert propose(span(site, by.person)).filled == 0
    assert names(site) == before
    extra = draft(site, SATURDAY + timedelta(days=1), ("",))
    propose(span(site, by.person))
    publish(span(site, by.person))
    kept = [one for one in holders(site) if one[0] != str(extra.day)]
    assert [one for *_place, one in kept] == before


def test_one_who_cannot_come_moves_nobody_else(site, by, crew, shifts):
    """As measured of the method: one place opens, one other takes it, none moves."""
    propose(span(site, by.person))
    before = holders(site)
    ben = ShiftPlace.objects.filter(holder=crew[1].person).first()
    ben.shift.refusals.create(person=ben.holder)
    propose(span(site, by.person))
    moved = [one for one in zip(before, holders(site), strict=True) if one[0] != one[1]]
    assert len(moved) == 1
    assert moved[0][0][2] == "ben"
    assert moved[0][1][2] not in (None, "ben")


def test_the_young_come_to_learn_and_never_where_it_is_dangerous(site, by, crew):
    young = helper(site, "kim", is_under_18=True, mentors=crew, most_a_week=7)
    saws = draft(site, MONDAY, ("saw", ""), name="Saws")
    crew[0].helping.skills = ["saw"]
    crew[0].helping.save()
    told = draft(site, MONDAY + timedelta(days=1), ("", ""), is_hazardous=True)
    alone = draft(site, MONDAY + timedelta(days=2), ("",))
    safe = draft(site, MONDAY + timedelta(days=3), ("", ""))
    assert propose(span(site, by.person)).learners == 1
    learning = ShiftPlace.objects.get(is_learner=True)
    assert (learning.shift, learning.holder) == (safe, young.person)
    assert propose(span(site, by.person)).learners == 0
    for shift in (saws, told, alone):
        with pytest.raises(PlaceError):
            put_on_place(
                place=shift.places.first(),
                person_id=young.person_id,
                by=by,
                now=timezone.now(),
            )
    Shift.objects.filter(pk=safe.pk).update(is_hazardous=True)
    propose(span(site, by.person))
    assert not safe.places.filter(is_learner=True).exists()
    Shift.objects.filter(pk=safe.pk).update(is_hazardous=False)
    assert propose(span(site, by.person)).learners == 1
    assert clear_proposal(span(site, by.person)) == 8
    assert not ShiftPlace.objects.filter(is_learner=True).exists()


def test_a_place_by_hand_keeps_to_the_rules(site, by, cast, crew, shifts):
    same_day = draft(site, shifts[0].day, ("",), name="Mulch")
    first, second = shifts[0].places.all()
    now = timezone.now()
    put_on_place(place=first, person_id=crew[0].person_id, by=by, now=now)
    for place in (second, same_day.places.get()):
        with pytest.raises(PlaceError) as raised:
            put_on_place(place=place, person_id=crew[0].person_id, by=by, now=now)
        assert raised.value.codes == (Stop.SAME_DAY,)
    with pytest.raises(PermissionDenied):
        put_on_place(place=second, person_id=None, by=crew[0], now=now)
    Shift.objects.filter(pk=same_day.pk).update(status=Shift.Status.CANCELLED)
    with pytest.raises(PlaceError):
        put_on_place(place=same_day.places.get(), person_id=None, by=by, now=now)


def test_publishing_tells_each_once_and_what_changes_after_is_known(
    site, by, crew, shifts
):
    with pytest.raises(NothingToPublishError):
        publish(span(site, by.person, first=MONDAY - 4 * WEEK))
    propose(span(site, by.person))
    with pytest.raises(ChangedMeanwhileError):
        publish(span(site, by.person), seal="another")
    seal = seal_of(drafts_of(span(site, by.person)))
    published = publish(span(site, by.person), seal=seal)
    told = {one.person.username: one for one in Message.objects.all()}
    assert set(told) == {"ana", "ben", "cleo", "dai"}
    assert told["ana"].body["title"] == "You have 3 new shifts"
    assert changes_since(published, MONDAY) == ()
    with pytest.raises(NothingToPublishError):
        publish(span(site, by.person))
    place = shifts[0].places.first()
    was = place.holder.username
    other = next(
        one for one in crew if not shifts[0].places.filter(holder=one.person).exists()
    )
    put_on_place(place=place, person_id=other.person_id, by=by, now=timezone.now())
    Shift.objects.filter(pk=shifts[1].pk).update(
        status=Shift.Status.CANCELLED, cancelled_why="Storm"
    )
    Shift.objects.filter(pk=shifts[2].pk).update(day=shifts[2].day + timedelta(days=1))
    gone = shifts[3].day
    shifts[3].delete()
    found = changes_since(published, MONDAY)
    assert [(one.what, one.before, one.after) for one in found] == [
        (Change.HOLDER, was, other.person.username),
        (Change.CANCELLED, "", "Storm"),
        (Change.MOVED, "Wednesday 16 July, 9:00", "Thursday 17 July, 9:00"),
        (Change.GONE, "", ""),
    ]
    assert found[0].at is not None
    assert found[3].day == gone
    assert publish(span(site, by.person)).held.keys() < published.held.keys()
