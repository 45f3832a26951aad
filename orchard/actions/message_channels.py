"""The ways a message goes out, by name, and sending what is due through them.

``development`` prints to the log; ``email`` needs a mail server and an address that its
owner confirmed; ``push`` needs a device that its owner added, and nothing of the host.
Without any the rows stay, and the person reads them on their own page.
"""

import logging
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.db.models import Q

from orchard.actions.message_digest import send_digests
from orchard.actions.message_mail import confirmed_address, mail_message, text_of
from orchard.actions.message_ways import (
    BY_MAIL,
    BY_PUSH,
    BY_PUSH_ALONE,
    EMAIL,
    PUSH,
    held_until,
    roads_of,
    ways_of,
)
from orchard.actions.messages import (
    give_up,
    hold,
    lease_next,
    note_failure,
    note_sent,
    why_not_now,
)
from orchard.actions.push_messages import push_message
from orchard.models import Message

#: The next run takes the rest.
MOST_AT_ONCE = 200
DEVELOPMENT = "development"

logger = logging.getLogger(__name__)
Clock = Callable[[], datetime]


@dataclass(frozen=True, slots=True)
class Channel:
    """A way out: its name, and how it sends."""

    name: str
    send: Callable[[Message, datetime], None]


def _print(message: Message, now: datetime) -> None:
    del now
    # The programs of one machine log warnings alone, and this is asked for.
    logger.warning("To %s:\n%s", message.person.username, text_of(message))


CHANNELS = {
    channel.name: channel
    for channel in (
        Channel(DEVELOPMENT, _print),
        Channel(EMAIL, mail_message),
        Channel(PUSH, push_message),
    )
}


def _reached(name: str) -> Q:
    """Return which messages a server of that setting can send."""
    if name == DEVELOPMENT:
        return Q()
    return BY_MAIL | BY_PUSH if name == EMAIL else BY_PUSH_ALONE


def send_due(*, now: Clock, channel_name: str | None = None) -> int:
    """Send what is due; return how many went out.

    Parameters
    ----------
    now : callable
        The clock, read again and again: sending takes time.
    channel_name : str, optional
        ``development`` prints all, ``email`` has mail beside devices, anything else
        has devices alone; the server's own setting else.
    """
    name = settings.MESSAGE_CHANNEL if channel_name is None else channel_name
    sent = send_digests(now=now) if name == EMAIL else 0
    reached = _reached(name)
    for _ in range(MOST_AT_ONCE):
        message = lease_next(now=now(), reached=reached)
        if message is None:
            break
        sent += _send_one(message, name, now)
    return sent


def _send_one(message: Message, name: str, now: Clock) -> bool:
    if why := why_not_now(message, now()):
        give_up(message=message, why=why)
        return False
    if name == DEVELOPMENT:
        return _send(message, [DEVELOPMENT], now)
    ways, has_mail = ways_of(message.person), name == EMAIL
    has_address = bool(confirmed_address(message.person))
    # No mail of the day goes to somebody without an address: nothing waits for it.
    gets_mail = has_mail and has_address
    if until := held_until(message, ways, now(), has_mail=gets_mail):
        hold(message=message, until=until)
        return False
    roads = roads_of(ways, has_mail=has_mail, has_address=has_address)
    return _send(message, roads, now)


def _send(message: Message, roads: Iterable[str], now: Clock) -> bool:
    """Send by the first road that takes it; it goes by no other."""
    errors = []
    for road in roads:
        try:
            CHANNELS[road].send(message, now())
        except Exception as error:
            logger.warning(
                "Message %s was not sent by %s", message.pk, road, exc_info=True
            )
            errors.append(f"{type(error).__name__}: {error}")
        else:
            note_sent(message=message, channel=road, now=now())
            return True
    note_failure(message=message, error="; ".join(errors), now=now())
    return False
