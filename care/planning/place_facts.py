"""What is known of the places of shifts, read in constant queries for the rules."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from care.models import Shift, ShiftPlace, ShiftRefusal
from care.planning.offers import MemberOffers, gather_offers
from care.planning.place_rules import (
    Against,
    Load,
    PlaceTerms,
    Stop,
    speaks_against,
    stops,
)
from care.planning.shift_work import NO_WORK, ShiftWork, is_hazardous, work_of
from care.science.season import season_of
from orchard.models import Site

State = ShiftPlace.State
HELD = (State.HELD, State.OFFERED)
#: For these a learner's place is on hold; for all else it is given up.
WAITS = frozenset({Stop.UNDER_18_HAZARD, Stop.UNDER_18_TWO, Stop.NO_MENTOR})
#: A place nobody said anything of counts as done after so long.
UNCONFIRMED_FOR = timedelta(days=7)
#: A care year and the ends of the weeks that reach over it.
LOOKED_AT = timedelta(days=380)


@dataclass(frozen=True, slots=True)
class ShiftFacts:
    """One shift, its places, and what decides who may hold them.

    ``busy`` are people with a place of another shift that day; ``load`` counts the
    shifts of its week and season, this one left out; ``refused`` said no to it.
    """

    shift: Shift
    places: tuple[ShiftPlace, ...]
    members: Mapping[int, MemberOffers]
    work: ShiftWork = NO_WORK
    busy: frozenset[int] = frozenset()
    load: Load = field(default_factory=Load)
    refused: frozenset[int] = frozenset()

    @property
    def is_hazardous(self) -> bool:
        """Whether a ladder, a saw or a spray is part of it."""
        return is_hazardous(self.shift, self.work)

    @property
    def grown_ups(self) -> frozenset[int]:
        """The grown-ups on its counted places who may hold them."""
        there = (*HELD, State.DONE)
        counted = [
            place
            for place in self.places
            if not place.is_learner and place.state in there
        ]
        return frozenset(
            place.holder_id
            for place in counted
            if place.holder_id is not None and not self._bars(place)
        )

    def _bars(self, place: ShiftPlace) -> tuple[Stop, ...]:
        """Return what bars the holder of a counted place, whoever else is there."""
        terms = PlaceTerms(self.shift.day, place.skill, is_hazardous=self.is_hazardous)
        return stops(self.members.get(place.holder_id or 0), terms)

    def terms(self, place: ShiftPlace) -> PlaceTerms:
        """Return what the rules ask of a place."""
        return PlaceTerms(
            day=self.shift.day,
            skill=place.skill,
            is_learner=place.is_learner,
            is_hazardous=self.is_hazardous,
            grown_ups=self.grown_ups,
            busy=self.busy,
        )

    def breaks(self, place: ShiftPlace) -> tuple[Stop, ...]:
        """Return what stops the holder of a held place by now, but for the day."""
        if place.state not in HELD or place.holder_id is None:
            return ()
        found = stops(self.members.get(place.holder_id), self.terms(place))
        return tuple(stop for stop in found if stop is not Stop.SAME_DAY)

    def gives_up(self, place: ShiftPlace) -> bool:
        """Whether its holder may not hold it and may not even wait: learners may."""
        found = self.breaks(place)
        return bool(found) and not (place.is_learner and WAITS.issuperset(found))

    def is_on_hold(self, place: ShiftPlace) -> bool:
        """Whether a learner waits for those they need beside them."""
        return bool(self.breaks(place)) and not self.gives_up(place)

    def holder(self, place: ShiftPlace) -> int | None:
        """Return who holds a place; nobody where they left or may not any more."""
        return None if self.gives_up(place) else place.holder_id

    def stops(self, place: ShiftPlace, person_id: int) -> tuple[Stop, ...]:
        """Return what stops somebody from holding a place, whoever holds it now.

        Who holds another place of the same shift is stopped by the day as well.
        """
        found = stops(self.members.get(person_id), self.terms(place))
        has_another = any(
            other.pk != place.pk and other.holder_id == person_id and other.busy_on
            for other in self.places
        )
        if has_another and Stop.SAME_DAY not in found:
            found += (Stop.SAME_DAY,)
        return found

    def speaks_against(self, place: ShiftPlace, person_id: int) -> tuple[Against, ...]:
        """Return what a member said that speaks against a place, and stops nobody."""
        member = self.members[person_id]
        return speaks_against(member, self.terms(place), self.load)

    def who_may(self, place: ShiftPlace) -> tuple[int, ...]:
        """Return who may take a place, in the order in which they are asked.

        Who said no to the shift or cannot come that day is left out; the lowest share
        done so far comes first, then who offered the day most gladly.
        """
        able = [
            person
            for person, member in self.members.items()
            if person != place.holder_id
            and person not in self.refused
            and member.may_come(self.shift.day)
            and not self.stops(place, person)
        ]
        return tuple(sorted(able, key=self._turn))

    def _turn(self, person: int) -> tuple[int, int, int]:
        wish = self.members[person].days.get(self.shift.day, -2)
        return self.load.season.get(person, 0), -wish, person


def read_facts(
    site: Site, shifts: Iterable[Shift], today: date
) -> dict[int, ShiftFacts]:
    """Return the facts of a site's shifts by their ids, in ten queries at most.

    Its plan is to be fresh (:func:`care.planning.plan_site.ensure_planned`), for what
    work there is decides what may hurt.
    """
    shifts = list(shifts)
    if not shifts:
        return {}
    first, last = min(s.day for s in shifts), max(s.day for s in shifts)
    members = {
        one.person_id: one for one in gather_offers(site.orchard_id, first, last)
    }
    places = _places(shifts)
    days = _days_of(site, members, first, last)
    refused: dict[int, set[int]] = defaultdict(set)
    for refusal in ShiftRefusal.objects.filter(shift__in=shifts):
        refused[refusal.shift_id].add(refusal.person_id)
    work = work_of(shifts, today)
    is_southern = site.latitude_deg < 0
    return {
        shift.pk: ShiftFacts(
            shift=shift,
            places=tuple(places[shift.pk]),
            members=members,
            work=work[shift.pk],
            busy=_busy(days, shift),
            load=_load(days, shift, southern=is_southern),
            refused=frozenset(refused[shift.pk]),
        )
        for shift in shifts
    }


@dataclass(frozen=True, slots=True)
class HeldDay:
    """Somebody's place on one day; one of another orchard keeps the day and no more."""

    person_id: int
    shift_id: int
    day: date
    busy_on: date | None
    is_here: bool


