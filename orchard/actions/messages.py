"""Messages to people: write once, take a lease, tell, keep what went wrong.

A row is written in the transaction of what it tells of; a worker sends it later. Each
is sent at least once: a worker that dies after sending and before saying so lets its
lease run out, and the next one sends again. Nothing else sends twice.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from enum import StrEnum

from django.db import transaction
from django.db.models import F, Q, QuerySet
from django.utils.translation import gettext

from orchard.languages import in_language
from orchard.models import Invite, Membership, Message, MessageChoice, Orchard, Person


class Told(StrEnum):
    """What people are told of; each can be switched off by whoever gets it."""

    INVITE_ACCEPTED = "invite_accepted"
    ROLE_CHANGED = "role_changed"
    REMOVED = "removed"
    COLD_TONIGHT = "cold_tonight"
    HEAT = "heat"
    OFFICIAL_WARNING = "official_warning"
    FORECAST_SILENT = "forecast_silent"
    SHIFT_CHANGED = "shift_changed"
    SHIFT_PROPOSED = "shift_proposed"
    SHIFT_TOMORROW = "shift_tomorrow"
    COVER_ASKED = "cover_asked"
    PLACE_TAKEN = "place_taken"
    PLACE_OPEN = "place_open"
    PLACE_LEFT = "place_left"
    TREE_TOLD_OF = "tree_told_of"


#: What cannot wait for a mail of the day, and may come in quiet hours.
URGENT = frozenset({Told.COLD_TONIGHT, Told.HEAT, Told.OFFICIAL_WARNING})
#: How long a worker has to send one message; common practice, no source.
LEASE = timedelta(minutes=5)
#: Told later than this nobody can use it; common practice, no source.
KEEPS = timedelta(days=3)
MOST_ATTEMPTS = 8
FIRST_WAIT = timedelta(minutes=1)
LONGEST_WAIT = timedelta(hours=6)
#: Several workers at once each lose a race for a few before they win one.
TRIED_AT_ONCE = 20


@transaction.atomic
def write_message(
    *,
    person: Person,
    orchard: Orchard | None,
    what: Told,
    key: str,
    why: str,
    title: str,
    lines: Sequence[str],
    due_at: datetime,
    path: str = "",
    until: datetime | None = None,
    also: Sequence[Told] = (),
    facts: Mapping[str, object] | None = None,
    is_urgent: bool = False,
    time_zone: str = "",
) -> Message | None:
    """Write a message, unless the person was told or does not want to be.

    Its words are to be written in the person's language (``in_language``).

    Parameters
    ----------
    key : str
        Says which message this is: a person gets one for each key.
    why : str
        Why this person is told, in a sentence.
    path : str, optional
        The page that shows more.
    until : datetime, optional
        From when it is of no more use; three days after it is due else.
    also : sequence of Told, optional
        What else it tells of: it is sent while the person wants any of them.
    facts : mapping, optional
        What it told, for whoever writes the next one.
    is_urgent : bool, optional
        Whether it cannot wait; cold, heat and official warnings never can.
    time_zone : str, optional
        Of the place it concerns, for quiet hours; the orchard's first place's else.

    Returns
    -------
    Message or None
        ``None`` where there was one already or the person switched the kind off.
    """
    if MessageChoice.objects.filter(person=person, what=what, is_on=False).exists():
        return None
    until = until or due_at + KEEPS
    body = {
        "title": title,
        "lines": list(lines),
        "path": path,
        "until": until.isoformat(),
        "kinds": [what, *also],
        "facts": dict(facts or {}),
    }
    message, is_new = Message.objects.get_or_create(
        person=person,
        key=key,
        defaults={
            "orchard": orchard,
            "what": what,
            "why": why,
            "body": body,
            "due_at": due_at,
            "is_urgent": is_urgent or not URGENT.isdisjoint({what, *also}),
            "time_zone": time_zone,
        },
    )
    return message if is_new else None


def tell_invite_accepted(
    *, invite: Invite, person: Person, now: datetime
) -> Message | None:
    """Tell whoever made an invite that ``person`` took it."""
    maker = invite.made_by
    if maker is None or maker.pk == person.pk:
        return None
    with in_language(maker.language):
        role = invite.get_role_display().lower()
        name, orchard = person.shown_name, invite.orchard.name
        return write_message(
            person=maker,
            orchard=invite.orchard,
            what=Told.INVITE_ACCEPTED,
            key=f"invite/{invite.pk}",
            why=gettext("You made the invite."),
            title=gettext("{person} joined {orchard}").format(
                person=name, orchard=orchard
            ),
            lines=[
                gettext("{person} took your invite and is now {role} there.").format(
                    person=name, role=role
                )
            ],
            due_at=now,
        )


def tell_role_changed(
    *, membership: Membership, by: Person, now: datetime
) -> Message | None:
    """Tell a member what they are from now on; not those who changed it themselves."""
    if membership.person_id == by.pk:
        return None
    orchard, person = membership.orchard, membership.person
    with in_language(person.language):
        role = membership.get_role_display().lower()
        return write_message(
            person=person,
            orchard=orchard,
            what=Told.ROLE_CHANGED,
            key=f"role/{membership.pk}/{now.isoformat()}",
            why=gettext("You are a member of {orchard}.").format(orchard=orchard.name),
            title=gettext("Your role in {orchard} is now {role}").format(
                orchard=orchard.name, role=role
            ),
            lines=[gettext("{person} changed it.").format(person=by.shown_name)],
            due_at=now,
        )


def tell_removed(
    *, person: Person, orchard: Orchard, by: Person, now: datetime
) -> Message | None:
    """Tell somebody that they are no longer a member; not those who left."""
    if person.pk == by.pk:
        return None
    named = {"orchard": orchard.name}
    with in_language(person.language):
        return write_message(
            person=person,
            orchard=orchard,
            what=Told.REMOVED,
            key=f"removed/{orchard.pk}/{now.isoformat()}",
            why=gettext("You were a member of {orchard}.").format(**named),
            title=gettext("You are no longer in {orchard}").format(**named),
            lines=[
                gettext("{person} ended your membership.").format(person=by.shown_name),
                gettext("Its pages and calendar links no longer open for you."),
                gettext("What you logged stays in its log."),
            ],
            due_at=now,
        )


@transaction.atomic
def choose_messages(*, person: Person, wanted: Sequence[str]) -> None:
    """Set which kinds of message ``person`` wants; the others are switched off."""
    for what in Told:
        MessageChoice.objects.update_or_create(
            person=person, what=what, defaults={"is_on": what in wanted}
        )


def wanted_by(person: Person) -> set[str]:
    """Return the kinds of message a person wants; all, until they choose."""
    off = MessageChoice.objects.filter(person=person, is_on=False)
    return {what.value for what in Told} - set(off.values_list("what", flat=True))


def messages_for(person: Person) -> QuerySet[Message]:
    """Return what a person may still read, newest first.

    Who left an orchard reads nothing more of it, but that they left.
    """
    theirs = Message.objects.filter(_may_read(), person=person)
    return theirs.select_related("orchard").order_by("-due_at", "-id").distinct()


def _may_read() -> Q:
    return (
        Q(orchard=None)
        | Q(orchard__memberships__person=F("person"))
        | Q(what=Told.REMOVED)
    )


def lease_next(*, now: datetime, reached: Q | None = None) -> Message | None:
    """Take the next due message for this worker alone, until the lease runs out.

    Parameters
    ----------
    reached : Q, optional
        Which messages the worker's channel can send; all else.
    """
    due = Message.objects.filter(
        _is_free(now), reached or Q(), due_at__lte=now
    ).order_by("due_at", "id")
    for pk in due.values_list("pk", flat=True)[:TRIED_AT_ONCE]:
        if _take(pk, now):
            return Message.objects.select_related("person", "orchard").get(pk=pk)
    return None


def lease_all(*, person: Person, due_by: datetime, now: datetime) -> list[Message]:
    """Take every message that waits for one person's mail of the day, oldest first."""
    due = Message.objects.filter(_is_let_go(now), person=person, due_at__lte=due_by)
    taken = [pk for pk in due.values_list("pk", flat=True) if _take(pk, now)]
    return list(
        Message.objects.filter(pk__in=taken).select_related("person", "orchard")
    )


