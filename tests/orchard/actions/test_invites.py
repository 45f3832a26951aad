from datetime import timedelta

import pytest
from django.core.exceptions import PermissionDenied
from django.utils import timezone

from orchard.actions.invites import (
    InviteState,
    accept_invite,
    address_of,
    find_invite,
    make_invite,
    opens_signup,
    revoke_invite,
    state_of,
)
from orchard.actions.members import change_role, leave, remove_member
from orchard.actions.people import found_orchard, hash_of
from orchard.models import AuditEntry, Invite, Membership, Role
from tests.conftest import person

NOW = timezone.now()
WEEK = timedelta(days=7)


@pytest.fixture
def member(cast, site):
    """Return somebody's membership of the test orchard."""
    return lambda someone: Membership.objects.get(
        person=someone, orchard=site.orchard_id
    )


@pytest.fixture
def invite(cast, member):
    return make_invite(
        membership=member(cast.owner), role="grower", note="for Ana", now=NOW
    )


@pytest.fixture
def ana(db):
    return person("ana")


def test_an_invitation_lets_one_person_in_with_its_role(site, invite, ana):
    row, token = invite
    joining = accept_invite(token=token, person=ana, now=NOW)
    assert joining.is_new
    assert (joining.membership.person, joining.membership.role) == (ana, Role.GROWER)
    row.refresh_from_db()
    assert (row.used_by, row.used_at) == (ana, NOW)
    assert accept_invite(token=token, person=person("ben"), now=NOW) is None
    assert not site.orchard.members.filter(username="ben").exists()


def test_only_the_hash_of_an_invitation_is_stored(invite):
    row, token = invite
    assert len(token) >= 43  # 256 bits in base64
    assert row.token_hash == hash_of(token)
    assert token not in str(Invite.objects.values().get())
    assert token not in str(list(AuditEntry.objects.values()))
    assert address_of(token) == f"http://testserver/join/{token}/"


def test_looking_at_an_invitation_uses_nothing_up(invite, ana):
    _, token = invite
    for _ in range(3):
        assert state_of(find_invite(token), NOW) is InviteState.OPEN
    assert accept_invite(token=token, person=ana, now=NOW).is_new


def test_an_invitation_ends_after_a_week_to_the_second(invite, ana):
    row, token = invite
    assert row.expires_at == NOW + WEEK
    assert state_of(row, NOW + WEEK) is InviteState.EXPIRED
    assert accept_invite(token=token, person=ana, now=NOW + WEEK) is None
    last = NOW + WEEK - timedelta(seconds=1)
    assert accept_invite(token=token, person=ana, now=last).is_new


def test_an_unknown_secret_opens_nothing(ana, site):
    assert find_invite("made up") is None
    assert accept_invite(token="made up", person=ana, now=NOW) is None


def test_a_revoked_invitation_opens_nothing(cast, member, invite, ana):
    row, token = invite
    by = member(cast.coordinator)
    assert revoke_invite(membership=by, invite_id=row.pk, now=NOW)
    assert not revoke_invite(membership=by, invite_id=row.pk, now=NOW)
    assert state_of(find_invite(token), NOW) is InviteState.REVOKED
    assert accept_invite(token=token, person=ana, now=NOW) is None


def test_a_used_invitation_cannot_be_revoked(cast, member, invite, ana):
    row, token = invite
    accept_invite(token=token, person=ana, now=NOW)
    assert not revoke_invite(membership=member(cast.owner), invite_id=row.pk, now=NOW)
    assert state_of(find_invite(token), NOW) is InviteState.USED


def test_another_orchards_invitation_cannot_be_revoked(cast, invite):
    row, token = invite
    stranger = Membership.objects.get(person=cast.stranger)
    assert not revoke_invite(membership=stranger, invite_id=row.pk, now=NOW)
    assert state_of(find_invite(token), NOW) is InviteState.OPEN


def test_a_member_keeps_role_and_the_invitation_stays_for_another(cast, invite, ana):
    _, token = invite
    for someone, role in ((cast.viewer, "viewer"), (cast.owner, "owner")):
        joining = accept_invite(token=token, person=someone, now=NOW)
        assert not joining.is_new
        assert joining.membership.role == role
    assert state_of(find_invite(token), NOW) is InviteState.OPEN
    assert accept_invite(token=token, person=ana, now=NOW).is_new


