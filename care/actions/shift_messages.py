"""Telling those who hold a place that their shift moves, is off, or is on again."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.urls import reverse

from care.models import Shift, ShiftPlace
from care.planning.shift_times import ends_at
from orchard.actions.messages import Told, write_message
from orchard.models import Person


@dataclass(frozen=True, slots=True)
class Doing:
    """Who changes a shift, and when; ``None`` is the server."""

    person: Person | None
    now: datetime


HELD = (ShiftPlace.State.HELD, ShiftPlace.State.OFFERED)


def when_words(day: date, at: time) -> str:
    """Return such as "Saturday 5 July, 9:00"."""
    return f"{day:%A} {day.day} {day:%B}, {at.hour}:{at:%M}"


def tell_holders(
    *,
    shift: Shift,
    places: Iterable[ShiftPlace],
    title: str,
    lines: Sequence[str],
    doing: Doing,
) -> None:
    """Tell the holders of ``places`` once of what ``shift.sequence`` changed.

    Nobody is told of a draft, and whoever did it is not told either. Once the
    shift would be over it is too late to be told.
    """
    if shift.status == Shift.Status.DRAFT or shift.published_at is None:
        return
    site = shift.site
    over = ends_at(shift, site)
    for place in places:
        if place.holder is None or place.holder == doing.person:
            continue
        write_message(
            person=place.holder,
            orchard=site.orchard,
            what=Told.SHIFT_CHANGED,
            key=f"shift/{shift.uid}/{shift.sequence}",
            why=f"You have a place in this shift of {site.orchard.name}.",
            title=title,
            lines=lines,
            due_at=doing.now,
            path=reverse("shift", args=[site.slug, shift.uid]),
            until=None if site.own_today else max(over, doing.now + timedelta(hours=1)),
        )
