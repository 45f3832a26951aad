"""Requests to the tests' own server in turns: its threads share one connection.

A database in memory has a single connection. A page and what its worker fetches in the
background would stand in one another's transactions.
"""

import threading
import time
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

_turn = threading.Lock()
_counting = threading.Lock()
_under_way = 0
QUIET_S = 0.05


def in_turns(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Return the middleware: one request is answered after the other."""

    def answer(request: HttpRequest) -> HttpResponse:
        _count(1)
        try:
            with _turn:
                return get_response(request)
        finally:
            _count(-1)

    return answer


def _count(change: int) -> None:
    global _under_way  # noqa: PLW0603 (one for all threads of the server)
    with _counting:
        _under_way += change


def wait_for_quiet() -> None:
    """Return once no request is under way, so that the database may be emptied."""
    quiet_since = time.monotonic()
    while time.monotonic() - quiet_since < QUIET_S:
        if _under_way:
            quiet_since = time.monotonic()
        time.sleep(QUIET_S / 5)
