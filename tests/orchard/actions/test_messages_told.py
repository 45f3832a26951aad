"""What happens to people is told to them, in the transaction in which it happens."""

from datetime import UTC, datetime

import pytest

from orchard.actions.invites import accept_invite, make_invite
from orchard.actions.members import RefusedError, change_role, leave, remove_member
from orchard.actions.messages import Told, messages_for
from orchard.models import Membership, Message, Person, Role

NOW = datetime(2026, 3, 1, 16, 0, tzinfo=UTC)


@pytest.fixture
def member(cast):
    def of(role):
        return Membership.objects.get(person=getattr(cast, role))

    return of


def told(person):
    return [message.body["title"] for message in messages_for(person)]


def test_who_made_an_invite_hears_that_it_was_taken(cast, member):
    _, token = make_invite(
        membership=member("coordinator"), role=Role.GROWER, note="Ana", now=NOW
    )
    ana = Person.objects.create_user("ana", first_name="Ana")
    accept_invite(token=token, person=ana, now=NOW)
    assert told(cast.coordinator) == ["Ana joined Test orchard"]
    assert told(cast.owner) == []
    accept_invite(token=token, person=ana, now=NOW)
    assert Message.objects.count() == 1


def test_whose_role_was_changed_hears_of_it(cast, member):
    change_role(
        by=member("owner"), member_id=member("grower").pk, role=Role.VIEWER, now=NOW
    )
    assert told(cast.grower) == ["Your role in Test orchard is now viewer"]
    change_role(
        by=member("owner"), member_id=member("grower").pk, role=Role.VIEWER, now=NOW
    )
    assert Message.objects.count() == 1


def test_a_change_that_was_refused_is_told_to_nobody(member):
    owner = member("owner")
    with pytest.raises(RefusedError):
        change_role(by=owner, member_id=owner.pk, role=Role.VIEWER, now=NOW)
    assert not Message.objects.exists()


def test_who_was_taken_out_hears_that_alone(cast, member, site):
    Message.objects.create(
        person=cast.grower, orchard=site.orchard, what=Told.COLD_TONIGHT, due_at=NOW
    )
    remove_member(by=member("owner"), member_id=member("grower").pk, now=NOW)
    assert told(cast.grower) == ["You are no longer in Test orchard"]
    assert Message.objects.count() == 1


def test_who_leaves_is_not_told_that_they_left(cast, member):
    leave(membership=member("grower"), now=NOW)
    assert not Message.objects.exists()