@pytest.mark.parametrize(
    ("role", "given"),
    [
        ("owner", ["owner", "coordinator", "grower", "viewer"]),
        ("coordinator", ["coordinator", "grower", "viewer"]),
        ("grower", []),
        ("viewer", []),
    ],
)
def test_nobody_invites_above_themselves(cast, member, role, given):
    by = member(getattr(cast, role))
    for wanted in Role.values:
        if wanted in given:
            make_invite(membership=by, role=wanted, note="", now=NOW)
        else:
            with pytest.raises(PermissionDenied):
                make_invite(membership=by, role=wanted, note="", now=NOW)
    assert sorted(Invite.objects.values_list("role", flat=True)) == sorted(given)


def test_a_coordinator_cannot_revoke_an_invitation_to_own(cast, member):
    row, _ = make_invite(membership=member(cast.owner), role="owner", note="", now=NOW)
    with pytest.raises(PermissionDenied):
        revoke_invite(membership=member(cast.coordinator), invite_id=row.pk, now=NOW)
    row.refresh_from_db()
    assert row.revoked_at is None


def test_a_role_lowered_a_moment_ago_invites_no_more(cast, member):
    stale = member(cast.coordinator)
    change_role(by=member(cast.owner), member_id=stale.pk, role="grower", now=NOW)
    with pytest.raises(PermissionDenied):
        make_invite(membership=stale, role="viewer", note="", now=NOW)


@pytest.mark.parametrize("end", ["removed", "left", "lowered"])
def test_who_may_invite_no_more_keeps_no_way_back_in(cast, member, ana, end):
    by = member(cast.coordinator)
    _, token = make_invite(membership=by, role="grower", note="", now=NOW)
    if end == "removed":
        remove_member(by=member(cast.owner), member_id=by.pk, now=NOW)
    elif end == "left":
        leave(membership=by, now=NOW)
    else:
        change_role(by=member(cast.owner), member_id=by.pk, role="viewer", now=NOW)
    assert accept_invite(token=token, person=ana, now=NOW) is None


def test_an_owner_made_coordinator_keeps_the_invitations_they_may_still_make(
    cast, member
):
    Membership.objects.filter(person=cast.grower).update(role="owner")
    by = member(cast.grower)
    _, owning = make_invite(membership=by, role="owner", note="", now=NOW)
    _, growing = make_invite(membership=by, role="grower", note="", now=NOW)
    change_role(by=member(cast.owner), member_id=by.pk, role="coordinator", now=NOW)
    assert state_of(find_invite(owning), NOW) is InviteState.REVOKED
    assert state_of(find_invite(growing), NOW) is InviteState.OPEN


def test_an_open_invitation_opens_signing_up_and_a_used_one_does_not(invite, ana):
    row, token = invite
    assert opens_signup(row.token_hash, NOW)
    assert not opens_signup(row.token_hash, NOW + WEEK)
    assert not opens_signup(token, NOW)
    assert not opens_signup(None, NOW)
    accept_invite(token=token, person=ana, now=NOW)
    assert not opens_signup(row.token_hash, NOW)


def test_the_trail_tells_who_invited_and_who_came(cast, site, invite, ana):
    _, token = invite
    accept_invite(token=token, person=ana, now=NOW)
    joined, made = AuditEntry.objects.filter(orchard=site.orchard, at=NOW)
    assert (made.what, made.person, made.subject) == (
        "invite_made",
        cast.owner,
        "for Ana",
    )
    assert (joined.what, joined.person, joined.after) == (
        "member_joined",
        ana,
        {"role": "grower", "invited_by": "owner"},
    )


def test_a_member_taken_out_a_moment_ago_invites_nobody(cast, member):
    stale = member(cast.coordinator)
    remove_member(by=member(cast.owner), member_id=stale.pk, now=NOW)
    with pytest.raises(PermissionDenied):
        make_invite(membership=stale, role="viewer", note="", now=NOW)


def test_only_the_invitations_of_who_goes_to_that_orchard_are_closed(cast, member):
    own = found_orchard(person=cast.coordinator, name="Own")
    _, elsewhere = make_invite(
        membership=own.memberships.get(), role="grower", note="", now=NOW
    )
    _, owners = make_invite(
        membership=member(cast.owner), role="grower", note="", now=NOW
    )
    leave(membership=member(cast.coordinator), now=NOW)
    for token in (elsewhere, owners):
        assert state_of(find_invite(token), NOW) is InviteState.OPEN
