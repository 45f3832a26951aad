"""The ways a message goes out, by name, and sending what is due through one.

``development`` prints to the log; ``email`` needs a mail server and an address that
its owner confirmed. Without a channel the
rows stay, and the person reads them on their own page.
"""

import logging
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from allauth.account.models import EmailAddress
from django.conf import settings
from django.core.mail import EmailMultiAlternatives
from django.db.models import Q
from django.template.loader import render_to_string

from orchard.actions.messages import (
    give_up,
    lease_next,
    note_failure,
    note_sent,
    why_not_now,
)
from orchard.models import Message, Person

#: The next run takes the rest.
MOST_AT_ONCE = 200

logger = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Channel:
    """A way out: its name, whom it reaches, and how it sends."""

    name: str
    reaches: Q
    send: Callable[[Message], None]


def _print(message: Message) -> None:
    # The programs of one machine log warnings alone, and this is asked for.
    logger.warning("To %s:\n%s", message.person.username, text_of(message))


def confirmed_address(person: Person) -> str:
    """Return the address a person has shown to be theirs; empty where there is none."""
    own = EmailAddress.objects.filter(user=person, verified=True, primary=True)
    return own.values_list("email", flat=True).first() or ""


def _mail(message: Message) -> None:
    mail = EmailMultiAlternatives(
        subject=" ".join(str(message.body["title"]).split()),
        body=text_of(message),
        to=[confirmed_address(message.person)],
    )
    page = render_to_string("orchard/message_mail.html", _values(message))
    mail.attach_alternative(page, "text/html")
    mail.send()


# An address somebody only typed may be a stranger's.
HAS_CONFIRMED = Q(
    person__emailaddress__verified=True, person__emailaddress__primary=True
)
CHANNELS = {
    channel.name: channel
    for channel in (
        Channel("development", Q(), _print),
        Channel("email", HAS_CONFIRMED & Q(person__is_active=True), _mail),
    )
}


def _values(message: Message) -> dict[str, object]:
    path = message.body["path"]
    return {
        "title": message.body["title"],
        "lines": message.body["lines"],
        "why": message.why,
        "address": f"{settings.BASE_URL}{path}" if path else "",
        "settings_address": f"{settings.BASE_URL}/you/#messages",
    }


def text_of(message: Message) -> str:
    """Return a message as plain text."""
    values = _values(message)
    blocks = [values["title"], "\n".join(message.body["lines"]), values["address"]]
    blocks.append(f"{message.why}\nChoose your messages: {values['settings_address']}")
    return "\n\n".join(str(block) for block in blocks if block) + "\n"


def send_due(*, now: Callable[[], datetime], channel_name: str | None = None) -> int:
    """Send what is due; return how many went out.

    Parameters
    ----------
    now : callable
        The clock, read again and again: sending takes time.
    channel_name : str, optional
        Which channel; the server's own setting else.
    """
    name = settings.MESSAGE_CHANNEL if channel_name is None else channel_name
    channel = CHANNELS.get(name)
    if channel is None:
        return 0
    sent = 0
    for _ in range(MOST_AT_ONCE):
        message = lease_next(now=now(), reached=channel.reaches)
        if message is None:
            break
        sent += _send_one(message, channel, now)
    return sent


def _send_one(message: Message, channel: Channel, now: Callable[[], datetime]) -> bool:
    if why := why_not_now(message, now()):
        give_up(message=message, why=why)
        return False
    try:
        channel.send(message)
    except Exception as error:
        logger.warning("Message %s was not sent", message.pk, exc_info=True)
        said = f"{type(error).__name__}: {error}"
        note_failure(message=message, error=said, now=now())
        return False
    note_sent(message=message, channel=channel.name, now=now())
    return True
