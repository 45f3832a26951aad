"""Rows of shifts and offers as the terms of a rota, for any number of both.

A season is the care year of the site (:func:`care.science.season.season_of`), as it is
for everybody's limits.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction

from django.db.models import OuterRef, Q, Subquery

from care.models import HandOver, Shift, ShiftPlace, ShiftRefusal
from care.planning.offers import MemberOffers, gather_offers
from care.planning.place_facts import HELD
from care.planning.shift_work import is_hazardous, work_of
from care.scheduling.rota import Learner, Offer, Place, Shift as ShiftTerms, Wish
from care.scheduling.rota.board import Board
from care.scheduling.rota.terms import NO_LIMIT
from care.science.season import CARE_YEAR_FIRST_MONTH, season_date, season_of
from orchard.models import Site, is_hazard_skill

State = ShiftPlace.State

#: What the hand-over says of a place that a proposal filled; whatever else filled it
#: was somebody's word, and a proposal leaves it alone.
PROPOSED = "proposed"
WEEK = timedelta(days=7)
#: Newcomers begin with a share in whole quarters of a shift.
PARTS = 4


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
class RotaFacts:
    """What a rota of a span is made of; both ends of the span are included.

    ``places`` are the places by shift, of whole weeks, ``rows`` the shifts by id. Those
    outside the span or gone by are as they are. ``board`` are the terms: published and
    accepted places are locked, proposed ones kept while they can be.
    """

    site: Site
    first: date
    last: date
    today: date
    rows: Mapping[int, Shift]
    places: Mapping[int, tuple[ShiftPlace, ...]]
    members: Mapping[int, MemberOffers]
    season: tuple[SeasonShift, ...]
    hazardous: frozenset[int]
    board: tuple[ShiftTerms, ...]
    offers: tuple[Offer, ...]
    learners: tuple[Learner, ...]
    learning: Mapping[str, tuple[int, ...]]

    def is_in_span(self, shift: Shift) -> bool:
        """Whether a shift is in the span."""
        return self.first <= shift.day <= self.last

    def is_to_fill(self, shift: Shift) -> bool:
        """Whether a shift is in the span and still to come."""
        return self.is_in_span(shift) and shift.day >= self.today

    def holder(self, place: ShiftPlace) -> int | None:
        """Return who holds a place; nobody where they are no member any more."""
        is_gone = place.state in HELD and place.holder_id not in self.members
        return None if is_gone else place.holder_id


def term_id(row: Shift | ShiftPlace | int) -> str:
    """Return what a row is called in the terms; in the order of the rows' numbers."""
    number = row if isinstance(row, int) else row.pk
    return f"{number:010d}"


def season_span(site: Site, day: date) -> tuple[date, date]:
    """Return the first and the last day of the season that holds a day."""
    southern = site.latitude_deg < 0
    season = season_of(day, southern=southern)
    first, after = (
        season_date(one, CARE_YEAR_FIRST_MONTH, 1, southern=southern)
        for one in (season, season + 1)
    )
    return first, after - timedelta(days=1)


def read_rota(site: Site, first: date, last: date, today: date) -> RotaFacts:
    """Return what a rota from a first to a last day is made of.

    In nine queries however many shifts, people and weeks there are. The site's plan is
    to be fresh (:func:`care.planning.plan_site.ensure_planned`): its tasks say what may
    hurt on a shift.
    """
    monday = first - timedelta(days=first.weekday())
    sunday = last + timedelta(days=6 - last.weekday())
    begin, end = season_span(site, first)
    rows = {
        shift.pk: shift
        for shift in Shift.objects.filter(site=site, day__range=(monday, sunday))
        .exclude(status=Shift.Status.CANCELLED)
        .order_by("day", "starts_at", "id")
    }
    since, until = min(begin, monday), max(end, sunday)
    offered = gather_offers(site.orchard_id, since, sunday)
    members = {one.person_id: one for one in offered}
    season = _season(site, members, since, until)
    work = work_of(rows.values(), today)
    facts = RotaFacts(
        site=site,
        first=first,
        last=last,
        today=today,
        rows=rows,
        places=_places(rows),
        members=members,
        season=season,
        hazardous=frozenset(
            pk for pk, row in rows.items() if is_hazardous(row, work[pk])
        ),
        board=(),
        offers=(),
        learners=(),
        learning={},
    )
    return _with_terms(facts, (begin, end))


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
            Q(state__in=[*HELD, State.DONE]),
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


