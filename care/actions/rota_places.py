"""One place of the rota changed by hand; a draft tells nobody until it is published."""

from datetime import datetime

from django.core.exceptions import PermissionDenied
from django.db import transaction

from care.actions.place_changes import (
    AtPlace,
    PlaceError,
    Why,
    change,
    locked,
    open_again,
    settle,
)
from care.actions.places import require_able
from care.actions.places_arranged import assign, unassign
from care.models import Shift, ShiftPlace
from care.planning.place_facts import HELD
from care.planning.place_rules import Stop
from orchard.access import NOBODY_TO_ASK, May, may
from orchard.actions.places import raise_revision
from orchard.models import Membership

State = ShiftPlace.State


@transaction.atomic
def put_on_place(
    *, place: ShiftPlace, person_id: int | None, by: Membership, now: datetime
) -> bool:
    """Put a member on a place, or nobody; whether anything changed.

    Whoever is put on a draft again, or kept there, is moved by no later proposal.

    Raises
    ------
    PermissionDenied
        ``by`` may not arrange shifts.
    PlaceError
        A rule stops them, or the shift is over or called off.
    """
    if not may(by.role, May.ARRANGE):
        raise PermissionDenied(NOBODY_TO_ASK)
    at = locked(place, by, now)
    shift = at.facts.shift
    if shift.status == Shift.Status.CANCELLED:
        raise PlaceError(Stop.NOT_ON)
    if at.is_over:
        raise PlaceError(Stop.OVER)
    if shift.status == Shift.Status.DRAFT:
        is_news = _put_on_draft(at, person_id, by)
    elif person_id is None:
        is_news = unassign(place=at.place, by=by, now=now)
    else:
        is_news = assign(place=at.place, person_id=person_id, by=by, now=now).is_new
    if is_news:
        raise_revision(at.site)
    return is_news


def _put_on_draft(at: AtPlace, person_id: int | None, by: Membership) -> bool:
    if person_id is None:
        if at.place.state not in HELD:
            return False
        open_again(at, why=Why.UNASSIGNED, by=by.person)
        if at.place.is_learner:  # another proposal makes another one
            ShiftPlace.objects.filter(pk=at.place.pk).delete()
    else:
        require_able(at, person_id)
        change(
            at,
            state=State.HELD,
            holder_id=person_id,
            why=Why.ASSIGNED,
            by=by.person,
            offered_to=None,
            accepted_at=None,
            on_hold=False,
        )
    rest = (
        ShiftPlace.objects.filter(shift=at.facts.shift).order_by("is_learner").first()
    )
    if rest is not None:
        settle(AtPlace(rest, at.facts, at.site, at.now))
    return True
