"""A person's messages: what they were told, and what they want to be told."""

from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_POST

from orchard.actions.message_mail import confirmed_address
from orchard.actions.message_ways import EMAIL, Way, choose_ways, way_of, ways_of
from orchard.actions.messages import (
    MOST_ATTEMPTS,
    choose_messages,
    messages_for,
    wanted_by,
)
from orchard.actions.push_devices import devices_of
from orchard.forms.messages import MessageChoiceForm, MessageWaysForm
from orchard.languages import clock
from orchard.models import Message, MessageWays, Person

SHOWN = 20
HOUR = "%H:%M"
SENT = {
    "email": gettext_noop("sent by email"),
    "digest": gettext_noop("sent with the mail of the day"),
    "push": gettext_noop("sent to your devices"),
}


@dataclass(frozen=True, slots=True)
class MessageLine:
    """One message as it is read on the page."""

    title: str
    lines: tuple[str, ...]
    at: datetime
    state: str
    path: str


@dataclass(frozen=True, slots=True)
class MessageSection:
    """A person's messages, how more reach them, and their choices."""

    lines: tuple[MessageLine, ...]
    way: str
    form: MessageChoiceForm
    ways_form: MessageWaysForm
    has_mail: bool


def message_section(person: Person) -> MessageSection:
    """Return what the page says of a person's messages."""
    rows = messages_for(person)[:SHOWN]
    ways, has_mail = ways_of(person), settings.MESSAGE_CHANNEL == EMAIL
    return MessageSection(
        lines=tuple(map(_line, rows)),
        way=_way(person, ways, has_mail=has_mail),
        form=MessageChoiceForm(initial={"wanted": sorted(wanted_by(person))}),
        ways_form=MessageWaysForm(
            initial=_initial(ways, has_mail=has_mail), has_mail=has_mail
        ),
        has_mail=has_mail,
    )


def _initial(ways: MessageWays, *, has_mail: bool) -> dict[str, object]:
    hours = ("digest_at", "quiet_from", "quiet_until")
    times = ((name, getattr(ways, name)) for name in hours)
    shown = {name: at.strftime(HOUR) if at else "" for name, at in times}
    way = way_of(ways, has_mail=has_mail)
    return {**shown, "way": way, "urgent_in_quiet": ways.urgent_in_quiet}


def _line(message: Message) -> MessageLine:
    body = message.body
    return MessageLine(
        title=body["title"],
        lines=tuple(body["lines"]),
        at=message.due_at,
        state=_state(message),
        path=body["path"],
    )


def _state(message: Message) -> str:
    """Say how far a message got; the error itself is for whoever runs the server."""
    if message.sent_at is not None:
        return gettext(SENT.get(message.channel, gettext_noop("sent")))
    is_over = message.attempts >= MOST_ATTEMPTS
    if not is_over and message.held_until is not None:
        return gettext("waits for the hour you chose")
    if is_over or not message.attempts:
        return gettext("shown here only")
    return gettext("not sent yet, will be tried again")


def _way(person: Person, ways: MessageWays, *, has_mail: bool) -> str:
    """Say in a sentence how messages reach somebody as things stand."""
    if ways.way == Way.NONE:
        return gettext("Nothing is sent: messages wait here until you look.")
    address = confirmed_address(person) if has_mail else ""
    has_device = devices_of(person).filter(is_off=False).exists()
    if not has_device or way_of(ways, has_mail=has_mail) != Way.PUSH:
        return _way_by_mail(ways, address, has_mail=has_mail)
    if not address or ways.is_mail_stopped:
        return gettext("Messages go to your devices.")
    return gettext(
        "Messages go to your devices; where none takes one, to {address}."
    ).format(address=address)


def _way_by_mail(ways: MessageWays, address: str, *, has_mail: bool) -> str:
    if not has_mail:
        return gettext("This server sends no mail: messages wait here until you look.")
    if ways.is_mail_stopped:
        return gettext("You stopped the mails: messages wait here until you look.")
    if not address:
        return gettext(
            "Confirm your email address, and messages are sent there as well."
        )
    if ways.way == Way.DIGEST:
        return gettext(
            "Messages are sent to {address} once a day, at {time}; what cannot wait "
            "comes at once."
        ).format(address=address, time=clock(ways.digest_at))
    return gettext("Messages are sent to {address} as well.").format(address=address)


def _back() -> HttpResponse:
    return redirect(f"{reverse('you')}#messages")


@require_POST
@login_required
def message_choices(request: HttpRequest) -> HttpResponse:
    """Set which messages the person wants."""
    if not isinstance(request.user, Person):
        raise TypeError
    form = MessageChoiceForm(request.POST)
    if form.is_valid():
        choose_messages(person=request.user, wanted=form.cleaned_data["wanted"])
        messages.success(request, gettext("Your choice of messages is kept."))
    else:
        messages.error(
            request, gettext("There is no such message. Nothing was changed.")
        )
    return _back()


@require_POST
@login_required
def message_ways(request: HttpRequest) -> HttpResponse:
    """Set by which way messages come, and in which hours they do not."""
    if not isinstance(request.user, Person):
        raise TypeError
    has_mail = settings.MESSAGE_CHANNEL == EMAIL
    form = MessageWaysForm(request.POST, has_mail=has_mail)
    if form.is_valid():
        values = {"digest_at": ways_of(request.user).digest_at, **form.cleaned_data}
        choose_ways(person=request.user, **values)
        messages.success(request, gettext("It is kept how messages reach you."))
    else:
        first = next(iter(form.errors.values()))[0]
        messages.error(request, gettext("Nothing was changed.") + f" {first}")
    return _back()
