"""What members offer: weekdays, single days, silence; who may work at all."""

from datetime import date, timedelta

import pytest

from care.planning.offers import gather_offers
from orchard.models import Helping, Membership, Offered

MONDAY = date(2025, 7, 7)
SATURDAY, SUNDAY = MONDAY + timedelta(days=5), MONDAY + timedelta(days=6)


@pytest.fixture
def member(cast, site):
    return Membership.objects.get(person=cast.grower, orchard=site.orchard)


def offers_of(site, member):
    found = gather_offers(site.orchard, MONDAY, SUNDAY)
    return next(each for each in found if each.person_id == member.person_id)


def test_of_whoever_said_nothing_nothing_is_known(site, member):
    offers = offers_of(site, member)
    assert offers.days == {}
    assert offers.refused == frozenset()
    assert offers.may_come(MONDAY)


def test_weekdays_leave_no_other_day(site, member):
    Offered.objects.create(membership=member, weekday=5, wish=1)
    offers = offers_of(site, member)
    assert offers.days == {SATURDAY: 1}
    assert offers.refused == {MONDAY + timedelta(days=n) for n in (0, 1, 2, 3, 4, 6)}


def test_a_day_goes_before_its_weekday(site, member):
    Offered.objects.create(membership=member, weekday=5, wish=1)
    Offered.objects.create(membership=member, day=SATURDAY, wish=None)
    Offered.objects.create(membership=member, day=SUNDAY, wish=-1)
    offers = offers_of(site, member)
    assert offers.days == {SUNDAY: -1}
    assert not offers.may_come(SATURDAY)


def test_a_single_day_away_leaves_the_others_unknown(site, member):
    Offered.objects.create(membership=member, day=MONDAY, wish=None)
    offers = offers_of(site, member)
    assert offers.refused == {MONDAY}
    assert offers.may_come(SATURDAY)
    assert SATURDAY not in offers.days


def test_viewers_do_no_work_and_queries_stay_constant(
    site, cast, member, django_assert_num_queries
):
    mentor = Membership.objects.get(person=cast.owner, orchard=site.orchard)
    helping = Helping.objects.create(
        membership=member, skills=["ladder"], is_learner=True, most_a_week=2
    )
    helping.mentors.add(mentor)
    with django_assert_num_queries(3):
        found = gather_offers(site.orchard, MONDAY, SUNDAY)
    assert {each.person_id for each in found} == {
        cast.owner.pk,
        cast.coordinator.pk,
        cast.grower.pk,
    }
    learner = next(each for each in found if each.person_id == member.person_id)
    assert learner.mentors == {cast.owner.pk}
    assert (learner.skills, learner.most_a_week) == (frozenset({"ladder"}), 2)
