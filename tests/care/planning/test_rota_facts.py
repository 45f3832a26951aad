"""What a rota is made of: whom it keeps, what they did, and what they hold elsewhere."""

import random
from dataclasses import replace
from datetime import datetime, time, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from care.actions.rota import propose
from care.models import HandOver, Shift, ShiftPlace
from care.planning.rota_facts import facts_of, read_rota, term_id
from care.planning.rota_plan import proposed, standing
from care.planning.rota_rows import read_rows, season_span
from orchard.actions.people import found_orchard
from orchard.actions.places import add_site
from orchard.models import Membership, Site
from tests.care.rota_garden import MONDAY, SATURDAY, draft, helper, span
from tests.conftest import TODAY

WEEK = timedelta(days=7)
LAST = MONDAY + 4 * WEEK - timedelta(days=1)


def read(site):
    return read_rota(site, MONDAY, LAST, TODAY)


def hold(shift, member, number=1, *, why="assigned", **values):
    values = {"state": "held", "busy_on": shift.day, "version": 1, **values}
    place = shift.places.get(number=number)
    ShiftPlace.objects.filter(pk=place.pk).update(holder=member.person, **values)
    HandOver.objects.create(
        place=place, version=1, to_person=member.person, why=why, at=timezone.now()
    )
    return place


def offer_of(facts, member):
    return next(one for one in facts.offers if one.person == member.person_id)


def place_of(facts, place):
    return next(
        one for shift in facts.board for one in shift.places if one.id == term_id(place)
    )


def test_places_keep_their_holders_as_firmly_as_people_settled_them(site):
    ana, ben = helper(site, "Ana"), helper(site, "Ben", skills=["ladder"])
    shift = draft(site, SATURDAY, ("", "ladder", ""))
    loose = hold(shift, ana, why="proposed")
    firm = hold(shift, ben, 2)
    facts = read(site)
    assert place_of(facts, loose).is_published
    assert not place_of(facts, loose).is_locked
    assert place_of(facts, firm).is_locked
    Shift.objects.update(status="published")
    assert place_of(read(site), loose).is_locked
    ben.helping.skills = []
    ben.helping.save()
    assert place_of(read(site), firm).holder is None
    ana.delete()
    facts = read(site)
    assert place_of(facts, loose).holder is None
    assert facts.rows.holder(facts.rows.places[shift.pk][0]) is None


def test_what_was_done_and_is_held_elsewhere_counts(site, django_assert_num_queries):
    ana = helper(site, "Ana", most_a_week=1)
    old = draft(site, TODAY - 5 * WEEK)
    hold(old, ana, state="done", credit_percent=150)
    missed = draft(site, TODAY - 4 * WEEK)
    hold(missed, ana, state="missed")
    last_season = draft(site, season_span(site, TODAY)[0] - timedelta(days=1))
    hold(last_season, ana, state="done", busy_on=last_season.day)
    here = add_site(
        orchard=site.orchard,
        values={"name": "Far end", "latitude_deg": 47.0, "longitude_deg": -122.0},
    )
    hold(draft(here, MONDAY), ana)
    orchard = found_orchard(person=ana.person, name="Her own")
    hers = add_site(
        orchard=orchard,
        values={"name": "Hers", "latitude_deg": 47.0, "longitude_deg": -122.0},
    )
    elsewhere = MONDAY + WEEK
    hold(draft(hers, elsewhere), ana)
    same_week, next_week = draft(site, SATURDAY), draft(site, elsewhere)
    with django_assert_num_queries(9):
        facts = read(site)
    offer = offer_of(facts, ana)
    assert offer.carried == Fraction(3, 2)
    assert elsewhere not in offer.days
    plan = proposed(facts)
    assert [plan.holder(one.places.get()) for one in (same_week, next_week)] == [
        None,
        None,
    ]


def test_who_joined_amid_the_season_need_not_catch_up(site):
    zone = ZoneInfo("UTC")
    ana, new = helper(site, "Ana"), helper(site, "New", most_a_season=3)
    begin = TODAY - 8 * WEEK
    rows = Membership.objects
    early = datetime.combine(begin - WEEK, time(9), zone)
    rows.filter(pk=ana.pk).update(joined_at=early)
    rows.filter(pk=new.pk).update(joined_at=early + 7 * WEEK)
    for number in range(6):
        hold(draft(site, begin + number * WEEK), ana, state="done")
    draft(site, MONDAY)
    facts = read(site)
    # Six shifts by then, of which each could do one a span: six times the own share.
    assert offer_of(facts, new).begun_with == 6
    assert offer_of(facts, new).carried == 0
    assert offer_of(facts, ana).begun_with == 0
    # It is for fairness alone: their limit of three is theirs to use.
    assert sum(one is not None for one in proposed(facts).rota.holders.values()) == 1


def test_rows_in_any_order_give_the_same_rota_and_it_stays(site, cast):
    mentor = helper(site, "Ana", skills=["ladder"], most_a_week=2)
    for number in range(6):
        helper(site, f"P{number}", weekdays={number, 5}, most_a_week=1)
    helper(site, "Kim", is_learner=True, mentors=[mentor])
    for number in range(12):
        day = MONDAY + timedelta(days=2 * number)
        draft(site, day, ("", "ladder") if number % 3 else ("",))
    rows = read_rows(site, MONDAY, LAST, TODAY)
    first = proposed(facts_of(rows))
    draw = random.Random(3)

    def shuffled(mapping):
        items = list(mapping.items())
        draw.shuffle(items)
        return dict(items)

    for _ in range(3):
        mixed = replace(
            rows,
            shifts=shuffled(rows.shifts),
            members=shuffled(rows.members),
            places={pk: some[::-1] for pk, some in rows.places.items()},
        )
        again = proposed(facts_of(mixed))
        assert again.rota.holders == first.rota.holders
        assert again.learners == first.learners
    propose(span(site, cast.coordinator))
    plan = proposed(read(site))
    assert plan.changes() == {}
    assert plan.learners == standing(read(site)).learners
    assert any(first.learners.values())


@pytest.mark.parametrize("latitude", [47.0, -37.0])
def test_a_season_is_the_care_year_of_the_hemisphere(latitude):
    first, last = season_span(Site(latitude_deg=latitude), TODAY)
    assert (first.month, first.day) == ((11, 1) if latitude > 0 else (5, 1))
    assert first <= TODAY <= last
    assert (last - first).days in {364, 365}
