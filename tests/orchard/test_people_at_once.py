"""Two people at the same instant, on a database that really lets them."""

import pytest
from django.core.exceptions import PermissionDenied
from django.utils import timezone

from orchard.actions.invites import accept_invite, make_invite
from orchard.actions.members import RefusedError, change_role, leave
from orchard.models import Membership, Person
from tests.care.test_two_people import at_once
from tests.conftest import person

NOW = timezone.now()

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.postgresql]


@pytest.fixture
def owners(cast, site):
    Membership.objects.filter(person=cast.grower).update(role="owner")
    return list(Membership.objects.filter(orchard=site.orchard, role="owner"))


def taking_turns(things):
    """Return work that gives each thread its own thing."""
    left = list(things)  # a list's pop is atomic
    return left.pop


def test_two_owners_who_lower_each_other_leave_one_owner(owners, site):
    first, second = owners
    pairs = taking_turns([(first, second), (second, first)])

    def lower() -> bool:
        by, other = pairs()
        try:
            return change_role(by=by, member_id=other.pk, role="viewer", now=NOW)
        except (PermissionDenied, RefusedError):
            return False

    assert sorted(map(bool, at_once(lower, people=2))) == [False, True]
    left = Membership.objects.filter(orchard=site.orchard, role="owner")
    assert left.count() == 1


def test_of_two_last_owners_who_leave_one_stays(owners, site):
    memberships = taking_turns(owners)

    def go() -> bool:
        try:
            leave(membership=memberships(), now=NOW)
        except RefusedError:
            return False
        return True

    assert sorted(map(bool, at_once(go, people=2))) == [False, True]
    assert Membership.objects.filter(orchard=site.orchard, role="owner").count() == 1


def test_one_invitation_lets_one_of_eight_in(cast, site):
    by = Membership.objects.get(person=cast.owner)
    _, token = make_invite(membership=by, role="grower", note="", now=NOW)
    guests = [person(f"guest{number}") for number in range(8)]
    turn = taking_turns(guests)
    joined = at_once(lambda: accept_invite(token=token, person=turn(), now=NOW))
    assert sum(joining is not None for joining in joined) == 1
    assert site.orchard.members.filter(username__startswith="guest").count() == 1


def test_one_person_who_accepts_eight_times_is_one_member(cast, site):
    by = Membership.objects.get(person=cast.owner)
    tokens = [
        make_invite(membership=by, role="grower", note="", now=NOW)[1] for _ in range(8)
    ]
    turn = taking_turns(tokens)
    guest = Person.objects.get(pk=person("guest").pk)
    at_once(lambda: accept_invite(token=turn(), person=guest, now=NOW))
    assert Membership.objects.filter(person=guest).count() == 1
    assert by.orchard.invites.filter(used_by=guest).count() == 1
