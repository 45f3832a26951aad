"""A rota for a span of days: who is proposed, what stays open and why, who does how much.

The method is :mod:`care.scheduling.rota`; here it meets the rows.
"""

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from care.models import Shift, ShiftPlace
from care.planning.rota_facts import RotaFacts, term_id
from care.planning.shift_shares import HelperSeason, fair_shares
from care.scheduling.rota import (
    OpenPlace,
    Rota,
    Shift as ShiftTerms,
    place_learners,
    propose_rota,
    why_open,
)

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
    """How many shifts somebody did and holds this season, and what would be fair.

    ``fair`` is ``None`` where they offered no days, or come along to learn.
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


def loads(
    plan: RotaPlan, seasons: Mapping[int, HelperSeason]
) -> tuple[PersonLoad, ...]:
    """Return how much each does of the season, with what the plan adds to it.

    ``seasons`` are of :func:`care.planning.shift_shares.helper_seasons`, which knows
    what is published; drafts of the span come on top, and raise what would be fair.
    """
    known = sum((one.fair for one in seasons.values() if one.fair), Fraction(0))
    drafts, added = _added(plan)
    members = [one.member for one in seasons.values()]
    fair = fair_shares(members, round(known) + drafts)
    return tuple(
        PersonLoad(
            person_id=person,
            name=one.member.name,
            done=one.shifts + added[person],
            fair=fair.get(person),
        )
        for person, one in seasons.items()
    )


def _added(plan: RotaPlan) -> tuple[int, Counter[int]]:
    """Return how many counted places drafts add, and how many the plan adds by person."""
    rows, drafts = plan.facts.rows, 0
    added: Counter[int] = Counter()
    for pk, shift in rows.shifts.items():
        if not rows.is_to_fill(shift):
            continue
        is_draft = shift.status == Shift.Status.DRAFT
        counted = [place for place in rows.places[pk] if not place.is_learner]
        drafts += len(counted) if is_draft else 0
        for place in counted:
            holder = plan.holder(place)
            if holder is not None and (is_draft or holder != place.holder_id):
                added[holder] += 1
        added.update(plan.learners[pk] if is_draft else ())
    return drafts, added
