"""What coordinators do with places, and what became of them after the shift."""

from datetime import UTC, datetime

from django.core.exceptions import PermissionDenied
from django.db import transaction

from care.actions.place_changes import (
    AtPlace,
    PlaceError,
    Trouble,
    Why,
    change,
    locked,
    open_again,
    settle,
)
from care.actions.place_messages import tell_assigned, tell_open, tell_settled
from care.actions.places import USUAL_PERCENT, Taken, take
from care.models import Shift, ShiftPlace
from care.planning.place_facts import HELD, UNCONFIRMED_FOR, read_facts, unsettled
from care.planning.place_rules import Stop
from care.planning.shift_times import begins_at, ends_at
from orchard.access import NOBODY_TO_ASK, May, may
from orchard.models import Membership, Site
from orchard.sources.official_warnings import site_moment

State = ShiftPlace.State


@transaction.atomic
def assign(
    *, place: ShiftPlace, person_id: int, by: Membership, now: datetime
) -> Taken:
    """Put a member on a place, in whose stead ever; on a draft too.

    Raises
    ------
    PermissionDenied
        ``by`` may not arrange shifts.
    PlaceError
        A rule stops them, or the shift is over or called off.
    """
    _require_arranging(by)
    at = locked(place, by, now)
    _require_ahead(at)
    if at.place.holder_id == person_id and at.place.state in HELD:
        return Taken(is_new=False)
    taken = take(at, person_id, by=by, why=Why.ASSIGNED)
    if at.facts.shift.status == Shift.Status.PUBLISHED:
        tell_assigned(at, person_id=person_id, by=by.person)
    return taken


@transaction.atomic
def unassign(*, place: ShiftPlace, by: Membership, now: datetime) -> bool:
    """Take whoever holds a place off it; whether anybody did.

    Raises
    ------
    PermissionDenied
        ``by`` may not arrange shifts.
    PlaceError
        The shift is over or called off.
    """
    _require_arranging(by)
    at = locked(place, by, now)
    _require_ahead(at)
    if at.place.state not in HELD:
        return False
    open_again(at, why=Why.UNASSIGNED, by=by.person)
    settled = settle(at)
    tell_settled(settled)
    tell_open(settled.of(at.place))
    return True


@transaction.atomic
def mark_missed(*, place: ShiftPlace, by: Membership, now: datetime) -> bool:
    """Say that a holder did not come; whether that is news.

    Only after the shift, by who arranges shifts or was on it. It counts as no shift;
    those who arrange shifts and the person themselves see it, nobody else.

    Raises
    ------
    PlaceError
        The shift is not over, nobody held the place, it is one's own, or the member
        was not on the shift.
    """
    at = locked(place, by, now)
    _require_witness(at, by)
    if at.place.state == State.MISSED:
        return False
    if at.place.holder_id is None or at.place.on_hold:
        raise PlaceError(Trouble.NOBODY_THERE)
    change(
        at,
        state=State.MISSED,
        holder_id=at.place.holder_id,
        why=Why.MISSED,
        by=by.person,
        offered_to=None,
        minutes_worked=None,
        credit_percent=0,
    )
    return True


@transaction.atomic
def write_hours(
    *, place: ShiftPlace, minutes: int, by: Membership, now: datetime
) -> bool:
    """Write how long the holder of a place worked [min]; whether anything changed.

    One's own, or anybody's by who arranges shifts, who alone may write over a place
    that was marked missed.

    Raises
    ------
    PlaceError
        The shift is not over, nobody held the place or it is somebody else's.
    """
    at = locked(place, by, now)
    _require_done(at)
    arranges = may(by.role, May.ARRANGE)
    is_own = at.place.holder_id == by.person_id and at.place.state != State.MISSED
    if not (arranges or is_own):
        raise PlaceError(Trouble.NOT_YOURS)
    if at.place.holder_id is None or at.place.on_hold:
        raise PlaceError(Trouble.NOBODY_THERE)
    if at.place.state == State.DONE and at.place.minutes_worked == minutes:
        return False
    was_missed = at.place.state == State.MISSED
    percent = USUAL_PERCENT if was_missed else at.place.credit_percent
    _done(at, by, why=Why.DONE, minutes=minutes, credit_percent=percent)
    return True


