"""Telling those who hold a place that their shift moves, is off, or is on again."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.urls import reverse
from django.utils.translation import gettext

from care.models import Shift, ShiftPlace
from care.planning.shift_times import begins_at, ends_at
from orchard.actions.messages import Told, write_message
from orchard.languages import clock, in_language, weekday_and_day
from orchard.models import Person


@dataclass(frozen=True, slots=True)
class Doing:
    """Who changes a shift, and when; ``None`` is the server."""

    person: Person | None
    now: datetime


#: A title and its lines, in whatever language is active when it is called.
Words = Callable[[], tuple[str, Sequence[str]]]

HELD = (ShiftPlace.State.HELD, ShiftPlace.State.OFFERED)
#: What changes of a shift that begins so soon cannot wait; common practice, no source.
SOON = timedelta(hours=24)


def when_words(day: date, at: time) -> str:
    """Return such as "Saturday 5 July, 9:00"."""
    return gettext("{day}, {time}").format(day=weekday_and_day(day), time=clock(at))


def tell_holders(
    *,
    shift: Shift,
    places: Iterable[ShiftPlace],
    words: Words,
    doing: Doing,
) -> None:
    """Tell the holders of ``places`` once of what ``shift.sequence`` changed.

    ``words`` writes it for each in their own language. Nobody is told of a draft, and whoever did it is not told either. Once the
    shift would be over it is too late to be told.
    """
    if shift.status == Shift.Status.DRAFT or shift.published_at is None:
        return
    site = shift.site
    begins, over = begins_at(shift, site), ends_at(shift, site)
    for place in places:
        if place.holder is None or place.holder == doing.person:
            continue
        with in_language(place.holder.language):
            title, lines = words()
            write_message(
                person=place.holder,
                orchard=site.orchard,
                what=Told.SHIFT_CHANGED,
                key=f"shift/{shift.uid}/{shift.sequence}",
                why=_why(site.orchard.name),
                title=title,
                lines=lines,
                is_urgent=site.own_today is None and begins - doing.now <= SOON,
                time_zone=site.time_zone,
                due_at=doing.now,
                path=reverse("shift", args=[site.slug, shift.uid]),
                until=None
                if site.own_today
                else max(over, doing.now + timedelta(hours=1)),
            )


def _why(orchard: str) -> str:
    return gettext("You have a place in this shift of {orchard}.").format(
        orchard=orchard
    )
