"""A garden with people who offer days and shifts that need them."""

from datetime import time, timedelta

from django.utils import timezone

from care.actions.rota import Span
from care.models import Shift, ShiftPlace
from orchard.models import Helping, Membership, Offered, Person
from tests.conftest import TODAY

# The Monday after the site's own day.
MONDAY = TODAY + timedelta(days=5)
SATURDAY = MONDAY + timedelta(days=5)
EVERY_DAY = range(7)


def helper(site, name, *, weekdays=EVERY_DAY, role="grower", mentors=(), **helping):
    """Add a member who offers weekdays; return their membership."""
    person = Person.objects.create(username=name, first_name=name)
    member = Membership.objects.create(person=person, orchard=site.orchard, role=role)
    Offered.objects.bulk_create(
        Offered(membership=member, weekday=weekday, wish=0) for weekday in weekdays
    )
    row = Helping.objects.create(membership=member, **helping)
    row.mentors.set(mentors)
    return member


def draft(site, day, skills=("",), *, name="Watering", **values):
    """Add a draft with an open place for each skill."""
    shift = Shift.objects.create(
        site=site,
        name=name,
        day=day,
        starts_at=time(9),
        minutes=120,
        changed_at=timezone.now(),
        **values,
    )
    ShiftPlace.objects.bulk_create(
        ShiftPlace(shift=shift, number=number, skill=skill)
        for number, skill in enumerate(skills, 1)
    )
    return shift


def span(site, by, *, weeks=4, first=MONDAY):
    """Say who writes the rota of which weeks."""
    last = first + timedelta(days=7 * weeks - 1)
    return Span(site, first, last, by, timezone.now())


def holders(site):
    """Return who holds the places of a site, by shift and number."""
    places = ShiftPlace.objects.filter(shift__site=site).order_by(
        "shift__day", "shift", "number"
    )
    return [
        (str(place.shift.day), place.number, place.holder and place.holder.username)
        for place in places.select_related("shift", "holder")
    ]
