from datetime import timedelta

import pytest
from django.contrib.sessions.models import Session
from django.core.exceptions import PermissionDenied
from django.utils import timezone
from hypothesis import given, strategies as st
from hypothesis.extra.django import TestCase

from care.actions.calendar_links import link_of_token, make_calendar_link
from orchard.actions.members import (
    RefusedError,
    change_role,
    help_back_in,
    leave,
    remove_member,
)
from orchard.actions.people import (
    found_orchard,
    make_signin_link,
    person_of_signin_link,
)
from orchard.models import (
    AuditEntry,
    InCare,
    Membership,
    Message,
    Orchard,
    Person,
    Role,
)
from tests.conftest import person

NOW = timezone.now()


@pytest.fixture
def member(cast, site):
    """Return somebody's membership of the test orchard."""
    return lambda someone: Membership.objects.get(
        person=someone, orchard=site.orchard_id
    )


@pytest.fixture
def owner(cast, member):
    return member(cast.owner)


def token_of(address):
    return address.rstrip("/").rsplit("/", 1)[1]


def test_an_owner_changes_a_role_and_the_trail_says_from_what_to_what(
    cast, member, owner
):
    viewer = member(cast.viewer)
    assert change_role(by=owner, member_id=viewer.pk, role="grower", now=NOW)
    assert member(cast.viewer).role == Role.GROWER
    entry = AuditEntry.objects.get(what="role_changed")
    assert (entry.person, entry.subject) == (cast.owner, "viewer")
    assert (entry.before, entry.after) == ({"role": "viewer"}, {"role": "grower"})


def test_giving_the_same_role_changes_nothing(cast, member, owner):
    viewer = member(cast.viewer)
    assert not change_role(by=owner, member_id=viewer.pk, role="viewer", now=NOW)
    assert not AuditEntry.objects.filter(what="role_changed").exists()


@pytest.mark.parametrize("role", ["coordinator", "grower", "viewer"])
def test_only_an_owner_changes_roles_removes_or_hands_over_a_way_in(cast, member, role):
    by, other = member(getattr(cast, role)), member(cast.owner)
    with pytest.raises(PermissionDenied):
        change_role(by=by, member_id=by.pk, role="owner", now=NOW)
    with pytest.raises(PermissionDenied):
        remove_member(by=by, member_id=other.pk, now=NOW)
    with pytest.raises(PermissionDenied):
        help_back_in(by=by, member_id=other.pk, now=NOW)
    assert member(getattr(cast, role)).role == role


def test_another_orchards_member_is_out_of_reach(cast, owner):
    stranger = Membership.objects.get(person=cast.stranger)
    for act in (
        lambda: change_role(by=owner, member_id=stranger.pk, role="viewer", now=NOW),
        lambda: remove_member(by=owner, member_id=stranger.pk, now=NOW),
        lambda: help_back_in(by=owner, member_id=stranger.pk, now=NOW),
    ):
        with pytest.raises(Membership.DoesNotExist):
            act()


def test_the_last_owner_can_neither_be_lowered_nor_removed_nor_leave(owner):
    for act in (
        lambda: change_role(by=owner, member_id=owner.pk, role="grower", now=NOW),
        lambda: remove_member(by=owner, member_id=owner.pk, now=NOW),
        lambda: leave(membership=owner, now=NOW),
    ):
        with pytest.raises(RefusedError, match="needs an owner"):
            act()
    owner.refresh_from_db()
    assert owner.role == Role.OWNER


def test_an_owner_leaves_once_there_is_another(cast, member, owner):
    change_role(by=owner, member_id=member(cast.grower).pk, role="owner", now=NOW)
    leave(membership=owner, now=NOW)
    assert not Membership.objects.filter(pk=owner.pk).exists()
    with pytest.raises(Membership.DoesNotExist):
        leave(membership=owner, now=NOW)


def test_an_owner_lowered_a_moment_ago_does_nothing_more(cast, member, owner):
    change_role(by=owner, member_id=member(cast.grower).pk, role="owner", now=NOW)
    stale = member(cast.grower)
    change_role(by=owner, member_id=stale.pk, role="viewer", now=NOW)
    assert stale.role == Role.OWNER  # what an open page still believes
    with pytest.raises(PermissionDenied):
        remove_member(by=stale, member_id=owner.pk, now=NOW)