def _places(shifts: Sequence[Shift]) -> dict[int, list[ShiftPlace]]:
    by_shift: dict[int, list[ShiftPlace]] = defaultdict(list)
    known = {shift.pk: shift for shift in shifts}
    rows = ShiftPlace.objects.filter(shift__in=shifts).select_related(
        "holder", "offered_to"
    )
    for place in rows.order_by("is_learner", "number"):
        place.shift = known[place.shift_id]
        by_shift[place.shift_id].append(place)
    return by_shift


def _days_of(
    site: Site, people: Iterable[int], first: date, last: date
) -> list[HeldDay]:
    rows = (
        ShiftPlace.objects.filter(
            holder__in=list(people),
            shift__day__gte=first - LOOKED_AT,
            shift__day__lte=last + LOOKED_AT,
        )
        .exclude(state=State.MISSED)
        .exclude(shift__status=Shift.Status.CANCELLED)
        .values_list("holder", "shift", "shift__day", "busy_on", "shift__site__orchard")
    )
    here = site.orchard_id
    return [HeldDay(*row[:4], is_here=row[4] == here) for row in rows]


def _busy(days: Iterable[HeldDay], shift: Shift) -> frozenset[int]:
    return frozenset(
        one.person_id
        for one in days
        if one.busy_on == shift.day and one.shift_id != shift.pk
    )


def _load(days: Iterable[HeldDay], shift: Shift, *, southern: bool) -> Load:
    monday = shift.day - timedelta(days=shift.day.weekday())
    season = season_of(shift.day, southern=southern)
    in_week: dict[int, int] = defaultdict(int)
    in_season: dict[int, int] = defaultdict(int)
    for one in days:
        if one.shift_id == shift.pk or not one.is_here:
            continue
        if monday <= one.day < monday + timedelta(days=7):
            in_week[one.person_id] += 1
        if season_of(one.day, southern=southern) == season:
            in_season[one.person_id] += 1
    return Load(in_week, in_season)


def unsettled(facts: ShiftFacts) -> bool:
    """Whether what is written of a shift's places is no longer so."""
    return any(
        facts.gives_up(place) or facts.is_on_hold(place) != place.on_hold
        for place in facts.places
        if place.state in HELD
    )
