"""What a calendar shows: a round as a whole day, a shift from hour to hour."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Final
from uuid import UUID
from zoneinfo import ZoneInfo

from django.utils.translation import gettext, gettext_noop
from icalendar import Event

from care.calendars.text import Text, clean, is_plain_address, one_line

CANCELLED: Final = gettext_noop("Cancelled")


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
        _check(self)


@dataclass(frozen=True, slots=True)
class CalendarShift:
    """One shift as a calendar shows it.

    Attributes
    ----------
    uid
        The shift's own random id.
    begins, ends
        Moments in one and the same :class:`zoneinfo.ZoneInfo`.
    summary, description
        Plain text; only the description may have several lines.
    sequence
        How often its time or whether it takes place has changed; never goes down.
    changed_at
        When anything of this was last changed; any time zone, but not none.
    is_cancelled
        It does not take place; the summary then says so, whatever a program makes of
        the status.
    url
        Address of the shift's page.
    """

    uid: UUID
    begins: datetime
    ends: datetime
    summary: str
    description: str
    sequence: int
    changed_at: datetime
    is_cancelled: bool = False
    url: str | None = None

    def __post_init__(self) -> None:
        """Refuse what a calendar program would read as something else."""
        _check(self)
        if not isinstance(self.begins.tzinfo, ZoneInfo):
            message = f"{self.uid}: {self.begins} is in no named time zone"
            raise ValueError(message)  # noqa: TRY004 (a value, as all refusals here)
        if self.ends.tzinfo is not self.begins.tzinfo:
            message = f"{self.uid}: it ends in another time zone than it begins"
            raise ValueError(message)
        if self.ends.astimezone(UTC) <= self.begins.astimezone(UTC):
            message = f"{self.uid}: it ends before it begins"
            raise ValueError(message)

    @property
    def day(self) -> date:
        """The day on which it begins, where it is."""
        return self.begins.date()

    @property
    def zone(self) -> str:
        """The name of the time zone."""
        return str(self.begins.tzinfo)

    @property
    def is_clear(self) -> bool:
        """Whether clocks show both its times only once, and not for the second time.

        A local time that is shown twice means the first of the two (RFC 5545, 3.3.5).
        """
        return not (self.begins.fold or self.ends.fold)


def _check(one: CalendarRound | CalendarShift) -> None:
    if one.changed_at.utcoffset() is None:
        message = f"{one.uid}: changed_at {one.changed_at} has no time zone"
        raise ValueError(message)
    if one.sequence < 0:
        message = f"{one.uid}: sequence {one.sequence} is below zero"
        raise ValueError(message)
    if one.url is not None and not is_plain_address(one.url):
        message = f"{one.uid}: {one.url!r} is not an address"
        raise ValueError(message)


def round_event(one: CalendarRound) -> Event:
    """Return a round as an event that lasts all day."""
    event = _event(one, one.summary)
    event.add("dtstart", one.day)
    # Exclusive: the same day again would be an event without length.
    event.add("dtend", one.day + timedelta(days=1))
    # Garden work must not make its person look busy all day.
    event.add("transp", "TRANSPARENT")
    event.add("x-microsoft-cdo-busystatus", "FREE")
    return event


def shift_event(one: CalendarShift, *, in_zone: bool) -> Event:
    """Return a shift as an event between two times.

    ``in_zone`` says that the file holds its time zone; else both are universal times.
    """
    title = f"{gettext(CANCELLED)}: {one.summary}" if one.is_cancelled else one.summary
    event = _event(one, title)
    for name, moment in (("dtstart", one.begins), ("dtend", one.ends)):
        event.add(name, moment if in_zone else moment.astimezone(UTC))
    event.add("status", "CANCELLED" if one.is_cancelled else "CONFIRMED")
    event.add("transp", "TRANSPARENT" if one.is_cancelled else "OPAQUE")
    event.add("x-microsoft-cdo-busystatus", "FREE" if one.is_cancelled else "BUSY")
    return event


def _event(one: CalendarRound | CalendarShift, summary: str) -> Event:
    # Without METHOD, DTSTAMP means the same as LAST-MODIFIED (RFC 5545, 3.8.7.2).
    # The clock's time here would make every event look changed at every visit.
    changed_at = one.changed_at.astimezone(UTC)
    event = Event()
    event.add("uid", str(one.uid))
    event.add("dtstamp", changed_at)
    event.add("last-modified", changed_at)
    event.add("sequence", one.sequence)
    event.add("summary", Text(one_line(summary)))
    event.add("description", Text(clean(one.description)))
    if one.url is not None:
        event.add("url", one.url)
    return event
