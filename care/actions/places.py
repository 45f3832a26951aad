"""What people do with places: say yes or no, ask for cover, take one, cannot come.

A place that cover is asked for stays its holder's until somebody takes it. Who takes one
agrees to it: what they offered and their limits are told, and stop nothing; the rules of
:mod:`care.planning.place_rules` stop. "I can't come" always works and asks no reason.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction

from care.actions.place_changes import (
    AtPlace,
    PlaceError,
    Trouble,
    Why,
    change,
    locked,
    open_again,
    require_holder,
    require_on,
    settle,
)
from care.actions.place_messages import (
    tell_asked,
    tell_left,
    tell_open,
    tell_settled,
    tell_taken,
)
from care.models import HandOver, ShiftPlace, ShiftRefusal
from care.planning.place_facts import HELD
from care.planning.place_rules import Against, Stop
from orchard.models import Membership

State = ShiftPlace.State

#: Until then a coordinator can still find somebody; common practice, no source.
LATE_WITHIN = timedelta(hours=48)
#: Who steps in so late has done one and a half; common practice, no source.
STANDS_IN_WITHIN = timedelta(hours=24)
STAND_IN_PERCENT = 150
USUAL_PERCENT = 100


@dataclass(frozen=True, slots=True)
class Taken:
    """A place is held: whether that is news, and what spoke against it."""

    is_new: bool
    against: tuple[Against, ...] = ()


@transaction.atomic
def accept(*, place: ShiftPlace, by: Membership, now: datetime) -> bool:
    """Say yes to a place one was given; whether that is news.

    Raises
    ------
    PlaceError
        It is not theirs, or the shift is over or called off.
    """
    at = locked(place, by, now)
    require_on(at)
    require_holder(at, by)
    waiting = ShiftPlace.objects.filter(pk=at.place.pk, accepted_at=None)
    return bool(waiting.update(accepted_at=now))


@transaction.atomic
def refuse(*, place: ShiftPlace, by: Membership, now: datetime) -> bool:
    """Say no to a place one was given: it opens, and the shift is not proposed again.

    Return whether that is news.

    Raises
    ------
    PlaceError
        It is somebody else's, or the shift is over or called off.
    """
    at = locked(place, by, now)
    if not _still_theirs(at, by):
        return False
    tell_open(_go(at, by, Why.SAID_NO))
    return True


@transaction.atomic
def leave(*, place: ShiftPlace, by: Membership, now: datetime) -> bool:
    """Say that one cannot come; whether that is news.

    It always works until the shift begins. The place opens, whoever may take it and
    those who arrange shifts are told; the person is put on no other shift for it and
    loses nothing but this one.

    Raises
    ------
    PlaceError
        It is somebody else's, or the shift is over or called off.
    """
    at = locked(place, by, now)
    if not _still_theirs(at, by):
        return False
    is_late = at.until_begin <= LATE_WITHIN
    after = _go(at, by, Why.CANNOT_COME_LATE if is_late else Why.CANNOT_COME)
    tell_left(after, who=by.person)
    tell_open(after)
    return True


def _still_theirs(at: AtPlace, by: Membership) -> bool:
    """Whether the place is the member's to give up; not once they gave it up."""
    require_on(at)
    if at.place.state in HELD and at.place.holder_id == by.person_id:
        return True
    gave_up = HandOver.objects.filter(
        place=at.place, version=at.place.version, from_person=by.person
    )
    if at.place.state == State.OPEN and gave_up.exists():
        return False
    raise PlaceError(Trouble.NOT_YOURS)


def _go(at: AtPlace, by: Membership, why: Why) -> AtPlace:
    """Give up a place and the shift with it; return what then is known of it."""
    open_again(at, why=why, by=by.person)
    ShiftRefusal.objects.get_or_create(shift=at.facts.shift, person=by.person)
    settled = settle(at)
    tell_settled(settled)
    return settled.of(at.place)


@transaction.atomic
def ask_for_cover(
    *, place: ShiftPlace, by: Membership, now: datetime, to: int | None = None
) -> bool:
    """Ask everybody who may, or one member, to take a place; whether that is news.

    Until somebody does, it stays with whoever asks.

    Raises
    ------
    PlaceError
        It is not theirs, the shift is over or called off, or the one who is asked may
        not take it.
    """
    at = locked(place, by, now)
    require_on(at)
    require_holder(at, by)
    if at.place.state == State.OFFERED and at.place.offered_to_id == to:
        return False
    if to is not None:
        require_able(at, to)
    change(
        at,
        state=State.OFFERED,
        holder_id=by.person_id,
        why=Why.COVER_ASKED,
        by=by.person,
        offered_to_id=to,
    )
    if to is None:
        tell_open(at, asks=by.person)
    else:
        tell_asked(at, by=by.person_id, to=to, for_shift=None)
    return True


