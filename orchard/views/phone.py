"""What makes the program live on a phone: its worker, its name there, offline pages.

The worker keeps copies of pages that say so by ``Orchard-Pocket: keep``; what was done
without a network waits on the phone itself (`static/js/outbox.js`).
"""

import hashlib
import json
from collections.abc import Callable
from functools import cache

from django.conf import settings
from django.contrib.staticfiles.storage import staticfiles_storage
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.crypto import salted_hmac
from django.utils.translation import gettext
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from orchard.models import Person

SCRIPTS = ("js/site.js", "js/outbox.js", "js/keep.js", "js/phone.js")
#: What every page needs: kept as soon as the worker comes.
NEEDED = (
    "css/site.css",
    "django_htmx/htmx-2.min.js",
    *SCRIPTS,
    "js/waiting.js",
    "img/icon.svg",
)
ICONS = (
    ("img/icon-192.png", 192, "any"),
    ("img/icon-512.png", 512, "any"),
    ("img/icon-maskable-512.png", 512, "maskable"),
)
#: The pages that phones may keep: none of people, ways in or accounts.
KEPT_PAGES = frozenset(
    (
        *("round", "task", "tree", "trees", "log", "under_tree", "hose"),
        *("pocket", "offline", "waiting"),
    )
)
PAPER = "#f7f5ee"
ALIKE_LENGTH = 32


def person_mark(person: Person) -> str:
    """Return what tells people apart on one phone, and tells nothing else."""
    digest = salted_hmac("person on a phone", str(person.pk), algorithm="sha256")
    return digest.hexdigest()[:ALIKE_LENGTH]


def on_phone(request: HttpRequest) -> dict[str, object]:
    """Return what a page tells the phone it is shown on."""
    person = getattr(request, "user", None)
    mark = person_mark(person) if isinstance(person, Person) else ""
    return {"phone": {"person": mark, "words": words, "copies": settings.PHONE_COPY}}


def words() -> dict[str, str]:
    """Return the words of the scripts that every page has."""
    return {
        "no_connection": gettext(
            "That did not get through: no connection. Try again in a moment."
        ),
        "not_allowed": gettext(
            "That is not allowed for you any more. Load the page again."
        ),
        "failed": gettext("That did not work. Load the page again and try once more."),
        "copied": gettext("Copied"),
        "passkey_unused": gettext(
            "No passkey was used. It was cancelled, or there is none for this address."
        ),
        "passkey_held": gettext("That device already holds a passkey of yours."),
        "passkey_address": gettext("Passkeys do not work at this address."),
        "passkey_failed": gettext(
            "The passkey did not work. Load the page again and try once more."
        ),
        "position_reading": gettext("Reading… stand beside the trunk."),
        "position_read": gettext("Read. Choose the tree, then save."),
        "position_none": gettext(
            "The phone tells no position. Type it, or use a tape."
        ),
        "keeping": gettext("Sending …"),
        "kept": gettext("Kept on this phone; goes out when there is a network."),
        "kept_signed_out": gettext("Kept on this phone; goes out once you sign in."),
        "undo": gettext("Undo"),
        "undone": gettext("Taken back: it was never sent."),
        "undo_late": gettext(
            "It may have arrived already. Look in the log when there is a network."
        ),
        "sent": gettext("Sent."),
        "needs_you": gettext("This needs you."),
        "no_room": gettext(
            "This phone has no room left, so nothing was kept. Write it down elsewhere."
        ),
        "waiting_one": gettext("{number} waiting to send"),
        "waiting_other": gettext("{number} waiting to send"),
        "needs_one": gettext("{number} needs you"),
        "needs_other": gettext("{number} need you"),
        "signed_out": gettext("You are signed out: sign in and it goes out."),
        "sign_in": gettext("Sign in"),
        "copy_of": gettext("No network. This page is a copy of {when}."),
        "network_back": gettext("The network is back: load this page anew."),
        "new_version": gettext("A new version is ready."),
        "use_it": gettext("Use it"),
        "typing": gettext("Send or clear what you typed first, then press again."),
        "too_large": gettext("It is too large to send."),
        "leaving_needs_network": gettext(
            "Signing out needs a network. Nothing was thrown away."
        ),
    }


@cache
def version_of(addresses: tuple[str, ...]) -> str:
    """Return what is another one as soon as any of the files is."""
    return hashlib.sha256("\n".join(addresses).encode()).hexdigest()[:16]


