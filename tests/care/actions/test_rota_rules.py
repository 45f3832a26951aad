"""Whatever is proposed, cleared, changed and published: the rules for places hold."""

import random
from contextlib import suppress
from datetime import timedelta

from django.utils import timezone

from care.actions import rota
from care.actions.place_changes import PlaceError
from care.actions.rota import clear_proposal, propose
from care.actions.rota_places import put_on_place
from care.actions.rota_publish import NothingToPublishError, publish
from care.models import Shift, ShiftPlace
from care.planning.rota_facts import read_rota
from orchard.actions.people import found_orchard
from orchard.actions.places import add_site
from orchard.models import Helping, Membership
from tests.care.rota_garden import MONDAY, draft, helper, span
from tests.conftest import TODAY

STEPS = 16


def broken(site):
    """Return every rule that is broken, said anew from the rows."""
    found = []
    grown = Helping.objects.filter(is_under_18=False, is_learner=False)
    adults = set(grown.values_list("membership__person", flat=True))
    for shift in Shift.objects.filter(site=site).prefetch_related("places"):
        places = list(shift.places.all())
        counted = {p.holder_id for p in places if not p.is_learner and p.holder_id}
        found += [("no grown-up", shift.pk, who) for who in counted - adults]
        for place in places:
            if not place.is_learner or place.holder_id is None or place.on_hold:
                continue
            helping = Helping.objects.get(membership__person=place.holder_id)
            mentors = set(helping.mentors.values_list("person", flat=True))
            if not mentors & counted:
                found.append(("no mentor", shift.pk))
            if helping.is_under_18 and (shift.is_hazardous or len(counted) < 2):
                found.append(("not for the young", shift.pk))
    held = ShiftPlace.objects.filter(shift__site=site, holder__isnull=False)
    days = list(held.values_list("holder", "shift__day"))
    return found + [one for one in set(days) if days.count(one) > 1]


def test_no_run_of_proposals_and_edits_breaks_a_rule(site, cast):
    draw = random.Random(8)
    by = Membership.objects.get(person=cast.coordinator, orchard=site.orchard)
    crew = [helper(site, name, most_a_week=2) for name in ("Ana", "Ben", "Cleo")]
    crew.append(helper(site, "Kim", is_under_18=True, mentors=crew, most_a_week=7))
    crew.append(helper(site, "Lou", is_learner=True, mentors=crew[:1], most_a_week=7))
    for number in range(6):
        day = MONDAY + timedelta(days=number // 2)
        draft(site, day, ("", ""), is_hazardous=number % 3 == 0)
    now, seen_learners = timezone.now(), 0

    def edit():
        place = draw.choice(list(ShiftPlace.objects.filter(shift__site=site)))
        who = draw.choice([None, *(one.person_id for one in crew)])
        put_on_place(place=place, person_id=who, by=by, now=now)

    def turn_dangerous():
        drafts = Shift.objects.filter(site=site, status=Shift.Status.DRAFT)
        Shift.objects.filter(pk__in=drafts.order_by("-pk")[:1]).update(
            is_hazardous=True
        )
        propose(span(site, by.person))

    steps = [
        *([edit] * 5),
        *([lambda: propose(span(site, by.person))] * 3),
        lambda: clear_proposal(span(site, by.person)),
        lambda: (
            publish(span(site, by.person, weeks=1)) if draw.random() < 0.1 else None
        ),
        turn_dangerous,
    ]
    for _ in range(STEPS):
        with suppress(PlaceError, NothingToPublishError):
            draw.choice(steps)()
        assert broken(site) == []
        seen_learners += ShiftPlace.objects.filter(is_learner=True).count()
    assert seen_learners


def test_whoever_takes_another_shift_meanwhile_is_left_there(site, cast, monkeypatch):
    ana, ben = helper(site, "Ana"), helper(site, "Ben")
    shift = draft(site, MONDAY, ("", ""))
    facts = read_rota(site, MONDAY, MONDAY + timedelta(days=6), TODAY)
    elsewhere = add_site(
        orchard=found_orchard(person=ana.person, name="Her own"),
        values={"name": "Hers", "latitude_deg": 47.0, "longitude_deg": -122.0},
    )
    place = draft(elsewhere, MONDAY).places.get()
    ShiftPlace.objects.filter(pk=place.pk).update(
        holder=ana.person, state="held", busy_on=MONDAY
    )
    monkeypatch.setattr(rota, "read_rota", lambda *_span: facts)
    assert propose(span(site, cast.coordinator, weeks=1)).filled == 1
    held = shift.places.values_list("holder", flat=True)
    assert set(held) == {ben.person_id, None}
