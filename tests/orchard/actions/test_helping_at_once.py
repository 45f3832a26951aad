"""Two coordinators, and one member twice, at the same instant."""

import pytest
from django.utils import timezone

from orchard.actions.helping import HelperFacts, HelpingError, describe_helper
from orchard.actions.offers import offer_weekdays
from orchard.models import Helping, Membership, Offered
from tests.care.test_two_people import at_once
from tests.orchard.test_people_at_once import taking_turns

NOW = timezone.now()

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.postgresql]


def test_nobody_becomes_a_mentor_while_another_marks_them_under_18(cast):
    by, owner, grower = (
        Membership.objects.get(person=each)
        for each in (cast.coordinator, cast.owner, cast.grower)
    )
    learner = HelperFacts(is_learner=True, mentors=frozenset({owner.pk}))
    turn = taking_turns([(grower, learner), (owner, HelperFacts(is_under_18=True))])

    def describe() -> bool:
        member, facts = turn()
        try:
            return describe_helper(by=by, member=member, facts=facts, now=NOW)
        except HelpingError:
            return False

    assert sorted(map(bool, at_once(describe, people=2))) == [False, True]
    young = Helping.objects.filter(is_under_18=True)
    assert not young.filter(membership__learners__isnull=False).exists()


def test_weekdays_said_twice_at_once_are_kept_once(cast):
    grower = Membership.objects.get(person=cast.grower)
    turn = taking_turns([{5: 1}, {6: 0}])
    said = at_once(
        lambda: offer_weekdays(membership=grower, wishes=turn(), now=NOW), people=2
    )
    assert said == [True, True]
    assert Offered.objects.count() == 7
