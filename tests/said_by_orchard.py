"""Everything an orchard says: to its members, to holders of secrets, by commands."""

import json
import re
from io import StringIO
from typing import Any

from django.core.management import call_command
from django.test import Client
from django.urls import reverse

from orchard.actions.message_mail import text_of
from orchard.models import Message, Person
from tests.address_table import TABLE
from tests.ids_of_half import ids_of
from tests.test_every_address import parameters
from tests.two_orchards import Half, browser_of

#: Pages of a person that name no site, beside those of a site.
OWN_PAGES = ("home", "you", "start", "differing_sources", "usersessions_list")
SITE_PAGES = tuple(
    name for name in TABLE if TABLE[name][0] == "get" and "site" in parameters(name)
)
# Made anew for each request.
PASSING = re.compile(
    r'((?:(?:csrfmiddlewaretoken" value|nonce)=|"(?:csrf|now)": )")[^"]+'
    r"|(Written on [^<]+ at )[\d:]+"
)


def text(answer: Any) -> str:
    """Return an answer as it is read: long lines of a calendar put together again."""
    body = b"".join(answer.streaming_content) if answer.streaming else answer.content
    words: str = body.decode(errors="replace").replace("\r\n ", "")  # photos, too
    return f"{answer.headers.get('Location', '')}{words}"


def said_to(half: Half, someone: Person) -> dict[str, str]:
    """Return everything a member can read, by what it is called."""
    browser, ids = browser_of(someone), ids_of(half)
    pages = {
        name: text(browser.get(reverse(name, kwargs=named(name, ids))))
        for name in SITE_PAGES
    }
    return pages | {name: text(browser.get(reverse(name))) for name in OWN_PAGES}


def named(name: str, ids: dict[str, object]) -> dict[str, object]:
    return {key: ids[key] for key in parameters(name)}


def said_outside(half: Half) -> dict[str, str]:
    """Return what leaves an orchard for whoever holds a secret or runs the server."""
    anybody = Client()
    said = {}
    for number, token in enumerate(half.secrets["calendar"]):
        said[f"calendar {number}"] = text(
            anybody.get(reverse("calendar", args=[token]))
        )
    for number, token in enumerate(half.secrets["helper"]):
        said[f"link {number}"] = text(anybody.get(reverse("helper_open", args=[token])))
    for number, token in enumerate(half.secrets["invite"]):
        said[f"invite {number}"] = text(anybody.get(reverse("join", args=[token])))
    for number, helper in enumerate(half.helpers):
        said[f"helper {number}"] = text(helper.get(reverse("helper")))
    for message in Message.objects.filter(orchard=half.orchard):
        said[f"message {message.pk}"] = text_of(message)
    for command in ("plan", "rounds"):
        out = StringIO()
        call_command(command, site=half.site.slug, json=True, stdout=out)
        assert json.loads(out.getvalue())["schema"] == 1
        said[command] = out.getvalue()
    return said


def lasting(said: dict[str, str]) -> dict[str, str]:
    """Return what was said without what differs from one request to the next."""
    return {
        name: PASSING.sub(r"\1\2", words)
        for name, words in said.items()
        if name != "usersessions_list"
    }
