"""Volunteers at the same instant, on a database that really lets them."""

from datetime import timedelta

import pytest
from django.utils import timezone

from care.actions import helper_links
from care.actions.helper_links import (
    FullError,
    enter_as_helper,
    make_helper_link,
    revoke_helper_link,
)
from care.models import Round
from orchard.models import AuditEntry, Membership
from tests.care.test_two_people import at_once
from tests.conftest import TODAY

NOW = timezone.now()

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.postgresql]


@pytest.fixture
def made(site, cast):
    one = Round.objects.create(site=site, day=TODAY + timedelta(days=1), changed_at=NOW)
    by = Membership.objects.get(person=cast.owner)
    return by, *make_helper_link(membership=by, one=one, now=NOW)


def test_no_more_volunteers_come_in_at_once_than_a_link_takes(made, monkeypatch):
    monkeypatch.setattr(helper_links, "MOST_HELPERS", 3)
    _, link, token = made

    def enter() -> bool:
        try:
            enter_as_helper(token=token, name="Sam", now=NOW)
        except FullError:
            return False
        return True

    assert sorted(map(bool, at_once(enter))) == [False] * 5 + [True] * 3
    assert link.helpers.count() == 3


def test_a_link_closed_by_eight_at_once_is_closed_once(made):
    by, link, _ = made
    closed = at_once(
        lambda: revoke_helper_link(membership=by, link_id=link.pk, now=NOW)
    )
    assert sum(map(bool, closed)) == 1
    assert AuditEntry.objects.filter(what="helper_link_revoked").count() == 1
