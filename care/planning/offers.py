"""What the members of an orchard offer: days, limits, skills, whom they learn from."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from orchard.access import May, may
from orchard.models import Helping, Membership, Orchard, wishes_between


@dataclass(frozen=True, slots=True)
class MemberOffers:
    """One member who may do work; ``days`` holds every day of the span they offered.

    ``days`` maps to -1 rather not, 0 can come, 1 gladly; ``refused`` are days they said
    they cannot come. On a day in neither nothing is known of them: their weekdays, where
    they named any, leave no such day. Mentors are people's ids.
    """

    person_id: int
    name: str
    days: Mapping[date, int]
    refused: frozenset[date]
    most_a_week: int | None = None
    most_a_season: int | None = None
    skills: frozenset[str] = frozenset()
    is_learner: bool = False
    is_under_18: bool = False
    mentors: frozenset[int] = frozenset()
    joined_on: date | None = None

    def may_come(self, day: date) -> bool:
        """Whether nothing they said keeps them from a day."""
        return day not in self.refused


def gather_offers(
    orchard: Orchard | int, first: date, last: date
) -> tuple[MemberOffers, ...]:
    """Return what each working member offers from a first to a last day.

    ``orchard`` is one or its id. Both days are included; in three queries, members in
    the order of their ids.
    """
    members = (
        Membership.objects.filter(orchard=orchard)
        .select_related("person", "helping")
        .prefetch_related("offered", "helping__mentors")
        .order_by("person_id")
    )
    return tuple(
        _offers(member, first, last) for member in members if may(member.role, May.TICK)
    )


def _offers(member: Membership, first: date, last: date) -> MemberOffers:
    wishes = wishes_between(list(member.offered.all()), first, last)
    helping, mentors = _helping(member)
    return MemberOffers(
        person_id=member.person_id,
        name=member.person.shown_name,
        days={day: wish for day, wish in wishes.items() if wish is not None},
        refused=frozenset(day for day, wish in wishes.items() if wish is None),
        most_a_week=helping.most_a_week,
        most_a_season=helping.most_a_season,
        skills=frozenset(helping.skills),
        is_learner=helping.is_learner,
        is_under_18=helping.is_under_18,
        mentors=mentors,
        joined_on=member.joined_at.date(),
    )


def _helping(member: Membership) -> tuple[Helping, frozenset[int]]:
    """Return the member's row, or one that says nothing, and who their mentors are."""
    try:
        helping = member.helping
    except Helping.DoesNotExist:
        return Helping(membership=member), frozenset()
    return helping, frozenset(each.person_id for each in helping.mentors.all())
