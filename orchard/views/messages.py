"""A person's messages: what they were told, and what they want to be told."""

from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from orchard.actions.message_channels import confirmed_address
from orchard.actions.messages import (
    MOST_ATTEMPTS,
    choose_messages,
    messages_for,
    wanted_by,
)
from orchard.forms.messages import MessageChoiceForm
from orchard.models import Message, Person

SHOWN = 20
BY_EMAIL = "email"
NOT_SENT = "shown here only"


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


def message_section(person: Person) -> MessageSection:
    """Return what the page says of a person's messages."""
    rows = messages_for(person)[:SHOWN]
    form = MessageChoiceForm(initial={"wanted": sorted(wanted_by(person))})
    return MessageSection(tuple(map(_line, rows)), _way(person), form)


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
        return "sent by email" if message.channel == BY_EMAIL else "sent"
    if settings.MESSAGE_CHANNEL != BY_EMAIL or not message.attempts:
        return NOT_SENT
    is_over = message.attempts >= MOST_ATTEMPTS
    return NOT_SENT if is_over else "not sent yet, will be tried again"


def _way(person: Person) -> str:
    if settings.MESSAGE_CHANNEL != BY_EMAIL:
        return "This server sends no mail: messages wait here until you look."
    if address := confirmed_address(person):
        return f"Messages are sent to {address} as well."
    return "Confirm your email address, and messages are sent there as well."


@require_POST
@login_required
def message_choices(request: HttpRequest) -> HttpResponse:
    """Set which messages the person wants."""
    if not isinstance(request.user, Person):
        raise TypeError
    form = MessageChoiceForm(request.POST)
    if form.is_valid():
        choose_messages(person=request.user, wanted=form.cleaned_data["wanted"])
        messages.success(request, "Your choice of messages is kept.")
    else:
        messages.error(request, "There is no such message. Nothing was changed.")
    return redirect(f"{reverse('you')}#messages")