def _is_let_go(now: datetime) -> Q:
    is_let_go = Q(lease_until=None) | Q(lease_until__lte=now)
    return is_let_go & Q(sent_at=None, attempts__lt=MOST_ATTEMPTS)


def _is_free(now: datetime) -> Q:
    return _is_let_go(now) & (Q(held_until=None) | Q(held_until__lte=now))


def _take(pk: int, now: datetime) -> bool:
    """Take one lease; of two workers at once the database lets one succeed."""
    changed = Message.objects.filter(_is_let_go(now), pk=pk).update(
        lease_until=now + LEASE, attempts=F("attempts") + 1
    )
    return bool(changed)


def why_not_now(message: Message, now: datetime) -> str:
    """Return why a message is better not sent any more; empty where it is."""
    if now > datetime.fromisoformat(message.body["until"]):
        return "Too late to be of use."
    kinds = message.body.get("kinds") or [message.what]
    if wanted_by(message.person).isdisjoint(kinds):
        return "Switched off meanwhile."
    if not Message.objects.filter(_may_read(), pk=message.pk).exists():
        return "No longer a member."
    return ""


def note_sent(*, message: Message, channel: str, now: datetime) -> None:
    """Note that a message went out, whoever holds its lease by now."""
    Message.objects.filter(pk=message.pk, sent_at=None).update(
        sent_at=now, channel=channel, error="", lease_until=None, held_until=None
    )


def hold(*, message: Message, until: datetime) -> None:
    """Keep a message back until a time that its reader chose; it counts as no try."""
    Message.objects.filter(
        pk=message.pk, sent_at=None, lease_until=message.lease_until
    ).update(held_until=until, lease_until=None, attempts=F("attempts") - 1)


def give_up(*, message: Message, why: str) -> None:
    """Note that a message will not be sent; it stays to be read."""
    Message.objects.filter(pk=message.pk, sent_at=None).update(
        attempts=MOST_ATTEMPTS, error=why, lease_until=None
    )


def note_failure(*, message: Message, error: str, now: datetime) -> None:
    """Keep what went wrong, and wait twice as long as the last time."""
    wait = min(FIRST_WAIT * 2 ** (message.attempts - 1), LONGEST_WAIT)
    Message.objects.filter(
        pk=message.pk, sent_at=None, lease_until=message.lease_until
    ).update(error=error[:200], lease_until=now + wait)
