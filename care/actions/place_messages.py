"""What people are told when places of shifts change hands."""

from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.urls import reverse
from django.utils.translation import gettext, gettext_noop

from care.actions.place_changes import AtPlace, Settled, shift_words
from care.actions.shift_messages import SOON, Words
from care.models import Shift
from orchard.access import May, may
from orchard.actions.messages import Told, write_message
from orchard.languages import in_language
from orchard.models import Membership, Message, Person

#: Nobody is woken for an open place; common practice, no source.
DAY_FROM, DAY_UNTIL = time(8), time(21)
DAY = timedelta(days=1)
#: What nobody may learn of too late where the shift begins soon.
CHANGES = (Told.SHIFT_CHANGED, Told.SHIFT_PROPOSED, Told.PLACE_TAKEN, Told.PLACE_LEFT)
AGREED = gettext_noop("You help at {orchard}.")


def tell_one(at: AtPlace, person_id: int, what: Told, words: Words) -> Message | None:
    """Tell one member of one change of a place, once; not after the shift began.

    ``words`` writes it in their own language. Who left the orchard meanwhile is told nothing.
    """
    if person_id not in at.facts.members or at.is_over:
        return None
    place, person = at.place, Person.objects.get(pk=person_id)
    is_soon = what in CHANGES and at.until_begin <= SOON
    with in_language(person.language):
        title, lines = words()
        return write_message(
            person=person,
            orchard=at.site.orchard,
            what=what,
            key=f"place/{place.pk}/{place.version}/{what}",
            why=gettext(AGREED).format(orchard=at.site.orchard.name),
            title=title,
            lines=lines,
            is_urgent=is_soon,
            time_zone=at.site.time_zone,
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
        lambda: (
            gettext("{person} takes your place").format(person=_name(at, new)),
            [
                gettext("{shift}: it is no longer yours. Thank you.").format(
                    shift=shift_words(at.facts.shift)
                )
            ],
        ),
    )


def tell_swapped(at: AtPlace, *, former: int, new: int, instead: Shift) -> None:
    """Tell who asked for a swap what they hold from now on."""
    tell_one(
        at,
        former,
        Told.PLACE_TAKEN,
        lambda: (
            gettext("{person} swaps with you").format(person=_name(at, new)),
            [
                gettext("Yours now: {shift}.").format(shift=shift_words(instead)),
                gettext("Theirs now: {shift}.").format(
                    shift=shift_words(at.facts.shift)
                ),
            ],
        ),
    )


def tell_asked(at: AtPlace, *, by: int, to: int, for_shift: Shift | None) -> None:
    """Tell one member that somebody asks them for cover, or for a swap."""
    tell_one(at, to, Told.COVER_ASKED, lambda: _asked_words(at, by, for_shift))


def _asked_words(
    at: AtPlace, by: int, for_shift: Shift | None
) -> tuple[str, list[str]]:
    name = _name(at, by)
    stays = gettext("It stays with {person} until you say yes.").format(person=name)
    words = shift_words(at.facts.shift)
    if for_shift is None:
        title = gettext("{person} asks you for cover").format(person=name)
        return title, [words, stays]
    instead = gettext("In return {person} would take yours: {shift}.").format(
        person=name, shift=shift_words(for_shift)
    )
    title = gettext("{person} asks you to swap").format(person=name)
    return title, [words, instead, stays]


def tell_assigned(at: AtPlace, *, person_id: int, by: Person) -> None:
    """Tell a member that somebody put them on a shift."""
    if person_id == by.pk:
        return
    tell_one(
        at,
        person_id,
        Told.SHIFT_PROPOSED,
        lambda: (
            gettext("{person} put you on a shift").format(person=by.shown_name),
            [shift_words(at.facts.shift), gettext("Say there whether you can come.")],
        ),
    )


def tell_settled(settled: Settled) -> None:
    """Tell learners that their place is on hold, and of places that came open."""
    at = settled.at
    for person_id in settled.on_hold:
        tell_one(
            at,
            person_id,
            Told.SHIFT_CHANGED,
            lambda: (
                gettext("Your place to learn is on hold"),
                [
                    shift_words(at.facts.shift),
                    gettext(
                        "The people you need beside you are not on it now, or there "
                        "is work on it that you may not be near. Wait until it says "
                        "otherwise."
                    ),
                ],
            ),
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
                lambda: (
                    gettext("{person} cannot come").format(person=who.shown_name),
                    [
                        shift_words(at.facts.shift),
                        gettext("The place is open, and whoever may take it is told."),
                    ],
                ),
            )


def tell_open(at: AtPlace, *, asks: Person | None = None) -> int:
    """Tell all who may take a place that they could; return how many.

    Each hears of open places once a day at most: places that open later the same day
    join a message that waits, or wait for the next morning's.
    """
    people = Person.objects.in_bulk(at.facts.who_may(at.place))
    if at.facts.shift.status != Shift.Status.PUBLISHED or at.is_over:
        return 0
    told = 0
    for person in people.values():
        with in_language(person.language):
            told += _gather(at, person, _open_line(at, asks))
    return told


def _open_line(at: AtPlace, asks: Person | None) -> str:
    line = shift_words(at.facts.shift)
    if asks is None:
        return line
    return gettext("{shift} (cover for {person})").format(
        shift=line, person=asks.shown_name
    )


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
        why=gettext(AGREED).format(orchard=at.site.orchard.name),
        title=gettext("You could take a place"),
        lines=[line],
        time_zone=at.site.time_zone,
        path=reverse("my_shifts", args=[at.site.slug]),
        due_at=due_at,
        until=_until(at),
    )
    return message is not None


def _join(message: Message, line: str, begins: datetime) -> bool:
    until = max(datetime.fromisoformat(message.body["until"]), begins)
    body = {
        **message.body,
        "title": gettext("You could take one of some places"),
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
    return member.name if member else gettext("Somebody")