def _with_terms(facts: RotaFacts, season: tuple[date, date]) -> RotaFacts:
    """Return the facts with the shifts, offers and learners they amount to."""
    refused: dict[int, set[str]] = defaultdict(set)
    for refusal in ShiftRefusal.objects.filter(shift__in=list(facts.rows)):
        refused[refusal.person_id].add(term_id(refusal.shift_id))
    board = (*(_shift(facts, row) for row in facts.rows.values()), *_elsewhere(facts))
    carried = _carried(facts, season)
    days = {person: _days(facts, person) for person in facts.members}
    grown_ups, learning = [], []
    for person, member in facts.members.items():
        if member.is_learner or member.is_under_18:
            learner = _learner(member, days[person], carried[person])
            learning.append(replace(learner, refused=frozenset(refused[person])))
        else:
            offer = _offer(member, days[person], carried[person])
            grown_ups.append(replace(offer, refused=frozenset(refused[person])))
    return replace(
        facts,
        board=board,
        offers=_welcomed(facts, board, grown_ups),
        learners=tuple(learning),
        learning={
            term_id(pk): tuple(
                holder
                for place in places
                if place.is_learner and (holder := facts.holder(place)) is not None
            )
            for pk, places in facts.places.items()
        },
    )


def _shift(facts: RotaFacts, row: Shift) -> ShiftTerms:
    """Return a shift; of one that is not to be filled only what is held."""
    places = [place for place in facts.places[row.pk] if not place.is_learner]
    terms = tuple(_place(facts, row, place) for place in places)
    is_hazard = any(is_hazard_skill(place.skill) for place in places)
    return ShiftTerms(
        id=term_id(row),
        day=row.day,
        places=terms
        if facts.is_to_fill(row)
        else tuple(one for one in terms if one.holder is not None),
        is_critical=row.is_critical,
        is_hazardous=is_hazard or row.pk in facts.hazardous,
    )


def _place(facts: RotaFacts, row: Shift, place: ShiftPlace) -> Place:
    """Return a place: whoever was told of theirs, or said yes, is not moved."""
    holder = facts.holder(place)
    member = facts.members.get(holder or 0)
    if member is None or member.is_learner or member.is_under_18:
        return Place(term_id(place), place.skill)
    is_loose = (
        row.status == Shift.Status.DRAFT
        and facts.is_to_fill(row)
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


def _elsewhere(facts: RotaFacts) -> list[ShiftTerms]:
    """Return what members hold in those weeks at other sites of the orchard."""
    monday = facts.first - timedelta(days=facts.first.weekday())
    sunday = facts.last + timedelta(days=6 - facts.last.weekday())
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
        for one in facts.season
        if one.is_here
        and not one.is_learner
        and one.shift_id not in facts.rows
        and monday <= one.day <= sunday
    ]


def _carried(facts: RotaFacts, season: tuple[date, date]) -> defaultdict[int, Fraction]:
    """Return what each did this season beyond what the board counts as one each."""
    monday = facts.first - timedelta(days=facts.first.weekday())
    sunday = facts.last + timedelta(days=6 - facts.last.weekday())
    carried: defaultdict[int, Fraction] = defaultdict(Fraction)
    for one in facts.season:
        if not one.is_here:
            continue
        if monday <= one.day <= sunday:
            carried[one.person_id] += one.credit - 1
        elif season[0] <= one.day <= season[1]:
            carried[one.person_id] += one.credit
    return defaultdict(
        Fraction, {person: max(sum_, Fraction(0)) for person, sum_ in carried.items()}
    )


def _days(facts: RotaFacts, person: int) -> dict[date, Wish]:
    """Return the days of the span on which somebody offered to come and is free."""
    elsewhere = {
        one.day for one in facts.season if one.person_id == person and not one.is_here
    }
    return {
        day: Wish(wish)
        for day, wish in facts.members[person].days.items()
        if facts.first <= day <= facts.last and day not in elsewhere
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
    facts: RotaFacts, board: Sequence[ShiftTerms], offers: Sequence[Offer]
) -> tuple[Offer, ...]:
    """Return the offers; newcomers begin with the share of the others.

    Who joined after the season's first shift and has done none yet need not catch up:
    they begin with the average share times what is fair for themselves.
    """
    fair = Board(board, offers).fair_share
    here = [one for one in facts.season if one.is_here]
    first = min((one.day for one in here), default=facts.today)
    counts = Counter(one.person_id for one in here)

    def is_new(offer: Offer) -> bool:
        joined = facts.members[offer.person].joined_on
        return not counts[offer.person] and joined is not None and joined > first

    old = [offer for offer in offers if not is_new(offer)]
    if not old:
        return tuple(offers)
    shares = [offer.carried / fair[offer.person] for offer in old if offer.days]
    average = sum(shares, Fraction(0)) / max(len(shares), 1)
    return tuple(
        replace(
            offer,
            carried=Fraction(round(average * fair[offer.person] * PARTS), PARTS),
        )
        if is_new(offer)
        else offer
        for offer in offers
    )
