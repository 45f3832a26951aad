"""What there is of shifts, places and offers round a span of days, as rows.

A season is the care year of the site (:func:`care.science.season.season_of`), as it is
for everybody's limits.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from django.db.models import OuterRef, Subquery

from care.models import HandOver, Shift, ShiftPlace, ShiftRefusal
from care.planning.offers import MemberOffers, gather_offers
from care.planning.place_facts import HELD
from care.planning.shift_work import is_hazardous, work_of
from care.science.season import CARE_YEAR_FIRST_MONTH, season_date, season_of
from orchard.models import Site

State = ShiftPlace.State

#: What the hand-over says of a place that a proposal filled; whatever else filled it
#: was somebody's word, and a proposal leaves it alone.
PROPOSED = "proposed"


@dataclass(frozen=True, slots=True)
class SeasonShift:
    """A shift that a member holds or did in this orchard's season or another's.

    ``credit`` is what it counts: one and a half for a stand-in at short notice.
    """

    person_id: int
    place_id: int
    shift_id: int
    day: date
    credit: Fraction
    is_here: bool
    is_learner: bool


@dataclass(frozen=True, slots=True)
class RotaRows:
    """Shifts of the whole weeks of a span, and what decides who holds their places.

    Both ends of the span are included. ``shifts`` are by id, ``places`` and ``refused``
    (people who said no) by the id of their shift, ``members`` by person. ``season`` is
    what members hold or did in ``season_days`` and in those weeks.
    """

    site: Site
    first: date
    last: date
    today: date
    shifts: Mapping[int, Shift]
    places: Mapping[int, tuple[ShiftPlace, ...]]
    members: Mapping[int, MemberOffers]
    season: tuple[SeasonShift, ...]
    season_days: tuple[date, date]
    refused: Mapping[int, frozenset[int]]
    hazardous: frozenset[int]

    @property
    def monday(self) -> date:
        """The first day of the span's weeks."""
        return monday_of(self.first)

    @property
    def sunday(self) -> date:
        """The last day of the span's weeks."""
        return monday_of(self.last) + timedelta(days=6)

    def is_in_span(self, shift: Shift) -> bool:
        """Whether a shift is in the span."""
        return self.first <= shift.day <= self.last

    def is_to_fill(self, shift: Shift) -> bool:
        """Whether a shift is in the span and still to come."""
        return self.is_in_span(shift) and shift.day >= self.today

    def holder(self, place: ShiftPlace) -> int | None:
        """Return who holds a place; nobody where they left or may not any more.

        As :meth:`care.planning.place_facts.ShiftFacts.holder` has it, but for learners
        who wait for others.
        """
        if place.state not in HELD or place.holder_id is None:
            return place.holder_id
        member = self.members.get(place.holder_id)
        if member is None:
            return None
        is_learning = member.is_learner or member.is_under_18
        is_able = not place.skill or place.skill in member.skills
        return member.person_id if is_able and is_learning == place.is_learner else None


def monday_of(day: date) -> date:
    """Return the Monday of a day's week."""
    return day - timedelta(days=day.weekday())


def season_span(site: Site, day: date) -> tuple[date, date]:
    """Return the first and the last day of the season that holds a day."""
    southern = site.latitude_deg < 0
    season = season_of(day, southern=southern)
    first, after = (
        season_date(one, CARE_YEAR_FIRST_MONTH, 1, southern=southern)
        for one in (season, season + 1)
    )
    return first, after - timedelta(days=1)


def read_rows(site: Site, first: date, last: date, today: date) -> RotaRows:
    """Return what there is round a span of days.

    In nine queries however many shifts, people and weeks there are. The site's plan is
    to be fresh (:func:`care.planning.plan_site.ensure_planned`): its tasks say what may
    hurt on a shift.
    """
    monday, sunday = monday_of(first), monday_of(last) + timedelta(days=6)
    begin, end = season_span(site, first)
    since, until = min(begin, monday), max(end, sunday)
    members = {
        one.person_id: one for one in gather_offers(site.orchard_id, since, sunday)
    }
    rows = Shift.objects.filter(site=site, day__range=(monday, sunday))
    there = rows.exclude(status=Shift.Status.CANCELLED)
    shifts = {one.pk: one for one in there.order_by("day", "starts_at", "id")}
    work = work_of(shifts.values(), today)
    return RotaRows(
        site=site,
        first=first,
        last=last,
        today=today,
        shifts=shifts,
        places=_places(shifts),
        members=members,
        season=_season(site, members, since, until),
        season_days=(begin, end),
        refused=_refused(shifts),
        hazardous=frozenset(
            pk for pk, one in shifts.items() if is_hazardous(one, work[pk])
        ),
    )


def _refused(shifts: Iterable[int]) -> dict[int, frozenset[int]]:
    said: dict[int, set[int]] = {pk: set() for pk in shifts}
    for one in ShiftRefusal.objects.filter(shift__in=list(said)):
        said[one.shift_id].add(one.person_id)
    return {pk: frozenset(people) for pk, people in said.items()}


def _places(rows: Mapping[int, Shift]) -> dict[int, tuple[ShiftPlace, ...]]:
    """Return the places by shift; ``last_why`` says how each came to be as it is."""
    by_shift: dict[int, list[ShiftPlace]] = {pk: [] for pk in rows}
    last = HandOver.objects.filter(place=OuterRef("pk"), version=OuterRef("version"))
    places = (
        ShiftPlace.objects.filter(shift__in=list(rows))
        .select_related("holder", "offered_to")
        .annotate(last_why=Subquery(last.values("why")[:1]))
        .order_by("is_learner", "number", "id")
    )
    for place in places:
        place.shift = rows[place.shift_id]
        by_shift[place.shift_id].append(place)
    return {pk: tuple(some) for pk, some in by_shift.items()}


def is_proposed(place: ShiftPlace) -> bool:
    """Whether nobody but a proposal put its holder on a place that was read here."""
    return getattr(place, "last_why", None) == PROPOSED


def _season(
    site: Site, people: Iterable[int], first: date, last: date
) -> tuple[SeasonShift, ...]:
    rows = (
        ShiftPlace.objects.filter(
            state__in=[*HELD, State.DONE],
            holder__in=list(people),
            shift__day__range=(first, last),
        )
        .exclude(shift__status=Shift.Status.CANCELLED)
        .order_by("shift__day", "id")
        .values_list(
            *("holder", "id", "shift", "shift__day", "credit_percent"),
            *("shift__site__orchard", "is_learner"),
        )
    )
    return tuple(
        SeasonShift(
            person_id=person,
            place_id=place,
            shift_id=shift,
            day=day,
            credit=Fraction(percent, 100),
            is_here=orchard == site.orchard_id,
            is_learner=is_learner,
        )
        for person, place, shift, day, percent, orchard, is_learner in rows
    )
