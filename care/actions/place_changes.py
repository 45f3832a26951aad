"""How a place changes: under its shift's lock, once a version, with a row that tells.

Every change of a place goes through :func:`change`. Whoever changes one locks its shift
first, two shifts in the order of their ids, so that what the rules saw of the others on
it still holds when the change is written.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from enum import StrEnum

from django.db import IntegrityError, transaction
from django.db.models import F

from care.actions.shift_messages import when_words
from care.models import HandOver, Shift, ShiftPlace
from care.planning.place_facts import HELD, ShiftFacts, read_facts
from care.planning.place_rules import Stop
from care.planning.shift_times import begins_at
from orchard.actions.audit import note
from orchard.models import Membership, Person, Site
from orchard.sources.official_warnings import site_moment

State = ShiftPlace.State


class Why(StrEnum):
    """What a change of a place was; a swap that is asked for adds the other's id."""

    CLAIMED = "claimed"
    COVER_ASKED = "cover_asked"
    SWAP_ASKED = "swap"
    SWAPPED = "swapped"
    KEPT = "kept"
    SAID_NO = "said_no"
    CANNOT_COME = "cannot_come"
    CANNOT_COME_LATE = "cannot_come_late"
    ASSIGNED = "assigned"
    UNASSIGNED = "unassigned"
    GONE = "gone"
    MISSED = "missed"
    DONE = "done"
    NOT_CONFIRMED = "not_confirmed"


class Trouble(StrEnum):
    """What is wrong with what was asked of a place, whoever asks."""

    QUICKER = "quicker"
    NOT_YOURS = "not_yours"
    NOT_OFFERED = "not_offered"
    NO_SWAP = "no_swap"
    NOT_YET = "not_yet"
    ONESELF = "oneself"
    NOBODY_THERE = "nobody_there"


class PlaceError(Exception):
    """A place cannot change so; ``codes`` say why, for the page to put in words."""

    def __init__(self, *codes: Stop | Trouble) -> None:
        super().__init__(", ".join(codes))
        self.codes = codes


@dataclass(frozen=True, slots=True)
class AtPlace:
    """A place as it is behind its shift's lock, and the facts of the shift."""

    place: ShiftPlace
    facts: ShiftFacts
    site: Site
    now: datetime

    @property
    def moment(self) -> datetime:
        """Now, on the day the site takes for its own; in UTC, to be reckoned with."""
        return site_moment(self.site, self.now).astimezone(UTC)

    @property
    def until_begin(self) -> timedelta:
        """How long it is until the shift begins; negative afterwards."""
        return begins_at(self.facts.shift, self.site) - self.moment

    @property
    def is_over(self) -> bool:
        """Whether the shift has begun, so that its places change hands no more."""
        return self.until_begin <= timedelta(0)


def locked(place: ShiftPlace, by: Membership | None, now: datetime) -> AtPlace:
    """Lock a place's shift, and read both again behind the lock; within a transaction.

    Raises
    ------
    ShiftPlace.DoesNotExist
        There is no such place in the member's orchard.
    """
    site = Site.objects.select_related("orchard").get(shifts=place.shift_id)
    if by is not None and site.orchard_id != by.orchard_id:
        raise ShiftPlace.DoesNotExist
    shift = Shift.objects.select_for_update().get(pk=place.shift_id)
    shift.site = site
    facts = read_facts(site, [shift], site.today(now))[shift.pk]
    for one in facts.places:
        if one.pk == place.pk:
            return AtPlace(one, facts, site, now)
    raise ShiftPlace.DoesNotExist


def require_on(at: AtPlace) -> None:
    """Raise :class:`PlaceError` unless the shift takes place and is still to come."""
    if at.facts.shift.status != Shift.Status.PUBLISHED:
        raise PlaceError(Stop.NOT_ON)
    if at.is_over:
        raise PlaceError(Stop.OVER)


def require_holder(at: AtPlace, by: Membership) -> None:
    """Raise :class:`PlaceError` unless the member holds the place."""
    if at.place.holder_id != by.person_id or at.place.state not in HELD:
        raise PlaceError(Trouble.NOT_YOURS)


