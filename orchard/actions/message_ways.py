"""By which way messages reach a person, and until when each is held back.

One message goes out by one way. To devices it goes first where somebody has one and
chose so; mail takes its place where no device takes it. What is urgent does not wait
for the mail of the day, nor does what would come too late with it.
"""

from datetime import datetime, time

from allauth.account.models import EmailAddress
from django.db import transaction
from django.db.models import Exists, OuterRef, Q

from orchard.actions.message_hours import (
    next_slot,
    quiet_end,
    zone_of,
    zone_of_message,
)
from orchard.models import Message, MessageWays, Person, PushSubscription

Way = MessageWays.Way
EMAIL, PUSH = "email", "push"

# An address somebody only typed may be a stranger's.
HAS_CONFIRMED = Q(
    Exists(
        EmailAddress.objects.filter(
            user=OuterRef("person"), verified=True, primary=True
        )
    )
)
HAS_DEVICE = Q(
    Exists(PushSubscription.objects.filter(person=OuterRef("person"), is_off=False))
)
IS_ACTIVE = Q(person__is_active=True)
WANTS_NONE = Q(person__message_ways__way=Way.NONE)
#: Of messages, whom mail may reach; of devices, who chose them or has nothing else.
BY_MAIL = (
    HAS_CONFIRMED
    & IS_ACTIVE
    & ~WANTS_NONE
    & ~Q(person__message_ways__is_mail_stopped=True)
)
BY_PUSH = (
    HAS_DEVICE
    & IS_ACTIVE
    & (
        Q(person__message_ways__way__in=[Way.PUSH, Way.DIGEST])
        | Q(person__message_ways__is_mail_stopped=True)
    )
    & ~WANTS_NONE
)
BY_PUSH_ALONE = HAS_DEVICE & IS_ACTIVE & ~WANTS_NONE


def ways_of(person: Person) -> MessageWays:
    """Return what a person chose, or what holds until they choose."""
    found = MessageWays.objects.filter(person=person).first()
    return found or MessageWays(person=person)


def way_of(ways: MessageWays, *, has_mail: bool) -> Way:
    """Return by which way messages come: devices, where no mail goes out."""
    way = Way(ways.way)
    if way in (Way.MAIL, Way.DIGEST) and (ways.is_mail_stopped or not has_mail):
        return Way.PUSH
    return way


def roads_of(
    ways: MessageWays, *, has_mail: bool, has_address: bool
) -> tuple[str, ...]:
    """Return the channels to try for one message, in their order."""
    way = way_of(ways, has_mail=has_mail)
    may_mail = has_mail and has_address and not ways.is_mail_stopped
    mail = (EMAIL,) if may_mail else ()
    if way == Way.NONE:
        return ()
    return mail if way == Way.MAIL else (PUSH, *mail)


def held_until(
    message: Message, ways: MessageWays, now: datetime, *, has_mail: bool
) -> datetime | None:
    """Return until when a message waits; ``None`` where it goes out now."""
    useful_until = datetime.fromisoformat(message.body["until"])
    is_digest = way_of(ways, has_mail=has_mail) == Way.DIGEST
    if is_digest and not message.is_urgent:
        slot = next_slot(now, zone_of(message.person), ways.digest_at)
        if slot < useful_until:
            return slot
    hours = ways.quiet_from, ways.quiet_until
    over = quiet_end(now, zone_of_message(message), *hours)
    if over is None:
        return None
    passes = message.is_urgent and ways.urgent_in_quiet and useful_until <= over
    return None if passes else over


@transaction.atomic
def choose_ways(
    *,
    person: Person,
    way: str,
    digest_at: time,
    quiet_from: time | None,
    quiet_until: time | None,
    urgent_in_quiet: bool,
) -> None:
    """Set by which way messages come, and when not; what waits is looked at anew.

    Who chooses mail again has it again, however it was stopped.
    """
    values = {
        "way": way,
        "digest_at": digest_at,
        "quiet_from": quiet_from,
        "quiet_until": quiet_until,
        "urgent_in_quiet": urgent_in_quiet,
    }
    if way in (Way.MAIL, Way.DIGEST):
        values["is_mail_stopped"] = False
    MessageWays.objects.update_or_create(person=person, defaults=values)
    _look_again(person)


@transaction.atomic
def choose_devices(*, person: Person) -> None:
    """Send messages to a person's devices from now on, and keep a mail of the day."""
    ways, _ = MessageWays.objects.get_or_create(person=person)
    if ways.way != Way.DIGEST:
        MessageWays.objects.filter(pk=ways.pk).update(way=Way.PUSH)
    _look_again(person)


@transaction.atomic
def stop_mails(*, person: Person, is_stopped: bool = True) -> None:
    """Send a person no more mail of messages, or again as before."""
    MessageWays.objects.update_or_create(
        person=person, defaults={"is_mail_stopped": is_stopped}
    )
    _look_again(person)


def _look_again(person: Person) -> None:
    Message.objects.filter(person=person, sent_at=None).update(held_until=None)
