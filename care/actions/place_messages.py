"""What people are told when places of shifts change hands."""

from collections.abc import Iterable
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.urls import reverse

from care.actions.place_changes import AtPlace, Settled, shift_words
from care.models import Shift
from orchard.access import May, may
from orchard.actions.messages import Told, write_message
from orchard.models import Membership, Message, Person

#: Nobody is woken for an open place; common practice, no source.
DAY_FROM, DAY_UNTIL = time(8), time(21)
DAY = timedelta(days=1)
AGREED = "You help at {orchard}."


def tell_one(
    at: AtPlace, person_id: int, what: Told, *, title: str, lines: Iterable[str]
) -> Message | None:
    """Tell one member of one change of a place, once; not after the shift began.

    Who left the orchard meanwhile is told nothing.
    """
    if person_id not in at.facts.members or at.is_over:
        return None
    place = at.place
    return write_message(
        person=Person.objects.get(pk=person_id),
        orchard=at.site.orchard,
        what=what,
        key=f"place/{place.pk}/{place.version}/{what}",
        why=AGREED.format(orchard=at.site.orchard.name),
        title=title,
        lines=list(lines),
        path=reverse("my_shifts", args=[at.site.slug]),
        due_at=at.now,
        until=_until(at),
    )


def tell_taken(at: AtPlace, *, former: int, new: int) -> None:
    """Tell who held a place that somebody took it over."""
    tell_one(
        at,
        former,
        Told.PLACE_TAKEN,
        title=f"{_name(at, new)} takes your place",
        lines=[f"{shift_words(at.facts.shift)}: it is no longer yours. Thank you."],
    )


def tell_swapped(at: AtPlace, *, former: int, new: int, instead: Shift) -> None:
    """Tell who asked for a swap what they hold from now on."""
    tell_one(
        at,
        former,
        Told.PLACE_TAKEN,
        title=f"{_name(at, new)} swaps with you",
        lines=[
            f"Yours now: {shift_words(instead)}.",
            f"Theirs now: {shift_words(at.facts.shift)}.",
        ],
    )


def tell_asked(at: AtPlace, *, by: int, to: int, for_shift: Shift | None) -> None:
    """Tell one member that somebody asks them for cover, or for a swap."""
    words = shift_words(at.facts.shift)
    name = _name(at, by)
    lines = [words, f"It stays with {name} until you say yes."]
    if for_shift is not None:
        lines.insert(1, f"In return {name} would take yours: {shift_words(for_shift)}.")
    title = f"{name} asks you {'to swap' if for_shift else 'for cover'}"
    tell_one(at, to, Told.COVER_ASKED, title=title, lines=lines)


def tell_assigned(at: AtPlace, *, person_id: int, by: Person) -> None:
    """Tell a member that somebody put them on a shift."""
    if person_id == by.pk:
        return
    tell_one(
        at,
        person_id,
        Told.SHIFT_PROPOSED,
        title=f"{by.shown_name} put you on a shift",
        lines=[shift_words(at.facts.shift), "Say there whether you can come."],
    )


def tell_settled(settled: Settled) -> None:
    """Tell learners that their place is on hold, and of places that came open."""
    at = settled.at
    for person_id in settled.on_hold:
        tell_one(
            at,
            person_id,
            Told.SHIFT_CHANGED,
            title="Your place to learn is on hold",
            lines=[
                shift_words(at.facts.shift),
                "The people you need beside you are not on it now, or there is work "
                "on it that you may not be near. Wait until it says otherwise.",
            ],
        )
    for place in settled.opened:
        tell_open(settled.of(place))


def tell_left(at: AtPlace, *, who: Person) -> None:
    """Tell those who arrange shifts that somebody cannot come; no reason is known."""
    members = Membership.objects.filter(orchard=at.site.orchard)
    for member in members.exclude(person=who):
        if may(member.role, May.ARRANGE):
            tell_one(
                at,
                member.person_id,
                Told.PLACE_LEFT,
                title=f"{who.shown_name} cannot come",
                lines=[
                    shift_words(at.facts.shift),
                    "The place is open, and whoever may take it is told.",
                ],
            )


def tell_open(at: AtPlace, *, asks: Person | None = None) -> int:
    """Tell all who may take a place that they could; return how many.

    Each hears of open places once a day at most: places that open later the same day
    join a message that waits, or wait for the next morning's.
    """
    line = shift_words(at.facts.shift)
    if asks is not None:
        line = f"{line} (cover for {asks.shown_name})"
    people = Person.objects.in_bulk(at.facts.who_may(at.place))
    if at.facts.shift.status != Shift.Status.PUBLISHED or at.is_over:
        return 0
    return sum(_gather(at, person, line) for person in people.values())


def _gather(at: AtPlace, person: Person, line: str) -> bool:
    """Add a line to one person's message of the day, or begin the next."""
    begins = at.now + at.until_begin
    today = by_day(at.now, at.site.time_zone, before=begins)
    morning = datetime.combine(today.date() + DAY, DAY_FROM, today.tzinfo)
    for due_at in (today, morning):
        if due_at >= begins:
            return False
        key = f"open/{at.site.orchard_id}/{due_at.date()}"
        message = Message.objects.filter(person=person, key=key).first()
        if message is None:
            return _begin(at, person, line, key=key, due_at=due_at)
        if line in message.body["lines"]:
            return False
        if message.sent_at is None and _join(message, line, begins):
            return True
    return False


def _until(at: AtPlace) -> datetime:
    """Return from when on it is of no use to hear of a shift: its beginning."""
    return at.now + at.until_begin


def _begin(
    at: AtPlace, person: Person, line: str, *, key: str, due_at: datetime
) -> bool:
    message = write_message(
        person=person,
        orchard=at.site.orchard,
        what=Told.PLACE_OPEN,
        key=key,
        why=AGREED.format(orchard=at.site.orchard.name),
        title="You could take a place",
        lines=[line],
        path=reverse("my_shifts", args=[at.site.slug]),
        due_at=due_at,
        until=_until(at),
    )
    return message is not None


def _join(message: Message, line: str, begins: datetime) -> bool:
    until = max(datetime.fromisoformat(message.body["until"]), begins)
    body = {
        **message.body,
        "title": "You could take one of some places",
        "lines": [*message.body["lines"], line],
        "until": until.isoformat(),
    }
    waiting = Message.objects.filter(pk=message.pk, sent_at=None, lease_until=None)
    return bool(waiting.update(body=body))


def by_day(now: datetime, zone_name: str, *, before: datetime) -> datetime:
    """Return now, or the next morning at night, local; now where that is too late."""
    local = now.astimezone(ZoneInfo(zone_name))
    if DAY_FROM <= local.time() < DAY_UNTIL:
        return local
    morning = datetime.combine(local.date(), DAY_FROM, local.tzinfo)
    if local.time() >= DAY_UNTIL:
        morning += DAY
    return morning if morning < before else local


def _name(at: AtPlace, person_id: int) -> str:
    member = at.facts.members.get(person_id)
    return member.name if member else "Somebody"
