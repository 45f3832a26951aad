"""Rows of shifts and offers as the terms of a rota.

Published and accepted places are locked, and so is whatever a person decided of a
draft; a place that only a proposal filled is kept while that fills as many places.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from care.models import Shift, ShiftPlace
from care.planning.offers import MemberOffers
from care.planning.rota_rows import RotaRows, is_proposed, read_rows
from care.scheduling.rota import Learner, Offer, Place, Shift as ShiftTerms, Wish
from care.scheduling.rota.board import Board
from care.scheduling.rota.terms import NO_LIMIT
from orchard.models import Site, is_hazard_skill

#: Newcomers begin with a share in whole quarters of a shift.
PARTS = 4


@dataclass(frozen=True, slots=True)
class RotaFacts:
    """What a rota is made of; ``learning`` are the learners on shifts by their terms."""

    rows: RotaRows
    board: tuple[ShiftTerms, ...]
    offers: tuple[Offer, ...]
    learners: tuple[Learner, ...]
    learning: Mapping[str, tuple[int, ...]]


def term_id(row: Shift | ShiftPlace | int) -> str:
    """Return what a row is called in the terms; in the order of the rows' numbers."""
    number = row if isinstance(row, int) else row.pk
    return f"{number:010d}"


def read_rota(site: Site, first: date, last: date, today: date) -> RotaFacts:
    """Return what a rota from a first to a last day is made of, in nine queries.

    As :func:`care.planning.rota_rows.read_rows` reads it.
    """
    return facts_of(read_rows(site, first, last, today))


def facts_of(rows: RotaRows) -> RotaFacts:
    """Return what rows amount to as terms."""
    board = (*(_shift(rows, one) for one in rows.shifts.values()), *_elsewhere(rows))
    carried = _carried(rows)
    days = _days(rows)
    refused: dict[int, set[str]] = defaultdict(set)
    for shift, people in rows.refused.items():
        for person in people:
            refused[person].add(term_id(shift))
    grown_ups, learning = [], []
    for person, member in rows.members.items():
        said_no = frozenset(refused[person])
        if member.is_learner or member.is_under_18:
            learner = _learner(member, days[person], carried[person])
            learning.append(replace(learner, refused=said_no))
        else:
            offer = _offer(member, days[person], carried[person])
            grown_ups.append(replace(offer, refused=said_no))
    return RotaFacts(
        rows=rows,
        board=board,
        offers=_welcomed(rows, board, grown_ups),
        learners=tuple(learning),
        learning={term_id(pk): _learning(rows, pk) for pk in rows.shifts},
    )


def _learning(rows: RotaRows, shift: int) -> tuple[int, ...]:
    holders = (rows.holder(p) for p in rows.places[shift] if p.is_learner)
    return tuple(person for person in holders if person is not None)


def _shift(rows: RotaRows, shift: Shift) -> ShiftTerms:
    """Return a shift; of one that is not to be filled only what is held."""
    places = [place for place in rows.places[shift.pk] if not place.is_learner]
    terms = tuple(_place(rows, shift, place) for place in places)
    is_hazard = any(is_hazard_skill(place.skill) for place in places)
    return ShiftTerms(
        id=term_id(shift),
        day=shift.day,
        places=terms
        if rows.is_to_fill(shift)
        else tuple(one for one in terms if one.holder is not None),
        is_critical=shift.is_critical,
        is_hazardous=is_hazard or shift.pk in rows.hazardous,
    )


def _place(rows: RotaRows, shift: Shift, place: ShiftPlace) -> Place:
    """Return a place: whoever was told of theirs, or said yes, is not moved."""
    holder = rows.holder(place)
    if holder is None or place.state == ShiftPlace.State.MISSED:
        return Place(term_id(place), place.skill)
    is_loose = (
        shift.status == Shift.Status.DRAFT
        and rows.is_to_fill(shift)
        and place.accepted_at is None
        and is_proposed(place)
    )
    return Place(
        term_id(place),
        place.skill,
        holder,
        is_published=True,
        is_locked=not is_loose,
    )


def _elsewhere(rows: RotaRows) -> list[ShiftTerms]:
    """Return what members hold in those weeks at other sites of the orchard."""
    return [
        ShiftTerms(
            id=f"held-{term_id(one.place_id)}",
            day=one.day,
            places=(
                Place(
                    term_id(one.place_id),
                    holder=one.person_id,
                    is_published=True,
                    is_locked=True,
                ),
            ),
        )
        for one in rows.season
        if one.is_here
        and not one.is_learner
        and one.shift_id not in rows.shifts
        and rows.monday <= one.day <= rows.sunday
    ]


def _carried(rows: RotaRows) -> defaultdict[int, Fraction]:
    """Return what each did this season beyond what the board counts as one each."""
    carried: defaultdict[int, Fraction] = defaultdict(Fraction)
    for one in rows.season:
        if not one.is_here:
            continue
        if rows.monday <= one.day <= rows.sunday:
            carried[one.person_id] += one.credit - 1
        elif rows.season_days[0] <= one.day <= rows.season_days[1]:
            carried[one.person_id] += one.credit
    return defaultdict(
        Fraction, {person: max(sum_, Fraction(0)) for person, sum_ in carried.items()}
    )


def _days(rows: RotaRows) -> dict[int, dict[date, Wish]]:
    """Return the days of the span on which each offered to come and is free."""
    elsewhere = {(one.person_id, one.day) for one in rows.season if not one.is_here}
    return {
        person: {
            day: Wish(wish)
            for day, wish in member.days.items()
            if rows.first <= day <= rows.last and (person, day) not in elsewhere
        }
        for person, member in rows.members.items()
    }


def _offer(member: MemberOffers, days: Mapping[date, Wish], carried: Fraction) -> Offer:
    return Offer(
        person=member.person_id,
        days=days,
        skills=member.skills,
        most_a_week=_limit(member.most_a_week),
        most_a_season=_limit(member.most_a_season),
        carried=carried,
    )


def _learner(
    member: MemberOffers, days: Mapping[date, Wish], carried: Fraction
) -> Learner:
    return Learner(
        person=member.person_id,
        days=frozenset(days),
        mentors=member.mentors,
        is_under_18=member.is_under_18,
        most_a_week=1 if member.most_a_week is None else member.most_a_week,
        most_a_season=_limit(member.most_a_season),
        carried=int(carried),
    )


def _limit(number: int | None) -> int:
    return NO_LIMIT if number is None else number


def _welcomed(
    rows: RotaRows, board: Sequence[ShiftTerms], offers: Sequence[Offer]
) -> tuple[Offer, ...]:
    """Return the offers; who joined amid the season need not catch up.

    They begin with the share that those there from its start had by then on average,
    times what is fair for themselves.
    """
    here = [one for one in rows.season if one.is_here]
    first = min((one.day for one in here), default=rows.today)
    joined = {o.person: rows.members[o.person].joined_on or first for o in offers}
    fair = Board(board, offers).fair_share
    old = [o.person for o in offers if joined[o.person] <= first and o.days]

    def begun_with(person: int) -> Fraction:
        shares: dict[int, Fraction] = defaultdict(Fraction)
        for one in here:
            if one.day < joined[person]:
                shares[one.person_id] += one.credit / fair.get(one.person_id, 1)
        average = sum((shares[each] for each in old), Fraction(0)) / len(old)
        return Fraction(round(average * fair[person] * PARTS), PARTS)

    return tuple(
        replace(offer, begun_with=begun_with(offer.person))
        if old and joined[offer.person] > first
        else offer
        for offer in offers
    )
