"""The mail of the day: at the hour a person chose, everything that waits, once.

It is sent at least once: a worker that dies after sending and before saying so lets its
lease run out, and the next one sends again. Nothing else sends twice.
"""

import logging
from collections.abc import Callable
from datetime import datetime

from django.db import transaction
from django.db.models import Exists, OuterRef, Q

from orchard.actions.message_hours import last_slot, quiet_end, zone_of
from orchard.actions.message_mail import mail_digest
from orchard.actions.message_ways import BY_MAIL, Way
from orchard.actions.messages import (
    LEASE,
    give_up,
    lease_all,
    note_failure,
    note_sent,
    why_not_now,
)
from orchard.models import Message, MessageWays

DIGEST = "digest"
logger = logging.getLogger(__name__)


def send_digests(*, now: Callable[[], datetime]) -> int:
    """Send every mail of the day whose hour has come; return how many messages went."""
    waiting = Message.objects.filter(BY_MAIL, person=OuterRef("person"), sent_at=None)
    rows = MessageWays.objects.filter(Exists(waiting), way=Way.DIGEST)
    return sum(
        _send_one(ways, now) for ways in rows.select_related("person").order_by("pk")
    )


def _send_one(ways: MessageWays, now: Callable[[], datetime]) -> int:
    zone, moment = zone_of(ways.person), now()
    slot = last_slot(moment, zone, ways.digest_at)
    if _is_late_at_night(ways, moment, slot) or not _take(ways, slot, moment):
        return 0
    useful = []
    for message in lease_all(person=ways.person, due_by=slot, now=moment):
        if why := why_not_now(message, moment):
            give_up(message=message, why=why)
        else:
            useful.append(message)
    if not useful:
        MessageWays.objects.filter(pk=ways.pk).update(digest_lease_until=None)
        return 0
    return _mail(ways, useful, now)


def _is_late_at_night(ways: MessageWays, now: datetime, slot: datetime) -> bool:
    """Whether a mail that is late would come in quiet hours which its hour is not in."""
    zone, hours = zone_of(ways.person), (ways.quiet_from, ways.quiet_until)
    return bool(quiet_end(now, zone, *hours)) and not quiet_end(slot, zone, *hours)


def _take(ways: MessageWays, slot: datetime, now: datetime) -> bool:
    """Take the lease of one day's mail, unless it went out; of two workers one does."""
    is_free = Q(digest_lease_until=None) | Q(digest_lease_until__lte=now)
    is_new = Q(digest_sent_at=None) | Q(digest_sent_at__lt=slot)
    rows = MessageWays.objects.filter(is_free, is_new, pk=ways.pk, way=Way.DIGEST)
    return bool(rows.update(digest_lease_until=now + LEASE))


def _mail(
    ways: MessageWays, messages: list[Message], now: Callable[[], datetime]
) -> int:
    try:
        mail_digest(ways.person, messages)
    except Exception as error:
        logger.warning("The mail of the day %s was not sent", ways.pk, exc_info=True)
        said = f"{type(error).__name__}: {error}"
        for message in messages:
            note_failure(message=message, error=said, now=now())
        return 0
    with transaction.atomic():
        for message in messages:
            note_sent(message=message, channel=DIGEST, now=now())
        MessageWays.objects.filter(pk=ways.pk).update(
            digest_sent_at=now(), digest_lease_until=None
        )
    return len(messages)
