"""What a device shows of a message, and handing it to all devices of its reader.

A device lies on a table: only weather is told there, which concerns nobody. Whatever
else happened is said without names, and read on the page behind it.
"""

import logging
from datetime import datetime, timedelta
from hashlib import sha256

from django.utils.translation import gettext, gettext_noop

from orchard.actions.messages import URGENT, Told
from orchard.actions.push import DeviceGoneError, Notice, PushError, push
from orchard.actions.push_devices import (
    devices_of,
    note_refused,
    note_taken,
    remove_device,
)
from orchard.languages import in_language
from orchard.models import Message, Person

logger = logging.getLogger(__name__)

#: RFC 8030, section 5.4, allows 32 letters of base64url.
TOPIC_LETTERS = 32
WEATHER_LINES = 2
SHOWN_AS = {
    Told.FORECAST_SILENT: gettext_noop("No forecast comes any more"),
    Told.SHIFT_CHANGED: gettext_noop("A shift of yours changes"),
    Told.SHIFT_PROPOSED: gettext_noop("You are on a new shift"),
    Told.SHIFT_TOMORROW: gettext_noop("You have a shift tomorrow"),
    Told.COVER_ASKED: gettext_noop("Somebody asks you for cover"),
    Told.PLACE_TAKEN: gettext_noop("News of your place in a shift"),
    Told.PLACE_OPEN: gettext_noop("You could take a place"),
    Told.PLACE_LEFT: gettext_noop("Somebody cannot come to a shift"),
    Told.TREE_TOLD_OF: gettext_noop("Somebody tells of a tree"),
    Told.INVITE_ACCEPTED: gettext_noop("Somebody took your invite"),
    Told.ROLE_CHANGED: gettext_noop("Your role was changed"),
    Told.REMOVED: gettext_noop("Your membership was ended"),
}
NO_DEVICE = "No device takes messages."


class NoDeviceError(PushError):
    """No device of the person took a message, and none will."""


def notice_of(message: Message, now: datetime) -> Notice:
    """Return what a device shows of a message, in its reader's language."""
    useful_until = datetime.fromisoformat(message.body["until"])
    with in_language(message.person.language):
        title, body = _words(message)
    return Notice(
        title=title,
        body=body,
        path=message.body["path"] or "/you/#messages",
        topic=sha256(message.key.encode()).hexdigest()[:TOPIC_LETTERS],
        is_urgent=message.is_urgent,
        life=useful_until - now,
    )


def _words(message: Message) -> tuple[str, str]:
    if message.what in URGENT:
        lines = message.body["lines"][:WEATHER_LINES]
        return str(message.body["title"]), " ".join(lines)
    where = message.orchard.name if message.orchard else ""
    read = gettext("Tap to read it.")
    return gettext(SHOWN_AS[Told(message.what)]), f"{where}: {read}" if where else read


def push_message(message: Message, now: datetime) -> None:
    """Hand a message to every device of its reader; one that takes it is enough.

    Raises
    ------
    NoDeviceError
        There is none any more.
    PushError
        None took it; one may later.
    """
    push_to_devices(person=message.person, notice=notice_of(message, now), now=now)


def push_to_devices(*, person: Person, notice: Notice, now: datetime) -> int:
    """Hand a notice to every device of a person; return how many took it.

    A device whose push service knows it no more is removed.

    Raises
    ------
    NoDeviceError
        There is none any more.
    PushError
        None took it; one may later.
    """
    taken, refused = 0, ""
    for device in devices_of(person).filter(is_off=False):
        try:
            push(device=device, notice=notice, now=now)
        except DeviceGoneError:
            remove_device(device=device)
        except PushError as error:
            logger.warning("Device %s took nothing: %s", device.pk, error)
            refused = str(error)
            note_refused(device=device, error=refused, now=now)
        else:
            note_taken(device=device, now=now)
            taken += 1
    if not taken:
        raise PushError(refused) if refused else NoDeviceError(NO_DEVICE)
    return taken


def trial_notice(now: datetime) -> Notice:
    """Return what a test shows, in the language that is active."""
    return Notice(
        title=gettext("A test"),
        body=gettext("Messages about your trees reach this device."),
        path="/you/#messages",
        topic=f"test-{int(now.timestamp())}",
        is_urgent=True,
        life=timedelta(minutes=10),
    )
