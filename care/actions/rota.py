"""The rota: proposed into drafts, cleared again, published, and told.

A proposal writes into drafts alone, and moves nobody whom a person put on a place or
who said yes. Whoever writes locks the drafts of the span first, in the order of their
ids; the rules for places are asked behind the locks.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from django.db import IntegrityError, transaction
from django.db.models import F, Q

from care.actions.place_changes import AtPlace, settle
from care.models import HandOver, Shift, ShiftPlace
from care.planning.place_facts import ShiftFacts, read_facts, unsettled
from care.planning.place_rules import Stop
from care.planning.rota_facts import read_rota
from care.planning.rota_plan import RotaPlan, proposed
from care.planning.rota_rows import PROPOSED, is_proposed, read_rows
from orchard.actions.audit import note
from orchard.actions.places import raise_revision
from orchard.models import Person, Site

State = ShiftPlace.State
CLEARED = "cleared"
AT_ONCE = 100


@dataclass(frozen=True, slots=True)
class Span:
    """Which days of which site, who writes, and when."""

    site: Site
    first: date
    last: date
    by: Person
    now: datetime

    @property
    def today(self) -> date:
        """The site's own day."""
        return self.site.today(self.now)


@dataclass(frozen=True, slots=True)
class Proposed:
    """How many places a proposal filled, opened and gave to learners."""

    filled: int
    opened: int
    learners: int


def locked_drafts(span: Span) -> list[Shift]:
    """Return the drafts of a span still to come, locked until the transaction ends."""
    rows = Shift.objects.select_for_update().filter(
        site=span.site,
        status=Shift.Status.DRAFT,
        day__range=(max(span.first, span.today), span.last),
    )
    return list(rows.order_by("id"))


def settle_drafts(drafts: Iterable[Shift], span: Span) -> None:
    """Hold the rules to drafts; nobody is told of what they never knew.

    A learner's place without a learner goes: whoever comes along later gets their own.
    So does one that only a proposal gave, where the learner may not come as it stands.
    """
    drafts = list(drafts)
    for facts in read_facts(span.site, drafts, span.today).values():
        if unsettled(facts):
            settle(AtPlace(facts.places[0], facts, span.site, span.now))
    learning = ShiftPlace.objects.filter(shift__in=drafts, is_learner=True)
    in_vain = HandOver.objects.filter(
        place__in=learning.filter(on_hold=True),
        version=F("place__version"),
        why=PROPOSED,
    )
    learning.filter(Q(state=State.OPEN) | Q(pk__in=in_vain.values("place"))).delete()


@transaction.atomic
def propose(span: Span) -> Proposed:
    """Propose who holds the open places of a span's drafts, and write it there.

    The site's plan is to be fresh, as :func:`care.planning.rota_rows.read_rows` says.
    """
    drafts = locked_drafts(span)
    settle_drafts(drafts, span)
    plan = proposed(read_rota(span.site, span.first, span.last, span.today))
    rules = read_facts(span.site, drafts, span.today)
    places = {place.pk: place for one in rules.values() for place in one.places}
    wanted = {
        pk: person if person and _may(rules, places[pk], person) else None
        for pk, person in plan.changes().items()
        if pk in places
    }
    moved = [places[pk] for pk in wanted if places[pk].holder_id is not None]
    _open(moved, PROPOSED, span)
    filled = _hold(
        [(places[pk], person) for pk, person in wanted.items() if person], span
    )
    learners = _add_learners(plan, drafts, span)
    done = Proposed(filled, sum(not person for person in wanted.values()), learners)
    if done != Proposed(0, 0, 0):
        _told(span, "rota_proposed", after={"people": filled + learners})
    return done


def _may(rules: Mapping[int, ShiftFacts], place: ShiftPlace, person: int) -> bool:
    """Whether no rule stops somebody; that nobody comes twice a day is the plan's care.

    The database has the last word on it.
    """
    return set(rules[place.shift_id].stops(place, person)) <= {Stop.SAME_DAY}


