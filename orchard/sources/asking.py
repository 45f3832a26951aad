"""Asking politely: what a service is told, what its answers mean, what is remembered.

The change marks a service gave (``Last-Modified``, ``ETag``) are sent back exactly as
they came, so that it need not answer twice; how long an answer stays fresh is noted
for whoever decides when to ask again.
"""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime
from http import HTTPStatus
from urllib.parse import urlsplit

from orchard.sources.arriving import SourceUnavailable, Unchanged
from orchard.sources.network import Line, Reply, get, host_of

VERSION = "0.1"
MARKS, NOTES = "marks", "notes"
LONGEST_MARK = 200
MOST_NOTES = 20
#: Services that say nothing are left alone so long (common practice, no source).
UNSAID_WAIT = timedelta(hours=1)
#: A service that claims to be fresh for longer has its clock wrong; no source.
LONGEST_FRESH = timedelta(days=1)
LONGEST_WAIT = timedelta(days=7)


def user_agent(contact: str) -> str:
    """Return who is asking, as the public services want to know it."""
    return f"OrchardCare/{VERSION} (+{contact})"


class Asking:
    """One round of questions to one service; an ``Ask`` of ``arriving``.

    Parameters
    ----------
    contact : str
        Where whoever runs this can be reached.
    hosts : frozenset of str
        The only hosts that may be asked, whatever an answer names.
    memory : mapping
        What the last round remembered.
    now : datetime
        Aware.

    Attributes
    ----------
    fresh_until : datetime or None
        Until when the main answer need not be asked for again.
    remarks : list of str
        What is worth telling whoever runs this.
    """

    def __init__(
        self,
        *,
        contact: str,
        hosts: frozenset[str],
        memory: Mapping[str, object],
        now: datetime,
        line: Line | None = None,
    ) -> None:
        self._agent = user_agent(contact)
        self._hosts = hosts
        self._now = now
        self._line = line
        self._marks = self._former_marks = _texts(memory.get(MARKS))
        notes = memory.get(NOTES)
        self._notes = dict(notes) if isinstance(notes, dict) else {}
        self.fresh_until: datetime | None = None
        self.remarks: list[str] = []

    def __call__(self, url: str, *, is_main: bool = True) -> bytes:
        """Return the body of a good answer; see ``Ask``."""
        if host_of(url) not in self._hosts:
            message = f"{host_of(url)} is none of this service's own addresses."
            raise SourceUnavailable(message)
        headers = {"User-Agent": self._agent, "Accept": "application/json, */*;q=0.1"}
        is_known = is_main and self._marks.get("url") == url
        marks = self._change_marks() if is_known else {}
        reply = get(url, headers | marks, self._line)
        if is_main:
            self.fresh_until = _fresh_until(reply, self._now)
        if reply.status == HTTPStatus.NOT_MODIFIED and marks:
            raise Unchanged
        self._check(reply)
        if is_main:
            self._marks = _marks(url, reply)
        return reply.body

    def recall(self, name: str, *, no_older_than: timedelta) -> str | None:
        """Return what was remembered under ``name``, unless it is too old."""
        note = _texts(self._notes.get(name))
        if "value" not in note or "at" not in note:
            return None
        is_fresh = self._now - datetime.fromisoformat(note["at"]) <= no_older_than
        return note["value"] if is_fresh else None

    def remember(self, name: str, value: str) -> None:
        """Keep a short text for the next rounds; the oldest make room."""
        self._notes.pop(name, None)
        self._notes[name] = {"value": value, "at": self._now.isoformat()}
        while len(self._notes) > MOST_NOTES:
            del self._notes[next(iter(self._notes))]

    def memory(self, *, is_kept: bool = True) -> dict[str, object]:
        """Return what the next round should know.

        Parameters
        ----------
        is_kept : bool
            Whether what was answered could be kept; else the marks stay those of the
            answer before, so that the service says again what is newer than that.
        """
        marks = self._marks if is_kept else self._former_marks
        return {MARKS: marks, NOTES: self._notes}

    def _change_marks(self) -> dict[str, str]:
        sent = {"modified": "If-Modified-Since", "etag": "If-None-Match"}
        return {sent[name]: self._marks[name] for name in sent if name in self._marks}

    def _check(self, reply: Reply) -> None:
        """Let a good answer pass.

        Raises
        ------
        SourceUnavailable
            For every other, in words for people.
        """
        if reply.status == HTTPStatus.NON_AUTHORITATIVE_INFORMATION:
            self.remarks.append(
                "The service calls the way it is asked old; it may end soon. "
                "A newer version of this program will ask in the new way."
            )
        elif reply.status != HTTPStatus.OK:
            raise _unavailable(reply, self._now)
        if "html" in reply.headers.get("content-type", "").lower():
            message = "The service answered with a web page instead of weather."
            raise SourceUnavailable(message)


