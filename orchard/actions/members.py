"""Members: change a role, take out, leave, help back in; one owner always stays.

Every action locks the orchard's row first and reads both memberships again behind
the lock: two owners who lower each other at the same instant come one after the
other, and the second finds that they may no longer.
"""

from datetime import datetime

from django.contrib.auth import SESSION_KEY
from django.contrib.sessions.models import Session
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils.translation import gettext, gettext_noop

from orchard.access import NOBODY_TO_ASK, May, may
from orchard.actions.audit import note
from orchard.actions.invites import revoke_invites_beyond
from orchard.actions.messages import tell_removed, tell_role_changed
from orchard.actions.people import make_signin_link
from orchard.models import Membership, Message, Orchard, Person, Role, SigninLink

LAST_OWNER = gettext_noop(
    "An orchard needs an owner. Make somebody else an owner first, then try again."
)
OWN_WAY_IN = gettext_noop("You are signed in yourself: there is no link to hand over.")
NOT_AN_OWNER = gettext_noop(
    "Another owner's way in is their own. Whoever runs the server can make a link."
)
NOT_ELSEWHERE = gettext_noop(
    "{name} belongs to another orchard too, and a link would open that one as well. "
    "Whoever runs the server can make a link."
)


class RefusedError(Exception):
    """What was asked cannot be; its message says why, for the page to show."""


@transaction.atomic
def change_role(*, by: Membership, member_id: int, role: str, now: datetime) -> bool:
    """Give a member another role; whether anything changed.

    Raises
    ------
    PermissionDenied
        ``by`` may not, or not any more.
    Membership.DoesNotExist
        There is no such member in the orchard.
    RefusedError
        The last owner would be lowered.
    """
    orchard = _locked(by.orchard_id)
    _require_governing(by)
    member = _member(orchard, member_id)
    before = member.role
    if role == before:
        return False
    if before == Role.OWNER:
        _keep_an_owner(orchard)
    member.role = role
    member.save(update_fields=["role"])
    revoke_invites_beyond(orchard=orchard, maker=member.person, role=role, now=now)
    note(
        orchard=orchard,
        person=by.person,
        what="role_changed",
        subject=member.person.shown_name,
        before={"role": before},
        after={"role": role},
        now=now,
    )
    tell_role_changed(membership=member, by=by.person, now=now)
    return True


@transaction.atomic
def remove_member(*, by: Membership, member_id: int, now: datetime) -> Person:
    """Take somebody out of the orchard, at once and everywhere; return whom.

    Raises
    ------
    PermissionDenied
        ``by`` may not, or not any more.
    Membership.DoesNotExist
        There is no such member in the orchard.
    RefusedError
        It is the last owner.
    """
    orchard = _locked(by.orchard_id)
    _require_governing(by)
    member = _member(orchard, member_id)
    _end(member, by=by.person, what="member_removed", now=now)
    return member.person


@transaction.atomic
def leave(*, membership: Membership, now: datetime) -> bool:
    """Let a member go by their own wish; whether it was their last orchard.

    Whoever has none left is signed out everywhere.

    Raises
    ------
    Membership.DoesNotExist
        They are no member any more.
    RefusedError
        It is the last owner.
    """
    orchard = _locked(membership.orchard_id)
    member = _member(orchard, membership.pk)
    return _end(member, by=member.person, what="member_left", now=now)


@transaction.atomic
def help_back_in(*, by: Membership, member_id: int, now: datetime) -> str:
    """Return an address that signs a member in once, to be handed over by an owner.

    It signs in as that person everywhere, so it is made only for somebody who
    belongs to this orchard alone and owns nothing in it.

    Raises
    ------
    PermissionDenied
        ``by`` may not, or not any more.
    Membership.DoesNotExist
        There is no such member in the orchard.
    RefusedError
        It would open more than this orchard's owner may give.
    """
    orchard = _locked(by.orchard_id)
    _require_governing(by)
    member = _member(orchard, member_id)
    if refusal := why_no_link(by, member, _is_elsewhere(member)):
        raise RefusedError(refusal)
    note(
        orchard=orchard,
        person=by.person,
        what="signin_link_made",
        subject=member.person.shown_name,
        now=now,
    )
    return make_signin_link(person=member.person)


def why_no_link(by: Membership, member: Membership, is_elsewhere: bool) -> str:  # noqa: FBT001 (a fact, not a switch)
    """Return why no sign-in link may be handed over; empty where one may."""
    if by.person_id == member.person_id:
        return gettext(OWN_WAY_IN)
    if member.role == Role.OWNER:
        return gettext(NOT_AN_OWNER)
    if is_elsewhere:
        return gettext(NOT_ELSEWHERE).format(name=member.person.shown_name)
    return ""


def _is_elsewhere(member: Membership) -> bool:
    return (
        Membership.objects.filter(person=member.person)
        .exclude(orchard=member.orchard_id)
        .exists()
    )


def _locked(orchard_id: int) -> Orchard:
    return Orchard.objects.select_for_update().get(pk=orchard_id)


def _require_governing(by: Membership) -> None:
    role = Membership.objects.filter(pk=by.pk).values_list("role", flat=True).first()
    if role is None or not may(role, May.GOVERN):
        raise PermissionDenied(NOBODY_TO_ASK)


def _member(orchard: Orchard, member_id: int) -> Membership:
    return Membership.objects.select_related("person").get(
        pk=member_id, orchard=orchard
    )


def _keep_an_owner(orchard: Orchard) -> None:
    owners = Membership.objects.filter(orchard=orchard, role=Role.OWNER)
    if owners.count() <= 1:
        raise RefusedError(gettext(LAST_OWNER))


def _end(member: Membership, *, by: Person, what: str, now: datetime) -> bool:
    """Delete a membership; its calendar links and trees in care go with the row.

    Return whether it was the person's last.
    """
    orchard, person, role = member.orchard, member.person, member.role
    if role == Role.OWNER:
        _keep_an_owner(orchard)
    member.delete()
    revoke_invites_beyond(orchard=orchard, maker=person, role="", now=now)
    Message.objects.filter(orchard=orchard, person=person, sent_at=None).delete()
    was_last = not Membership.objects.filter(person=person).exists()
    if was_last:
        end_sessions(person)
    note(
        orchard=orchard,
        person=by,
        what=what,
        subject=person.shown_name,
        before={"role": role},
        now=now,
    )
    tell_removed(person=person, orchard=orchard, by=by, now=now)
    return was_last


def end_sessions(person: Person) -> int:
    """Sign a person out everywhere and void their sign-in links; a part of actions.

    A session's row does not say whose it is, so each that still lives is opened.
    Return how many were ended.
    """
    SigninLink.objects.filter(person=person, used_at=None).delete()
    theirs = [
        session.pk
        for session in Session.objects.iterator()
        if session.get_decoded().get(SESSION_KEY) == str(person.pk)
    ]
    Session.objects.filter(pk__in=theirs).delete()
    return len(theirs)
