"""Messages as mail: plain text and a page, with a way out that works signed out.

``List-Unsubscribe`` and ``List-Unsubscribe-Post`` follow RFC 2369 and RFC 8058, which
wants https: over plain http the link alone is given.
"""

import base64
from collections.abc import Sequence
from datetime import datetime

from allauth.account.models import EmailAddress
from django.conf import settings
from django.core.mail import EmailMultiAlternatives
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.crypto import constant_time_compare, salted_hmac
from django.utils.translation import get_language, gettext, ngettext

from orchard.languages import in_language
from orchard.models import Message, Person

#: Bytes of the seal: beyond guessing (96 bits), and its line in a mail stays short.
SEAL_BYTES = 12
#: A longer line of a mail's head is broken up in a way no program reads (RFC 5322, 2.1.1
#: wants 78); then the text's own link is the only one.
LINE_LETTERS = 76


def confirmed_address(person: Person) -> str:
    """Return the address a person has shown to be theirs; empty where there is none."""
    own = EmailAddress.objects.filter(user=person, verified=True, primary=True)
    return own.values_list("email", flat=True).first() or ""


def stop_token(person: Person) -> str:
    """Return what stops a person's mail, whoever holds it; it opens nothing else."""
    digest = salted_hmac("orchard.messages.stop", str(person.pk), algorithm="sha256")
    seal = base64.urlsafe_b64encode(digest.digest()[:SEAL_BYTES]).rstrip(b"=")
    return f"{person.pk}-{seal.decode()}"


def person_of_stop_token(token: str) -> Person | None:
    """Return whose mail a token stops."""
    number = token.partition("-")[0]
    if not (number.isascii() and number.isdecimal()):
        return None
    person = Person.objects.filter(pk=int(number[:18])).first()
    is_theirs = person and constant_time_compare(stop_token(person), token)
    return person if is_theirs else None


def _stop_address(person: Person) -> str:
    return settings.BASE_URL + reverse("message_stop", args=[stop_token(person)])


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
    """Return a message as plain text, in the language of its reader."""
    with in_language(message.person.language):
        return _text([_values(message)], message.why, "")


def _text(all_values: Sequence[dict[str, object]], why: str, stop: str) -> str:
    blocks = []
    for values in all_values:
        lines = values["lines"]
        told = "\n".join(lines) if isinstance(lines, list) else ""
        blocks += [str(values["title"]), told, str(values["address"])]
    choose = gettext("Choose your messages: {address}").format(
        address=f"{settings.BASE_URL}/you/#messages"
    )
    ends = [why, choose]
    if stop:
        ends.append(gettext("Stop these mails: {address}").format(address=stop))
    blocks.append("\n".join(filter(None, ends)))
    return "\n\n".join(block for block in blocks if block) + "\n"


def _send(person: Person, subject: str, text: str, page: str) -> None:
    stop = _stop_address(person)
    headers = {"Auto-Submitted": "auto-generated"}
    if len(f" <{stop}>") <= LINE_LETTERS:
        headers["List-Unsubscribe"] = f"<{stop}>"
        if stop.startswith("https://"):
            headers["List-Unsubscribe-Post"] = "List-Unsubscribe=One-Click"
    mail = EmailMultiAlternatives(
        subject=" ".join(subject.split()),
        body=text,
        to=[confirmed_address(person)],
        headers=headers,
    )
    mail.attach_alternative(page, "text/html")
    mail.send()


def mail_message(message: Message, now: datetime) -> None:
    """Send one message as a mail of its own."""
    del now
    with in_language(message.person.language):
        values = _values(message)
        stop = _stop_address(message.person)
        page = _page([values], message.why, stop)
        text = _text([values], message.why, stop)
        _send(message.person, str(values["title"]), text, page)


def mail_digest(person: Person, messages: Sequence[Message]) -> None:
    """Send several messages as one mail, oldest first."""
    with in_language(person.language):
        stop = _stop_address(person)
        values = [_values(message) for message in messages]
        number = len(messages)
        subject = ngettext(
            "Your orchard today: {number} message",
            "Your orchard today: {number} messages",
            number,
        ).format(number=number)
        why = gettext("You chose one mail a day.")
        _send(
            person, subject, _text(values, why, stop), _page(values, why, stop, subject)
        )


def mail_trial(person: Person) -> None:
    """Send a test, in the language that is active."""
    values: dict[str, object] = {
        "title": gettext("A test"),
        "lines": [gettext("Messages about your trees reach this address.")],
        "address": "",
    }
    stop = _stop_address(person)
    why = gettext("You asked for it on your page.")
    title = str(values["title"])
    _send(person, title, _text([values], why, stop), _page([values], why, stop))


def _page(
    all_values: Sequence[dict[str, object]], why: str, stop: str, heading: str = ""
) -> str:
    context = {
        "heading": heading,
        "all": all_values,
        "why": why,
        "settings_address": f"{settings.BASE_URL}/you/#messages",
        "stop_address": stop,
        "language": get_language(),
    }
    return render_to_string("orchard/message_mail.html", context)