@transaction.atomic
def keep(*, place: ShiftPlace, by: Membership, now: datetime) -> bool:
    """Keep a place after all that cover or a swap was asked for; whether that is news.

    Raises
    ------
    PlaceError
        It is not theirs any more, or the shift is over or called off.
    """
    at = locked(place, by, now)
    require_on(at)
    require_holder(at, by)
    if at.place.state == State.HELD:
        return False
    change(
        at,
        state=State.HELD,
        holder_id=by.person_id,
        why=Why.KEPT,
        by=by.person,
        offered_to=None,
    )
    return True


def claim(*, place: ShiftPlace, by: Membership, now: datetime) -> Taken:
    """Take an open place, or one that cover is asked for.

    Of many who try at once exactly one gets it; whoever comes too late finds it out
    without waiting for a lock. Who holds it already has got it.

    Raises
    ------
    PlaceError
        Something stops them, or somebody was quicker.
    """
    if _is_taken(place, by):
        raise PlaceError(Trouble.QUICKER)
    with transaction.atomic():
        at = locked(place, by, now)
        require_on(at)
        if at.place.state in HELD and at.place.holder_id == by.person_id:
            return Taken(is_new=False)
        _require_free(at, by.person_id)
        return take(at, by.person_id, by=by, why=Why.CLAIMED)


def _is_taken(place: ShiftPlace, by: Membership) -> bool:
    """Whether another member holds a place by now and asks nobody for cover."""
    others = ShiftPlace.objects.filter(
        pk=place.pk,
        state=State.HELD,
        shift__site__orchard=by.orchard_id,
        holder__memberships__orchard=by.orchard_id,
    )
    return others.exclude(holder=by.person_id).exists()


def take(at: AtPlace, person_id: int, *, by: Membership, why: Why) -> Taken:
    """Give a free place to a member, with all that follows; a part of actions.

    Raises
    ------
    PlaceError
        Something stops them, or somebody was quicker.
    """
    require_able(at, person_id)
    against = at.facts.speaks_against(at.place, person_id)
    former = at.place.holder_id
    is_own = person_id == by.person_id
    change(
        at,
        state=State.HELD,
        holder_id=person_id,
        why=why,
        by=by.person,
        offered_to=None,
        on_hold=False,
        accepted_at=at.now if is_own else None,
        credit_percent=credit_percent(at),
    )
    if is_own:
        ShiftRefusal.objects.filter(shift=at.facts.shift, person=by.person).delete()
    tell_settled(settle(at))
    if former is not None and former != by.person_id:
        tell_taken(at, former=former, new=person_id)
    return Taken(is_new=True, against=against)


def require_able(at: AtPlace, person_id: int) -> None:
    """Raise :class:`PlaceError` if a rule stops somebody from holding the place."""
    if found := at.facts.stops(at.place, person_id):
        raise PlaceError(*found)


def credit_percent(at: AtPlace) -> int:
    """Return what a shift taken now counts for [%]: more where it begins soon."""
    if at.place.is_learner:
        return USUAL_PERCENT
    is_soon = at.until_begin <= STANDS_IN_WITHIN
    return STAND_IN_PERCENT if is_soon else USUAL_PERCENT


def _require_free(at: AtPlace, person_id: int) -> None:
    place = at.place
    is_up = place.state == State.OFFERED or at.facts.holder(place) is None
    if place.state not in (State.OPEN, *HELD) or not is_up:
        raise PlaceError(Trouble.QUICKER)
    if place.state == State.OFFERED and place.offered_to_id not in (None, person_id):
        raise PlaceError(Stop.OFFERED_TO_ANOTHER)
    if swap_asked(place) is not None:
        raise PlaceError(Stop.FOR_A_SWAP)


def swap_asked(place: ShiftPlace) -> int | None:
    """Return the id of the place that a place is offered for, if it is for a swap."""
    if place.state != State.OFFERED:
        return None
    rows = HandOver.objects.filter(
        place=place, version=place.version, why__startswith=f"{Why.SWAP_ASKED}/"
    )
    why = rows.values_list("why", flat=True).first()
    return int(why.split("/")[1]) if why else None
