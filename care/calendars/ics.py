"""Rounds as an iCalendar file that any calendar program can subscribe to.

One all-day event a round (RFC 5545, with the calendar properties of RFC 7986). The
same rounds give the same bytes, whenever they are asked for: nothing in the file
reads a clock, so an unchanged calendar has an unchanged ETag.
"""

import hashlib
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Final
from uuid import UUID

from icalendar import Calendar, Event, vDuration, vText

PRODUCT: Final = "-//Orchard Care//Rounds//EN"

# How often a program may ask again at most; a plan changes once or twice a day.
ASK_AGAIN_AFTER: Final = timedelta(hours=4)

# Control characters that RFC 5545 section 3.1 keeps out of every line; a newline
# becomes an escape. The byte order mark goes too: some readers drop such a line.
_FORBIDDEN: Final = frozenset({*map(chr, range(0x20)), "\x7f", "\ufeff"} - {"\t", "\n"})

# Python and some calendar programs take these for ends of lines, iCalendar does not.
_OTHER_NEWLINES: Final = ("\r\n", "\r", "\x85", "\u2028", "\u2029")

_ESCAPES: Final = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"})


@dataclass(frozen=True, slots=True)
class CalendarRound:
    """One round as a calendar shows it.

    Attributes
    ----------
    uid
        The round's own random id; it stays when the day or the tasks change.
    day
        The day of the walk.
    summary, description
        Plain text; only the description may have several lines.
    sequence
        How often the day has changed; never goes down.
    changed_at
        When anything of this was last changed; any time zone, but not none.
    url
        Address of the round's page.
    """

    uid: UUID
    day: date
    summary: str
    description: str
    sequence: int
    changed_at: datetime
    url: str | None = None

    def __post_init__(self) -> None:
        """Refuse what a calendar program would read as something else."""
        if self.changed_at.utcoffset() is None:
            message = f"{self.uid}: changed_at {self.changed_at} has no time zone"
            raise ValueError(message)
        if self.sequence < 0:
            message = f"{self.uid}: sequence {self.sequence} is below zero"
            raise ValueError(message)
        if self.url is not None and not _is_plain_address(self.url):
            message = f"{self.uid}: {self.url!r} is not an address"
            raise ValueError(message)


class _Text(vText):
    r"""Text that comes back as it was.

    The library's own escaping turns a backslash before a capital N into a newline.
    """

    __slots__ = ()

    def to_ical(self) -> bytes:
        """Escape as RFC 5545 section 3.3.11 says, each character once."""
        return self.translate(_ESCAPES).encode()


def render_calendar(name: str, rounds: Iterable[CalendarRound]) -> bytes:
    """Return the calendar as a file's bytes, events by day and then by id.

    Parameters
    ----------
    name
        What the subscriber's program calls the calendar.
    rounds
        In any order.

    Raises
    ------
    ValueError
        Two rounds have the same id.
    """
    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", PRODUCT)
    calendar.add("calscale", "GREGORIAN")
    title = _Text(_one_line(name))
    calendar.add("name", title)
    # What programs read that came before RFC 7986 or never took it up.
    calendar.add("x-wr-calname", title)
    calendar.add("refresh-interval", ASK_AGAIN_AFTER, parameters={"VALUE": "DURATION"})
    calendar.add("x-published-ttl", vDuration(ASK_AGAIN_AFTER))
    uids: set[UUID] = set()
    for one in sorted(rounds, key=lambda one: (one.day, str(one.uid))):
        if one.uid in uids:
            message = f"two rounds have the id {one.uid}"
            raise ValueError(message)
        uids.add(one.uid)
        calendar.add_component(_event(one))
    content: bytes = calendar.to_ical()
    return content


def etag_of(content: bytes) -> str:
    """Return the strong ETag of a file: its own digest, so it can be no other file's.

    With the quotation marks of RFC 9110 section 8.8.3.
    """
    return f'"{hashlib.sha256(content).hexdigest()}"'


def _event(one: CalendarRound) -> Event:
    # Without METHOD, DTSTAMP means the same as LAST-MODIFIED (RFC 5545, 3.8.7.2).
    # The clock's time here would make every event look changed at every visit.
    changed_at = one.changed_at.astimezone(UTC)
    event = Event()
    event.add("uid", str(one.uid))
    event.add("dtstamp", changed_at)
    event.add("last-modified", changed_at)
    event.add("sequence", one.sequence)
    event.add("dtstart", one.day)
    # Exclusive: the same day again would be an event without length.
    event.add("dtend", one.day + timedelta(days=1))
    event.add("summary", _Text(_one_line(one.summary)))
    event.add("description", _Text(_clean(one.description)))
    # Garden work must not make its person look busy all day.
    event.add("transp", "TRANSPARENT")
    event.add("x-microsoft-cdo-busystatus", "FREE")
    if one.url is not None:
        event.add("url", one.url)
    return event


def _clean(text: str) -> str:
    """Return the text without what a calendar file cannot hold, newlines as LF.

    That is control characters and halves of surrogate pairs. Blanks at the end of a
    line go too: some programs take them for a flaw in the file and report it.
    """
    for newline in _OTHER_NEWLINES:
        text = text.replace(newline, "\n")
    kept = (
        character
        for character in text
        if character not in _FORBIDDEN and unicodedata.category(character) != "Cs"
    )
    lines = unicodedata.normalize("NFC", "".join(kept)).split("\n")
    return "\n".join(line.rstrip() for line in lines).rstrip()


def _one_line(text: str) -> str:
    """Return clean text as one line, which is all a heading has room for."""
    return " ".join(line.strip() for line in _clean(text).split("\n")).strip()


def _is_plain_address(url: str) -> bool:
    """Whether it is a web address of the characters that RFC 3986 allows alone."""
    return url.startswith(("https://", "http://")) and all(
        "!" <= character <= "~" and character not in '"<>\\^`{|}' for character in url
    )
