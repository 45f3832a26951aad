"""Swaps: both keep their own place until the other says yes; then both change, or none.

A place that is offered for a swap names the other's place in the row of that change, so
that a yes means these two places and no others.
"""

from datetime import datetime

from django.db import IntegrityError, transaction
from django.utils.translation import gettext

from care.actions.place_changes import (
    AtPlace,
    PlaceError,
    Trouble,
    Why,
    change,
    locked,
    require_holder,
    require_on,
    settle,
    shift_words,
)
from care.actions.place_messages import tell_asked, tell_one, tell_settled, tell_swapped
from care.actions.places import swap_asked
from care.models import ShiftPlace
from care.planning.place_facts import HELD
from care.planning.place_rules import Stop
from orchard.actions.messages import Told
from orchard.models import Membership

State = ShiftPlace.State


@transaction.atomic
def ask_to_swap(
    *, place: ShiftPlace, other: ShiftPlace, by: Membership, now: datetime
) -> bool:
    """Ask the holder of ``other`` to swap it for one's own; whether that is news.

    Raises
    ------
    PlaceError
        ``place`` is not theirs, nobody holds the other, one of the shifts is over or
        called off, or a rule stops one of both.
    """
    mine, theirs = _both(place, other, by, now)
    require_holder(mine, by)
    their_id = theirs.facts.holder(theirs.place)
    if theirs.place.state not in HELD or their_id in (None, by.person_id):
        raise PlaceError(Trouble.NO_SWAP)
    if swap_asked(mine.place) == theirs.place.pk:
        return False
    _require_both(mine, theirs)
    change(
        mine,
        state=State.OFFERED,
        holder_id=by.person_id,
        why=f"{Why.SWAP_ASKED}/{theirs.place.pk}",
        by=by.person,
        offered_to_id=their_id,
    )
    tell_asked(mine, by=by.person_id, to=their_id or 0, for_shift=theirs.facts.shift)
    return True


@transaction.atomic
def swap(
    *, place: ShiftPlace, other: ShiftPlace, by: Membership, now: datetime
) -> bool:
    """Say yes to a swap: give ``place`` and take ``other``; whether that is news.

    Raises
    ------
    PlaceError
        That swap is not asked for any more, one of the shifts is over or called off, or
        a rule stops one of both.
    """
    mine, theirs = _both(place, other, by, now)
    if theirs.place.holder_id == by.person_id and theirs.place.state == State.HELD:
        return False
    require_holder(mine, by)
    is_for_me = theirs.place.offered_to_id == by.person_id
    if not is_for_me or swap_asked(theirs.place) != mine.place.pk:
        raise PlaceError(Trouble.NO_SWAP)
    _require_both(mine, theirs)
    former = theirs.place.holder_id or 0
    percents = mine.place.credit_percent, theirs.place.credit_percent
    # Neither holds two places of one day at any instant: the first waits for its day.
    _hand_over(mine, former, by=by, credit_percent=percents[1], busy=False)
    _hand_over(theirs, by.person_id, by=by, credit_percent=percents[0], busy=True)
    _take_up_day(mine)
    for at in (mine, theirs):
        tell_settled(settle(at))
    tell_swapped(theirs, former=former, new=by.person_id, instead=mine.facts.shift)
    return True


@transaction.atomic
def decline(*, place: ShiftPlace, by: Membership, now: datetime) -> bool:
    """Say no to cover or a swap that one was asked for; whether that is news.

    The place is its holder's as before.

    Raises
    ------
    PlaceError
        Nobody asks the member for it.
    """
    at = locked(place, by, now)
    require_on(at)
    holder_id = at.place.holder_id
    if at.place.state != State.OFFERED or at.place.offered_to_id != by.person_id:
        raise PlaceError(Trouble.NOT_OFFERED)
    change(
        at,
        state=State.HELD,
        holder_id=holder_id,
        why=Why.KEPT,
        by=by.person,
        offered_to=None,
    )
    tell_one(
        at,
        holder_id or 0,
        Told.PLACE_TAKEN,
        lambda: (
            gettext("{person} cannot take your place").format(
                person=by.person.shown_name
            ),
            [
                gettext(
                    "{shift}: it is yours still. You can ask somebody else."
                ).format(shift=shift_words(at.facts.shift))
            ],
        ),
    )
    return True


def _both(
    place: ShiftPlace, other: ShiftPlace, by: Membership, now: datetime
) -> tuple[AtPlace, AtPlace]:
    """Lock two places' shifts, in the order of their ids."""
    found = {
        one.pk: locked(one, by, now)
        for one in sorted((place, other), key=lambda one: (one.shift_id, one.pk))
    }
    for at in found.values():
        require_on(at)
    return found[place.pk], found[other.pk]


def _require_both(mine: AtPlace, theirs: AtPlace) -> None:
    """Raise :class:`PlaceError` if a rule stops one from what the other holds."""
    is_one_day = mine.facts.shift.day == theirs.facts.shift.day
    for at, person_id in (
        (theirs, mine.place.holder_id),
        (mine, theirs.place.holder_id),
    ):
        found = at.facts.stops(at.place, person_id or 0)
        # What keeps the day is the very place that is given away for it.
        found = tuple(
            stop for stop in found if not (is_one_day and stop is Stop.SAME_DAY)
        )
        if found:
            raise PlaceError(*found)


def _hand_over(
    at: AtPlace, holder_id: int, *, by: Membership, credit_percent: int, busy: bool
) -> None:
    change(
        at,
        state=State.HELD,
        holder_id=holder_id,
        why=Why.SWAPPED,
        by=by.person,
        busy=busy,
        offered_to=None,
        on_hold=False,
        accepted_at=at.now,
        credit_percent=credit_percent,
    )


def _take_up_day(at: AtPlace) -> None:
    written = ShiftPlace.objects.filter(pk=at.place.pk, version=at.place.version)
    try:
        with transaction.atomic():
            written.update(busy_on=at.facts.shift.day)
    except IntegrityError as error:
        raise PlaceError(Stop.SAME_DAY) from error