_LASTING = {
    400: "The service did not understand what it was asked (400).",
    401: "The service wants an account (401), which this program has not.",
    403: "The service refuses to answer (403). Most often it wants to know whom it "
    "serves: whoever runs this server must set ORCHARD_CONTACT to an address that "
    "is read.",
    404: "The service does not cover this place (404).",
    410: "The service has ended here (410).",
    422: "The service does not cover this place (422).",
}


def _unavailable(reply: Reply, now: datetime) -> SourceUnavailable:
    status = reply.status
    wait = retry_after(reply.headers.get("retry-after", ""), now)
    if 300 <= status < 400 and status != HTTPStatus.NOT_MODIFIED:  # noqa: PLR2004
        where = _host_named(reply.headers.get("location", ""))
        return SourceUnavailable(
            f"The service sends on to {where} ({status}), which is not followed.",
            is_lasting=True,
        )
    if status == HTTPStatus.TOO_MANY_REQUESTS:
        message = "The service has been asked too often and wants to be left alone."
        return SourceUnavailable(message, wait=wait or UNSAID_WAIT)
    if status in _LASTING:
        return SourceUnavailable(_LASTING[status], wait=wait, is_lasting=True)
    if status >= 500:  # noqa: PLR2004 (the server's own trouble)
        message = f"The service has trouble of its own ({status})."
        return SourceUnavailable(message, wait=wait)
    return SourceUnavailable(f"The service answered strangely ({status}).", wait=wait)


def _host_named(location: str) -> str:
    try:
        host = urlsplit(location).hostname
    except ValueError:
        host = None
    return (host or "another page")[:60]


def retry_after(text: str, now: datetime) -> timedelta | None:
    """Return how long a service asks to be left alone (RFC 9110, section 10.2.3).

    Parameters
    ----------
    text : str
        Seconds, or a date; anything else says nothing.
    """
    text = text.strip()
    if text.isascii() and text.isdigit():
        return min(timedelta(seconds=int(text[:9])), LONGEST_WAIT)
    at = _http_date(text)
    if at is None:
        return None
    return min(max(at - now, timedelta(0)), LONGEST_WAIT)


def _fresh_until(reply: Reply, now: datetime) -> datetime | None:
    """Return until when an answer is fresh (RFC 9111, section 4.2.1)."""
    for directive in reply.headers.get("cache-control", "").lower().split(","):
        name, _, value = directive.strip().partition("=")
        seconds = value.strip('"')
        if name == "max-age" and seconds.isascii() and seconds.isdigit():
            age = timedelta(seconds=int(seconds[:9]))
            return now + min(age, LONGEST_FRESH)
    expires = _http_date(reply.headers.get("expires", ""))
    if expires is None:
        return None
    # By the service's own clock, which may differ from ours.
    theirs = _http_date(reply.headers.get("date", "")) or now
    return now + min(max(expires - theirs, timedelta(0)), LONGEST_FRESH)


def _http_date(text: str) -> datetime | None:
    try:
        at = parsedate_to_datetime(text)
    except ValueError:
        return None
    # "-0000" says that the zone is not known; dates of HTTP are in UTC.
    return at if at.tzinfo else at.replace(tzinfo=UTC)


def _marks(url: str, reply: Reply) -> dict[str, str]:
    found = {
        "modified": reply.headers.get("last-modified", ""),
        "etag": reply.headers.get("etag", ""),
    }
    usable = {
        name: value
        for name, value in found.items()
        if value and value.isascii() and value.isprintable()
    }
    return {
        "url": url,
        **{name: v for name, v in usable.items() if len(v) <= LONGEST_MARK},
    }


def _texts(value: object) -> dict[str, str]:
    """Return the texts of a stored mapping; whatever else was stored is nothing."""
    known = value if isinstance(value, dict) else {}
    return {str(k): v for k, v in known.items() if isinstance(v, str)}