def _done(
    at: AtPlace,
    by: Membership | None,
    *,
    why: Why,
    minutes: int | None,
    credit_percent: int,
) -> None:
    change(
        at,
        state=State.DONE,
        holder_id=at.place.holder_id,
        why=why,
        by=by.person if by else None,
        offered_to=None,
        minutes_worked=minutes,
        credit_percent=credit_percent,
    )


@transaction.atomic
def settle_shift(*, shift: Shift, now: datetime) -> None:
    """Hold the rules to a shift whose work, day, places or people changed.

    Raises nothing where it has no places.
    """
    place = shift.places.first()
    if place is not None:
        tell_settled(settle(locked(place, None, now)))


def settle_site(*, site: Site, now: datetime) -> int:
    """Settle the shifts of a site whose people or work moved; return how many did.

    Somebody left the orchard or may no longer help, or a ladder came into the work.
    Pages read places as they then are; this makes it last. Its plan is to be fresh.
    """
    today, moment = site.today(now), site_moment(site, now).astimezone(UTC)
    ahead = Shift.objects.filter(site=site, day__gte=today).exclude(
        status=Shift.Status.CANCELLED
    )
    facts = read_facts(site, ahead, today)
    moved = [
        one.shift
        for one in facts.values()
        if begins_at(one.shift, site) > moment and unsettled(one)
    ]
    for shift in moved:
        settle_shift(shift=shift, now=now)
    return len(moved)


def close_unconfirmed(*, site: Site, now: datetime) -> int:
    """Count as done what nobody said anything of for a week; return how many places.

    A learner whose place was on hold to the end was not there.
    """
    waiting = ShiftPlace.objects.filter(
        state__in=HELD,
        shift__site=site,
        shift__day__lte=site.today(now) - UNCONFIRMED_FOR,
        shift__status=Shift.Status.PUBLISHED,
    )
    return sum(_close(place, now) for place in waiting)


@transaction.atomic
def _close(place: ShiftPlace, now: datetime) -> bool:
    at = locked(place, None, now)
    is_due = ends_at(at.facts.shift, at.site) + UNCONFIRMED_FOR <= at.moment
    if at.place.state not in HELD or not is_due:
        return False
    if at.place.on_hold:
        open_again(at, why=Why.GONE, by=None)
    else:
        percent = at.place.credit_percent
        _done(at, None, why=Why.NOT_CONFIRMED, minutes=None, credit_percent=percent)
    return True


def _require_arranging(by: Membership) -> None:
    if not may(by.role, May.ARRANGE):
        raise PermissionDenied(NOBODY_TO_ASK)


def _require_ahead(at: AtPlace) -> None:
    if at.facts.shift.status == Shift.Status.CANCELLED:
        raise PlaceError(Stop.NOT_ON)
    if at.is_over:
        raise PlaceError(Stop.OVER)


def _require_done(at: AtPlace) -> None:
    if at.facts.shift.status != Shift.Status.PUBLISHED:
        raise PlaceError(Stop.NOT_ON)
    if ends_at(at.facts.shift, at.site) > at.moment:
        raise PlaceError(Trouble.NOT_YET)


def _require_witness(at: AtPlace, by: Membership) -> None:
    _require_done(at)
    if may(by.role, May.ARRANGE):
        return
    if at.place.holder_id == by.person_id:
        raise PlaceError(Trouble.ONESELF)
    was_there = any(
        one.holder_id == by.person_id
        and one.state in (*HELD, State.DONE)
        and not one.on_hold
        for one in at.facts.places
    )
    if not was_there:
        raise PlaceError(Trouble.NOT_YOURS)