@never_cache
@require_safe
def worker(request: HttpRequest) -> HttpResponse:
    """Answer with the service worker; with one that takes itself away where off.

    The addresses of static files hold a hash of their content, so that the worker is
    another one as soon as any of them is.
    """
    del request
    address = staticfiles_storage.url
    addresses = tuple(address(name) for name in NEEDED)
    told = {
        "version": version_of((*addresses, address("js/worker.js"))),
        "files": addresses,
        "pages": [reverse("offline"), reverse("waiting")],
        "static": settings.STATIC_URL,
        "icon": address("img/icon-192.png"),
    }
    script = "js/worker.js" if settings.PHONE_COPY else "js/worker_off.js"
    code = (
        f"self.TOLD = {json.dumps(told)};\n"
        f"importScripts({json.dumps(address(script))});\n"
    )
    answer = HttpResponse(code, content_type="text/javascript")
    answer.headers["Service-Worker-Allowed"] = "/"
    return answer


@require_safe
def manifest(request: HttpRequest) -> HttpResponse:
    """Answer how the program looks among a phone's own (W3C Web App Manifest)."""
    del request
    answer = {
        "id": "/",
        "name": gettext("Orchard care"),
        "short_name": gettext("Orchard"),
        "description": gettext("What each fruit tree needs, and when."),
        "start_url": "/",
        "scope": "/",
        "display": "standalone",
        "background_color": PAPER,
        "theme_color": PAPER,
        "icons": [
            {
                "src": staticfiles_storage.url(name),
                "sizes": f"{side_px}x{side_px}",
                "type": "image/png",
                "purpose": purpose,
            }
            for name, side_px, purpose in ICONS
        ],
    }
    return JsonResponse(answer, content_type="application/manifest+json")


@never_cache
@require_safe
def offline(request: HttpRequest) -> HttpResponse:
    """Show what a phone shows where it has no network and no copy of a page."""
    return render(request, "orchard/offline.html", {"messages": ()})


@never_cache
@require_safe
def waiting(request: HttpRequest) -> HttpResponse:
    """Show what waits on this phone; the list itself is the phone's own."""
    context = {"messages": (), "waiting_words": waiting_words()}
    return render(request, "orchard/outbox.html", context)


def waiting_words() -> dict[str, str]:
    """Return the words of the list of what waits."""
    return {
        "nothing": gettext("Nothing waits on this phone: all is sent."),
        "not_here": gettext(
            "This phone keeps nothing here: that needs an https address and a newer "
            "browser. With a network all pages work."
        ),
        "done_at": gettext("Done {when}"),
        "old": gettext(
            "It has waited for over 3 days. Find a network, or ask for help."
        ),
        "waits": gettext("Waits for a network."),
        "may_have_arrived": gettext(
            "Was sent before, and no answer came. It is tried again and counted once."
        ),
        "photo": gettext("1 photo"),
        "throw_away": gettext("Throw away"),
        "throw_away_sure": gettext("Throw it away? It is nowhere else."),
        "throw_away_yes": gettext("Yes, throw it away"),
        "keep_it": gettext("Keep it"),
        "try_again": gettext("Send it again"),
        "same_means": gettext(
            "The same job: you are named beside who wrote it. A second one: both count."
        ),
        "of_another": gettext(
            "Somebody else kept this on this phone. It goes out when they sign in here."
        ),
        "trying": gettext("Trying…"),
        "all_sent": gettext("All is sent."),
        "still_waiting": gettext(
            "No way through yet. It stays here and is tried again."
        ),
    }


def kept_on_phone(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Tell the worker which pages it may keep."""

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        found = request.resolver_match
        if found and found.url_name in KEPT_PAGES and request.method == "GET":
            response.headers["Orchard-Pocket"] = "keep"
        return response

    return answer


def cleared_at_sign_out(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Let a browser forget all it kept of us when somebody signs out.

    W3C Clear Site Data, 3.1; browsers heed it where they call the address secure.
    """

    def answer(request: HttpRequest) -> HttpResponse:
        was_signed_in = request.method == "POST" and request.user.is_authenticated
        response = get_response(request)
        leaves = was_signed_in and not request.user.is_authenticated
        if leaves and request.path == reverse("account_logout"):
            response.headers["Clear-Site-Data"] = '"cache", "storage"'
        return response

    return answer
