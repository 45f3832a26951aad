"""A rota for a span of days: who is proposed, what stays open and why, who does how much.

The method is :mod:`care.scheduling.rota`; here it meets the rows.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from care.models import Shift, ShiftPlace
from care.planning.rota_facts import RotaFacts, term_id
from care.planning.rota_rows import RotaRows, monday_of
from care.scheduling.rota import (
    OpenPlace,
    Rota,
    Shift as ShiftTerms,
    place_learners,
    propose_rota,
    why_open,
)
from care.scheduling.rota.terms import NO_LIMIT

USUAL_WEEKS = 4
MOST_WEEKS = 53
#: How far from a day another one is worth naming for a shift nobody can come to.
NEAR_DAYS = 3


@dataclass(frozen=True, slots=True)
class Why:
    """Why a place is open, and what would help.

    ``free`` could come and nothing stops them; ``known`` is what the search for
    hand-overs found. ``offered`` offered the day, whatever their skills; ``skilled``
    have the skill. ``better_day`` is a day near it that more people offered.
    """

    place: ShiftPlace
    shift: Shift
    known: OpenPlace
    free: tuple[int, ...]
    offered: tuple[int, ...]
    skilled: tuple[int, ...]
    better_day: tuple[date, int] | None


@dataclass(frozen=True, slots=True)
class PersonLoad:
    """How much somebody does of the season up to the span's end.

    ``done`` counts what they did and hold; ``fair`` is their part of what all do, by
    the days they offered, ``None`` where they offered none.
    """

    person_id: int
    name: str
    done: Fraction
    fair: Fraction | None


@dataclass(frozen=True, slots=True)
class RotaPlan:
    """A rota: holders by place and learners by shift, new ones included."""

    facts: RotaFacts
    rota: Rota
    learners: Mapping[int, tuple[int, ...]]
    why: Mapping[int, Why]

    def holder(self, place: ShiftPlace) -> int | None:
        """Return who holds a counted place; of one gone by, who did."""
        key = term_id(place)
        if key in self.rota.holders:
            return self.rota.holders[key]
        return self.facts.rows.holder(place)

    def changes(self) -> dict[int, int | None]:
        """Return the new holder of each counted place of a draft that changes."""
        rows = self.facts.rows
        return {
            place.pk: self.holder(place)
            for pk, shift in rows.shifts.items()
            if shift.status == Shift.Status.DRAFT and rows.is_to_fill(shift)
            for place in rows.places[pk]
            if not place.is_learner and self.holder(place) != place.holder_id
        }


def proposed(facts: RotaFacts) -> RotaPlan:
    """Propose who holds the open places of a span, learners too."""
    rota = propose_rota(facts.board, facts.offers)
    to_fill = {
        term_id(pk)
        for pk, shift in facts.rows.shifts.items()
        if facts.rows.is_to_fill(shift) and shift.status == Shift.Status.DRAFT
    }
    board = [one for one in facts.board if one.id in to_fill or _learns(facts, one)]
    new = place_learners(board, rota, facts.learners, facts.learning)
    return _plan(facts, rota, {key: who for key, who in new.items() if key in to_fill})


def _learns(facts: RotaFacts, shift: ShiftTerms) -> bool:
    return bool(facts.learning.get(shift.id))


def standing(facts: RotaFacts) -> RotaPlan:
    """Return the rota as it is written, and why its open places are open."""
    holders = {place.id: place.holder for one in facts.board for place in one.places}
    return _plan(facts, Rota(holders), {})


def _plan(facts: RotaFacts, rota: Rota, new: Mapping[str, tuple[int, ...]]) -> RotaPlan:
    rows = facts.rows
    learners = {
        pk: facts.learning[term_id(pk)] + new.get(term_id(pk), ()) for pk in rows.shifts
    }
    return RotaPlan(facts, rota, learners, _why(facts, rota))


def _why(facts: RotaFacts, rota: Rota) -> dict[int, Why]:
    rows = facts.rows
    known = {one.place_id: one for one in why_open(facts.board, facts.offers, rota)}
    on_day = _offered_by_day(facts)
    found = {}
    for pk, shift in rows.shifts.items():
        for place in rows.places[pk]:
            one = known.get(term_id(place))
            if one is not None and rows.is_to_fill(shift) and not place.is_learner:
                found[place.pk] = _why_one(facts, shift, place, one, on_day)
    return found


def _why_one(
    facts: RotaFacts,
    shift: Shift,
    place: ShiftPlace,
    known: OpenPlace,
    on_day: Mapping[date, tuple[int, ...]],
) -> Why:
    stopped = {person for person, _stop in known.stopped}
    here = on_day.get(shift.day, ())
    apart = {*stopped, *known.said_no, *known.day_without_skill}
    near = [
        (len(on_day.get(day, ())), -abs((day - shift.day).days), day)
        for number in range(-NEAR_DAYS, NEAR_DAYS + 1)
        if (day := shift.day + timedelta(days=number)) >= facts.rows.today
    ]
    number, _near, day = max(near)
    return Why(
        place=place,
        shift=shift,
        known=known,
        free=tuple(person for person in here if person not in apart),
        offered=here,
        skilled=tuple(o.person for o in facts.offers if place.skill in o.skills),
        better_day=(day, number) if number > len(here) else None,
    )


def _offered_by_day(facts: RotaFacts) -> dict[date, tuple[int, ...]]:
    by_day: dict[date, list[int]] = defaultdict(list)
    for offer in facts.offers:
        for day in offer.days:
            by_day[day].append(offer.person)
    return {day: tuple(people) for day, people in by_day.items()}


def loads(plan: RotaPlan) -> tuple[PersonLoad, ...]:
    """Return how much each does of the season, up to the end of the span's weeks.

    A fair share is a part of all that is done and held, in proportion to what each
    could do: on the days with shifts that they offered since they joined, no more a
    week or season than they said.
    """
    rows = plan.facts.rows
    done = _done(plan)
    able = _able(rows)
    in_all = sum(done.values(), Fraction(0))
    could = sum(able.values())
    return tuple(
        PersonLoad(
            person_id=person,
            name=member.name,
            done=done[person],
            fair=in_all * able[person] / could if able[person] else None,
        )
        for person, member in rows.members.items()
    )


def _done(plan: RotaPlan) -> dict[int, Fraction]:
    """Return the shifts of the season by person, as the plan has them."""
    rows = plan.facts.rows
    done = dict.fromkeys(rows.members, Fraction(0))
    for one in rows.season:
        is_counted = one.is_here and one.shift_id not in rows.shifts
        if is_counted and rows.season_days[0] <= one.day <= rows.sunday:
            done[one.person_id] += one.credit
    credit = {one.place_id: one.credit for one in rows.season}
    for pk in rows.shifts:
        for place in rows.places[pk]:
            holder = plan.holder(place)
            is_missed = place.state == ShiftPlace.State.MISSED
            if holder in done and not is_missed and not place.is_learner:
                done[holder] += credit.get(place.pk, Fraction(1))
        for person in plan.learners[pk]:
            if person in done:
                done[person] += 1
    return done


def _able(rows: RotaRows) -> dict[int, int]:
    """Return how many shifts each could have done since they joined."""
    begin = rows.season_days[0]
    days = {one.day for one in rows.season if one.is_here and one.day >= begin}
    days |= {shift.day for shift in rows.shifts.values()}
    able = {}
    for person, member in rows.members.items():
        weeks: dict[date, int] = defaultdict(int)
        for day in days & member.days.keys():
            if member.joined_on is None or _is_later(rows, member.joined_on, day):
                weeks[monday_of(day)] += 1
        most = NO_LIMIT if member.most_a_week is None else member.most_a_week
        number = sum(min(most, count) for count in weeks.values())
        season = NO_LIMIT if member.most_a_season is None else member.most_a_season
        able[person] = min(number, season)
    return able


def _is_later(rows: RotaRows, joined: date, day: date) -> bool:
    """Whether somebody was a member on a day; a garden with its own day knows not."""
    return rows.site.own_today is not None or joined <= day
