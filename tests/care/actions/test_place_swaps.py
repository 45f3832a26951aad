"""Swaps: both or neither; and places on one day, which no instant holds twice."""

import pytest

from care.actions.place_changes import PlaceError, Trouble
from care.actions.place_swaps import ask_to_swap, decline, swap
from care.actions.places import claim, keep, leave
from care.models import HandOver, ShiftPlace
from care.planning.place_rules import Stop
from orchard.models import Message
from tests.care.shift_people import (
    NOW,
    SATURDAY,
    SUNDAY,
    helper,
    hold,
    places_of,
    shift_on,
)


@pytest.fixture
def pair(site, db):
    """Ana on Saturday, Per on Sunday."""
    ana, per = helper(site, "ana"), helper(site, "per")
    saturday, sunday = shift_on(site), shift_on(site, SUNDAY)
    mine = hold(places_of(saturday)[0], ana)
    theirs = hold(places_of(sunday)[0], per)
    return ana, mine, per, theirs


def holders(*places):
    rows = ShiftPlace.objects.in_bulk([place.pk for place in places])
    return [(rows[p.pk].holder_id, rows[p.pk].busy_on) for p in places]


def refused(action, **facts):
    with pytest.raises(PlaceError) as caught:
        action(now=NOW, **facts)
    return caught.value.codes


def test_both_keep_their_own_until_the_answer_is_yes(pair):
    ana, mine, per, theirs = pair
    ShiftPlace.objects.filter(pk=mine.pk).update(credit_percent=150)
    before = holders(mine, theirs)
    assert ask_to_swap(place=mine, other=theirs, by=ana, now=NOW)
    assert not ask_to_swap(place=mine, other=theirs, by=ana, now=NOW)
    assert holders(mine, theirs) == before
    # It is offered for that swap alone: nobody takes it as cover.
    assert refused(claim, place=mine, by=per) == (Stop.FOR_A_SWAP,)
    assert swap(place=theirs, other=mine, by=per, now=NOW)
    assert not swap(place=theirs, other=mine, by=per, now=NOW)  # tapped twice
    assert holders(mine, theirs) == [
        (per.person_id, SATURDAY),
        (ana.person_id, SUNDAY),
    ]
    # Who stepped in late keeps what that counts; the swap itself changes nothing.
    theirs.refresh_from_db()
    assert theirs.credit_percent == 150
    whys = HandOver.objects.order_by("pk").values_list("why", flat=True)
    assert list(whys) == [f"swap/{theirs.pk}", "swapped", "swapped"]
    told = Message.objects.filter(person=ana.person).values_list("what", flat=True)
    assert list(told) == ["place_taken"]


def test_a_swap_ends_when_anything_moved(pair):
    ana, mine, per, theirs = pair
    ask_to_swap(place=mine, other=theirs, by=ana, now=NOW)
    keep(place=mine, by=ana, now=NOW)
    assert refused(swap, place=theirs, other=mine, by=per) == (Trouble.NO_SWAP,)
    ask_to_swap(place=mine, other=theirs, by=ana, now=NOW)
    assert decline(place=mine, by=per, now=NOW)
    assert refused(decline, place=mine, by=per) == (Trouble.NOT_OFFERED,)
    assert refused(swap, place=theirs, other=mine, by=per) == (Trouble.NO_SWAP,)
    ask_to_swap(place=mine, other=theirs, by=ana, now=NOW)
    leave(place=theirs, by=per, now=NOW)
    assert refused(swap, place=theirs, other=mine, by=per) == (Trouble.NOT_YOURS,)
    assert refused(ask_to_swap, place=theirs, other=mine, by=per) == (
        Trouble.NOT_YOURS,
    )


def test_two_of_one_day_change_at_once_and_a_third_day_stops_it(site, pair):
    ana, mine, per, theirs = pair
    evening = hold(places_of(shift_on(site, name="Evening"))[0], helper(site, "eve"))
    eve = evening.holder.memberships.get()
    ask_to_swap(place=mine, other=evening, by=ana, now=NOW)
    assert swap(place=evening, other=mine, by=eve, now=NOW)
    assert holders(mine, evening) == [
        (eve.person_id, SATURDAY),
        (ana.person_id, SATURDAY),
    ]
    # Per would have two on Saturday if they got Eve's for Sunday's.
    saturday = hold(places_of(shift_on(site, name="Noon"))[0], per)
    assert refused(ask_to_swap, place=mine, other=theirs, by=eve) == (Stop.SAME_DAY,)
    assert holders(mine, theirs, saturday) == [
        (eve.person_id, SATURDAY),
        (per.person_id, SUNDAY),
        (per.person_id, SATURDAY),
    ]


def test_rules_hold_for_both_of_a_swap_at_the_yes_as_well(site, pair):
    ana, mine, per, theirs = pair
    ask_to_swap(place=mine, other=theirs, by=ana, now=NOW)
    theirs.skill = "ladder"
    theirs.save()
    before = holders(mine, theirs)
    helping = per.helping
    helping.skills = ["ladder"]
    helping.save()
    assert refused(swap, place=theirs, other=mine, by=per) == (Stop.NO_SKILL,)
    assert holders(mine, theirs) == before