def change(
    at: AtPlace,
    *,
    state: State,
    holder_id: int | None,
    why: str,
    by: Person | None,
    busy: bool = True,
    **values: object,
) -> None:
    """Write one change of a place and the row that tells of it.

    ``busy`` is off while a place waits for the other of a swap. The place at hand then
    is as it was written.

    Raises
    ------
    PlaceError
        Somebody was quicker, or the new holder has another shift that day.
    """
    place, shift = at.place, at.facts.shift
    takes_place = shift.status != Shift.Status.CANCELLED
    is_busy = busy and holder_id is not None and takes_place
    written: dict[str, object] = {
        "state": state,
        "holder_id": holder_id,
        "busy_on": shift.day if is_busy else None,
        **values,
    }
    unchanged = ShiftPlace.objects.filter(
        pk=place.pk,
        version=place.version,
        state=place.state,
        holder=place.holder_id,
    )
    try:
        with transaction.atomic():
            is_won = unchanged.update(version=F("version") + 1, **written)
    except IntegrityError as error:
        raise PlaceError(Stop.SAME_DAY) from error
    if not is_won:
        raise PlaceError(Trouble.QUICKER)
    _tell(at, holder_id, why, by)
    for name, value in written.items():
        setattr(place, name, value)
    place.version += 1


def _tell(at: AtPlace, holder_id: int | None, why: str, by: Person | None) -> None:
    place = at.place
    HandOver.objects.create(
        place=place,
        version=place.version + 1,
        from_person_id=place.holder_id,
        to_person_id=holder_id,
        by_person=by,
        why=why,
        at=at.now,
    )
    names = [at.facts.members[one].name for one in _people(at, place, holder_id)]
    note(
        orchard=at.site.orchard,
        person=by,
        what=f"place_{why.split('/', maxsplit=1)[0]}",
        subject=f"{shift_words(at.facts.shift)}: {', '.join(names) or 'nobody'}",
        now=at.now,
    )


def shift_words(shift: Shift) -> str:
    """Return a shift as the trail and messages name it: its name, day and time."""
    return f"{shift.name}, {when_words(shift.day, shift.starts_at)}"


def _people(at: AtPlace, place: ShiftPlace, holder_id: int | None) -> Iterable[int]:
    """Return who held and who holds a place, once each, as far as they are members."""
    people = dict.fromkeys((place.holder_id, holder_id))
    return (one for one in people if one is not None and one in at.facts.members)


def open_again(at: AtPlace, *, why: Why, by: Person | None) -> None:
    """Take a place from its holder: it is open to all who may."""
    change(
        at,
        state=State.OPEN,
        holder_id=None,
        why=why,
        by=by,
        offered_to=None,
        accepted_at=None,
        on_hold=False,
        credit_percent=100,
    )


@dataclass(frozen=True, slots=True)
class Settled:
    """What the rules asked for after a change: who is on hold now, what was given up."""

    at: AtPlace
    on_hold: tuple[int, ...] = ()
    opened: tuple[ShiftPlace, ...] = ()

    def of(self, place: ShiftPlace) -> AtPlace:
        """Return a place of the shift as it is now."""
        found = next(one for one in self.at.facts.places if one.pk == place.pk)
        return replace(self.at, place=found)


def settle(at: AtPlace) -> Settled:
    """Hold the rules to what a change left on a shift.

    Counted places come first: whoever may not hold theirs any more, for they are no
    member or the rules changed for them, gives it up. Then each learner is on hold or
    not, by who is left. A shift that began stays as it is.
    """
    fresh = locked(at.place, None, at.now)
    if fresh.is_over or fresh.facts.shift.status == Shift.Status.CANCELLED:
        return Settled(fresh)
    on_hold, opened = [], []
    for place in sorted(fresh.facts.places, key=lambda place: place.is_learner):
        if place.state not in HELD or place.holder_id is None:
            continue
        is_on_hold = fresh.facts.is_on_hold(place)
        if fresh.facts.gives_up(place):
            open_again(replace(fresh, place=place), why=Why.GONE, by=None)
            opened.append(place)
        elif place.on_hold != is_on_hold:
            place.on_hold = is_on_hold
            place.save(update_fields=["on_hold"])
            on_hold += [place.holder_id] if is_on_hold else []
    return Settled(fresh, tuple(on_hold), tuple(opened))
