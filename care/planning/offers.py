"""What the members of an orchard offer: days, limits, skills, whom they learn from."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from orchard.access import May, may
from orchard.models import Helping, Membership, Offered, Orchard

DAY = timedelta(days=1)


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

    def may_come(self, day: date) -> bool:
        """Whether nothing they said keeps them from a day."""
        return day not in self.refused


def gather_offers(
    orchard: Orchard | int, first: date, last: date
) -> tuple[MemberOffers, ...]:
    """Return what each working member offers from a first to a last day.

    ``orchard`` is one or its id. Both days included; in three queries, members in the order of their ids. A day that
    was named goes before its weekday.
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
    wishes = _wishes(list(member.offered.all()), first, last)
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
    )


def _helping(member: Membership) -> tuple[Helping, frozenset[int]]:
    """Return the member's row, or one that says nothing, and who their mentors are."""
    try:
        helping = member.helping
    except Helping.DoesNotExist:
        return Helping(membership=member), frozenset()
    return helping, frozenset(each.person_id for each in helping.mentors.all())


def _wishes(rows: Sequence[Offered], first: date, last: date) -> dict[date, int | None]:
    """Return what was said of each day of the span that anything was said of."""
    by_day = {row.day: row.wish for row in rows if row.day is not None}
    by_weekday = {row.weekday: row.wish for row in rows if row.weekday is not None}
    wishes: dict[date, int | None] = {}
    for day in _days(first, last):
        if day in by_day:
            wishes[day] = by_day[day]
        elif by_weekday:
            wishes[day] = by_weekday.get(day.weekday())
    return wishes


def _days(first: date, last: date) -> Iterable[date]:
    return (first + number * DAY for number in range((last - first).days + 1))
