"""Walks fall on days somebody offered, where a window leaves the choice."""

from datetime import date, time, timedelta

import pytest
from django.utils import timezone

from care.models import Round, Shift, Task
from care.planning.available_days import costs_ahead, day_costs, shift_days
from care.planning.offers import MemberOffers
from care.planning.plan_site import plan_site
from care.scheduling.rounds import (
    EVERY_DAY_USABLE,
    NOBODY_HOME_COST,
    OTHER_DAY_COST,
    USABLE_DAY_COST,
)
from orchard.models import Membership, Offered
from tests.conftest import TODAY

MONDAY = date(2025, 7, 7)
DAYS = [MONDAY + timedelta(days=number) for number in range(7)]


def offers(person_id, days=None, refused=()):
    return MemberOffers(person_id, "somebody", days or {}, frozenset(refused))


def test_where_nobody_said_anything_all_days_are_alike():
    assert day_costs([offers(1), offers(2)]) is EVERY_DAY_USABLE


def test_an_offered_day_is_cheapest_and_an_empty_one_dearest():
    saturday = DAYS[5]
    cost = day_costs([offers(1, {saturday: 0}, set(DAYS) - {saturday})])
    assert cost(saturday) == USABLE_DAY_COST
    assert {cost(day) for day in DAYS[:5]} == {NOBODY_HOME_COST}


def test_whoever_said_nothing_may_still_come():
    cost = day_costs([offers(1, {DAYS[5]: 1}), offers(2)])
    assert cost(DAYS[0]) == OTHER_DAY_COST


def test_a_day_only_offered_unwillingly_costs_more_than_a_willing_one():
    cost = day_costs([offers(1, {DAYS[5]: -1, DAYS[6]: 0})])
    assert cost(DAYS[6]) < cost(DAYS[5]) < cost(DAYS[0])


@pytest.fixture
def saturdays(site, cast):
    member = Membership.objects.get(person=cast.owner, orchard=site.orchard)
    Offered.objects.create(membership=member, weekday=5, wish=0)


@pytest.mark.usefixtures("saturdays")
def test_a_plan_puts_its_walks_on_offered_days(site, make_tree):
    make_tree("Apple")
    plan_site(site, TODAY, timezone.now())
    rounds = Round.objects.filter(site=site, is_withdrawn=False)
    movable = [
        one
        for one in rounds
        if any(
            task.earliest <= day <= task.latest
            for task in Task.objects.filter(round=one)
            for day in (one.day + timedelta(days=n) for n in range(-7, 8))
            if day.weekday() == 5 and day >= TODAY
        )
    ]
    assert movable
    assert {one.day.weekday() for one in movable} == {5}


def test_people_come_anyhow_on_the_day_of_a_published_shift(site):
    for day, status in ((MONDAY, "published"), (DAYS[1], "draft")):
        Shift.objects.create(
            site=site,
            name="Watering",
            day=day,
            starts_at=time(9),
            minutes=60,
            status=status,
            changed_at=timezone.now(),
        )
    assert shift_days(site, TODAY) == {MONDAY}


def test_costs_come_in_few_queries(site, saturdays, django_assert_max_num_queries):
    del saturdays
    with django_assert_max_num_queries(3):
        cost = costs_ahead(site, TODAY, 60)
    assert cost(DAYS[5]) == USABLE_DAY_COST
