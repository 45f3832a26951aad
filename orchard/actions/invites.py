"""Invitations: make, show once, revoke, accept; looking at one never uses it up."""

import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from django.conf import settings
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.db.models import QuerySet

from orchard.access import NOBODY_TO_ASK, invitable_roles
from orchard.actions.audit import note as note_in_trail
from orchard.actions.messages import tell_invite_accepted
from orchard.actions.people import hash_of
from orchard.models import Invite, Membership, Orchard, Person

INVITE_LIFE = timedelta(days=7)


class InviteState(StrEnum):
    """What became of an invitation."""

    OPEN = "open"
    USED = "used"
    EXPIRED = "expired"
    REVOKED = "revoked"


@dataclass(frozen=True, slots=True)
class Joining:
    """A membership, and whether the invitation has just made it."""

    membership: Membership
    is_new: bool


def state_of(invite: Invite, now: datetime) -> InviteState:
    """Return what became of an invitation by ``now``."""
    if invite.used_at:
        return InviteState.USED
    if invite.revoked_at:
        return InviteState.REVOKED
    return InviteState.OPEN if now < invite.expires_at else InviteState.EXPIRED


def open_invites(now: datetime) -> QuerySet[Invite]:
    """Return the invitations of every orchard that can still be used."""
    return Invite.objects.filter(used_at=None, revoked_at=None, expires_at__gt=now)


def address_of(token: str) -> str:
    """Return the address an invited person opens."""
    return f"{settings.BASE_URL}/join/{token}/"


@transaction.atomic
def make_invite(
    *, membership: Membership, role: str, note: str, now: datetime
) -> tuple[Invite, str]:
    """Return a new invitation and its secret, which is shown now and never again.

    Parameters
    ----------
    membership : Membership
        Who invites; re-read, so that a role lowered a moment ago counts.
    role : str
        What the invited person will be; never above who invites.
    note : str
        For whom it is, as the orchard's own people say it.

    Raises
    ------
    PermissionDenied
        The member may not invite to that role.
    """
    Orchard.objects.select_for_update().get(pk=membership.orchard_id)
    current = Membership.objects.filter(pk=membership.pk).first()
    if current is None or role not in invitable_roles(current.role):
        raise PermissionDenied(NOBODY_TO_ASK)
    token = secrets.token_urlsafe(32)
    invite = Invite.objects.create(
        orchard=membership.orchard,
        role=role,
        token_hash=hash_of(token),
        note=note,
        made_by=membership.person,
        made_at=now,
        expires_at=now + INVITE_LIFE,
    )
    _note(invite, membership.person, "invite_made", now)
    return invite, token


def _note(invite: Invite, person: Person, what: str, now: datetime) -> None:
    note_in_trail(
        orchard=invite.orchard,
        person=person,
        what=what,
        subject=invite.note,
        after={"role": invite.role},
        now=now,
    )


@transaction.atomic
def revoke_invite(*, membership: Membership, invite_id: int, now: datetime) -> bool:
    """Close an open invitation of the member's orchard; whether one was open.

    Raises
    ------
    PermissionDenied
        It invites to a role above the member's own to give.
    """
    invite = (
        open_invites(now)
        .filter(pk=invite_id, orchard=membership.orchard)
        .select_related("orchard")
        .first()
    )
    if invite is None:
        return False
    if invite.role not in invitable_roles(membership.role):
        raise PermissionDenied(NOBODY_TO_ASK)
    if not open_invites(now).filter(pk=invite.pk).update(revoked_at=now):
        return False
    _note(invite, membership.person, "invite_revoked", now)
    return True


def revoke_invites_beyond(
    *, orchard: Orchard, maker: Person, role: str, now: datetime
) -> int:
    """Close a person's open invitations that ``role`` may not give; a part of actions.

    Whoever is lowered or leaves must not keep a way back in. ``role`` is empty for
    somebody who is no member any more. Return how many were closed.
    """
    return (
        open_invites(now)
        .filter(orchard=orchard, made_by=maker)
        .exclude(role__in=invitable_roles(role))
        .update(revoked_at=now)
    )


def find_invite(token: str) -> Invite | None:
    """Return the invitation behind a secret, whatever became of it; uses nothing up."""
    return (
        Invite.objects.filter(token_hash=hash_of(token))
        .select_related("orchard", "made_by")
        .first()
    )


def opens_signup(token_hash: object, now: datetime) -> bool:
    """Whether a session that holds this hash was opened by an open invitation."""
    return (
        isinstance(token_hash, str)
        and open_invites(now).filter(token_hash=token_hash).exists()
    )


@transaction.atomic
def accept_invite(*, token: str, person: Person, now: datetime) -> Joining | None:
    """Let ``person`` in by an open invitation; of two at once exactly one succeeds.

    Somebody who is a member already keeps the role they have and leaves the
    invitation unused, so that whoever it was meant for can still come.
    ``None`` where the invitation is unknown, used, revoked or too old.
    """
    invite = find_invite(token)
    if invite is None:
        return None
    orchard = Orchard.objects.select_for_update().get(pk=invite.orchard_id)
    membership = Membership.objects.filter(person=person, orchard=orchard).first()
    if membership:
        return Joining(membership, is_new=False)
    unused = open_invites(now).filter(pk=invite.pk)
    if not unused.update(used_at=now, used_by=person):
        return None
    membership = Membership.objects.create(
        person=person, orchard=orchard, role=invite.role
    )
    note_in_trail(
        orchard=orchard,
        person=person,
        what="member_joined",
        subject=person.shown_name,
        after={"role": invite.role, "invited_by": _name(invite.made_by)},
        now=now,
    )
    tell_invite_accepted(invite=invite, person=person, now=now)
    return Joining(membership, is_new=True)


def _name(person: Person | None) -> str:
    return person.shown_name if person else ""
