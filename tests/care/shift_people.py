"""A published shift on Saturday, and people who help in every way."""

from datetime import date, datetime, time
from typing import Any

from django.utils import timezone

from care.models import Shift, ShiftPlace
from orchard.models import Helping, Membership, Offered, Site
from tests.conftest import person

SATURDAY, SUNDAY = date(2025, 7, 5), date(2025, 7, 6)
#: The site's own day is Wednesday 2 July 2025, whatever the clock says.
NOW = datetime(2026, 1, 2, 20, tzinfo=timezone.get_default_timezone())


def helper(site: Site, name: str, role: str = "grower", **facts: Any) -> Membership:
    """Let somebody join who offers every day, unless told otherwise."""
    mentors, days = facts.pop("mentors", ()), facts.pop("days", range(7))
    member = Membership.objects.create(
        person=person(name), orchard=site.orchard, role=role
    )
    helping = Helping.objects.create(membership=member, **facts)
    helping.mentors.set(mentors)
    for weekday in days:
        Offered.objects.create(membership=member, weekday=weekday, wish=0)
    return member


def shift_on(
    site: Site,
    day: date = SATURDAY,
    skills: tuple[str, ...] = ("", ""),
    *,
    learners: int = 0,
    **facts: Any,
) -> Shift:
    """Publish a shift with a place for each skill, and some for learners."""
    values = {
        "name": f"Long row {day.day}",
        "starts_at": time(9),
        "minutes": 120,
        "status": Shift.Status.PUBLISHED,
        "published_at": NOW,
        **facts,
    }
    shift = Shift.objects.create(site=site, day=day, changed_at=NOW, **values)
    for number, skill in enumerate((*skills, *[""] * learners), start=1):
        ShiftPlace.objects.create(
            shift=shift,
            number=number,
            skill=skill,
            is_learner=number > len(skills),
        )
    return shift


def hold(place: ShiftPlace, member: Membership) -> ShiftPlace:
    """Give a place to somebody as a published rota does."""
    place.state, place.holder = ShiftPlace.State.HELD, member.person
    place.busy_on = place.shift.day
    place.save()
    return place


def places_of(shift: Shift) -> list[ShiftPlace]:
    """Return a shift's places as they are now, learners' last."""
    return list(shift.places.order_by("is_learner", "number"))
