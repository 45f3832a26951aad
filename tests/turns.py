"""Requests to the tests' own server in turns: they share one database.

A database in memory is locked by whoever writes. A page and what its worker fetches in
the background would stand in one another's way.
"""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http import HTTPStatus

from django.http import HttpRequest, HttpResponse

#: Whoever asks the database holds it: a request, or the test itself.
turn = threading.Lock()
_closed = threading.Event()


def in_turns(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Return the middleware: one request is answered after the other."""

    def answer(request: HttpRequest) -> HttpResponse:
        with turn:
            # Only what came over the wire: the tests' own client asks when it likes.
            if _closed.is_set() and "SERVER_SOFTWARE" in request.META:
                return HttpResponse(status=HTTPStatus.SERVICE_UNAVAILABLE)
            return get_response(request)

    return answer


@contextmanager
def open_server() -> Iterator[None]:
    """Answer until the end; what comes late finds the database being emptied."""
    _closed.clear()
    yield
    with turn:
        _closed.set()