def _open(places: Iterable[ShiftPlace], why: str, span: Span) -> None:
    """Take places from their holders."""
    places = list(places)
    HandOver.objects.bulk_create(
        HandOver(
            place=place,
            version=place.version + 1,
            from_person_id=place.holder_id,
            by_person=span.by,
            why=why,
            at=span.now,
        )
        for place in places
    )
    ShiftPlace.objects.filter(pk__in=[place.pk for place in places]).update(
        state=State.OPEN,
        holder=None,
        offered_to=None,
        accepted_at=None,
        busy_on=None,
        on_hold=False,
        credit_percent=100,
        version=F("version") + 1,
    )
    for place in places:
        place.version += 1


def _hold(wanted: Iterable[tuple[ShiftPlace, int]], span: Span) -> int:
    """Give open places to people; who took another shift that day meanwhile is left."""
    wanted = list(wanted)
    for place, person in wanted:
        place.state, place.holder_id = State.HELD, person
        place.busy_on = place.shift.day
        place.version += 1
    try:
        with transaction.atomic():
            _write(wanted, span)
    except IntegrityError:
        return sum(_hold_one(place, person, span) for place, person in wanted)
    return len(wanted)


def _hold_one(place: ShiftPlace, person: int, span: Span) -> bool:
    try:
        with transaction.atomic():
            _write([(place, person)], span)
    except IntegrityError:
        return False
    return True


def _write(wanted: Iterable[tuple[ShiftPlace, int]], span: Span) -> None:
    wanted = list(wanted)
    ShiftPlace.objects.bulk_update(
        [place for place, _person in wanted],
        ["state", "holder", "busy_on", "version"],
        batch_size=AT_ONCE,
    )
    HandOver.objects.bulk_create(
        HandOver(
            place=place,
            version=place.version,
            to_person_id=person,
            by_person=span.by,
            why=PROPOSED,
            at=span.now,
        )
        for place, person in wanted
    )


def _add_learners(plan: RotaPlan, drafts: Iterable[Shift], span: Span) -> int:
    """Add a place for each learner who comes along, as the rules allow now."""
    drafts = list(drafts)
    rules = read_facts(span.site, drafts, span.today)
    added = 0
    for shift in drafts:
        places = rules[shift.pk].places
        here = {place.holder_id for place in places}
        number = max((place.number for place in places), default=0)
        for person in plan.learners.get(shift.pk, ()):
            number += 1
            place = ShiftPlace(shift=shift, number=number, is_learner=True)
            is_new = person not in here and not rules[shift.pk].stops(place, person)
            added += is_new and _add_learner(place, person, span)
    return added


def _add_learner(place: ShiftPlace, person: int, span: Span) -> bool:
    place.state, place.holder_id = State.HELD, person
    place.busy_on, place.version = place.shift.day, 1
    try:
        with transaction.atomic():
            place.save()
    except IntegrityError:
        return False
    HandOver.objects.create(
        place=place,
        version=1,
        to_person_id=person,
        by_person=span.by,
        why=PROPOSED,
        at=span.now,
    )
    return True


@transaction.atomic
def clear_proposal(span: Span) -> int:
    """Open what only a proposal filled in a span's drafts; return how many places."""
    drafts = {shift.pk for shift in locked_drafts(span)}
    rows = read_rows(span.site, span.first, span.last, span.today)
    cleared = [
        place
        for pk, places in rows.places.items()
        for place in places
        if pk in drafts and place.state == State.HELD and is_proposed(place)
        if place.accepted_at is None
    ]
    learning = [place.pk for place in cleared if place.is_learner]
    ShiftPlace.objects.filter(pk__in=learning).delete()
    _open([place for place in cleared if not place.is_learner], CLEARED, span)
    if cleared:
        _told(span, "rota_cleared", before={"people": len(cleared)})
    return len(cleared)


def _told(
    span: Span,
    what: str,
    *,
    before: Mapping[str, object] | None = None,
    after: Mapping[str, object] | None = None,
) -> None:
    raise_revision(span.site)
    note(
        orchard=span.site.orchard,
        person=span.by,
        what=what,
        subject=f"{span.site.name}, {span.first} to {span.last}",
        before=before,
        after=after,
        now=span.now,
    )