def test_whoever_is_removed_loses_every_way_in_at_once(
    cast, member, owner, site, client_of, make_tree
):
    grower = member(cast.grower)
    phone, laptop = client_of(cast.grower), client_of(cast.grower)
    _, secret = make_calendar_link(membership=grower, label="Phone")
    way_in = token_of(make_signin_link(person=cast.grower))
    InCare.objects.create(membership=grower, tree=make_tree())
    Message.objects.create(
        person=cast.grower, orchard=site.orchard, what="due", key="1", due_at=NOW
    )
    others = client_of(cast.viewer)
    remove_member(by=owner, member_id=grower.pk, now=NOW)
    for browser in (phone, laptop):
        answer = browser.get(f"/s/{site.slug}/weather/")
        assert answer.status_code == 302
        assert answer.url.startswith("/accounts/login/")
    assert link_of_token(secret) is None
    assert person_of_signin_link(token=way_in, now=NOW) is None
    assert not InCare.objects.exists()
    assert [message.what for message in Message.objects.all()] == ["removed"]
    assert others.get(f"/s/{site.slug}/weather/").status_code == 200
    entry = AuditEntry.objects.get(what="member_removed")
    assert (entry.subject, entry.before) == ("grower", {"role": "grower"})


def test_whoever_has_another_orchard_stays_signed_in_there(
    cast, member, owner, site, client_of
):
    found_orchard(person=cast.grower, name="Own")
    phone = client_of(cast.grower)
    remove_member(by=owner, member_id=member(cast.grower).pk, now=NOW)
    assert phone.get("/you/").status_code == 200
    assert phone.get(f"/s/{site.slug}/weather/").status_code == 404
    assert Session.objects.count() == 1


def test_a_message_already_sent_stays(cast, member, owner, site):
    Message.objects.create(
        person=cast.grower,
        orchard=site.orchard,
        what="due",
        key="1",
        due_at=NOW,
        sent_at=NOW,
    )
    leave(membership=member(cast.grower), now=NOW)
    assert Message.objects.count() == 1


def test_an_owner_helps_a_member_back_in_for_ten_minutes(cast, member, owner):
    address = help_back_in(by=owner, member_id=member(cast.grower).pk, now=NOW)
    token = token_of(address)
    now = timezone.now()
    assert person_of_signin_link(token=token, now=now) == cast.grower
    late = now + timedelta(minutes=10)
    assert person_of_signin_link(token=token, now=late) is None
    entry = AuditEntry.objects.get(what="signin_link_made")
    assert (entry.person, entry.subject) == (cast.owner, "grower")
    assert token not in str(list(AuditEntry.objects.values()))


def test_no_owner_takes_over_another_owner_themselves_or_a_member_elsewhere(
    cast, member, owner
):
    change_role(by=owner, member_id=member(cast.viewer).pk, role="owner", now=NOW)
    found_orchard(person=cast.grower, name="Own")
    for someone, words in (
        (cast.viewer, "Another owner"),
        (cast.owner, "signed in yourself"),
        (cast.grower, "belongs to another orchard"),
    ):
        with pytest.raises(RefusedError, match=words):
            help_back_in(by=owner, member_id=member(someone).pk, now=NOW)
    assert not AuditEntry.objects.filter(what="signin_link_made").exists()


PEOPLE = 4
STEPS = st.lists(
    st.tuples(
        st.sampled_from(["role", "remove", "leave"]),
        st.integers(0, PEOPLE - 1),  # who acts
        st.integers(0, PEOPLE - 1),  # upon whom
        st.sampled_from(Role.values),
    ),
    max_size=25,
)


class AnyWayOfRunningAnOrchard(TestCase):
    @given(STEPS, st.lists(st.sampled_from(Role.values), min_size=PEOPLE - 1))
    def test_leaves_it_an_owner(self, steps, roles):
        orchard = found_orchard(person=person("first"), name="Ours")
        for number, role in zip(range(1, PEOPLE), roles, strict=False):
            Membership.objects.create(
                person=person(f"person {number}"), orchard=orchard, role=role
            )
        members = list(Membership.objects.order_by("id"))
        for what, actor, target, role in steps:
            before = dict(Membership.objects.values_list("pk", "role"))
            by, other = members[actor], members[target]
            try:
                if what == "role":
                    change_role(by=by, member_id=other.pk, role=role, now=NOW)
                elif what == "remove":
                    remove_member(by=by, member_id=other.pk, now=NOW)
                else:
                    leave(membership=by, now=NOW)
            except (RefusedError, PermissionDenied, Membership.DoesNotExist):
                assert dict(Membership.objects.values_list("pk", "role")) == before
            assert Membership.objects.filter(orchard=orchard, role="owner").exists()
            if what != "leave" and before.get(by.pk) != "owner":
                assert dict(Membership.objects.values_list("pk", "role")) == before
        assert Orchard.objects.filter(pk=orchard.pk).exists()
        assert Person.objects.count() == PEOPLE
