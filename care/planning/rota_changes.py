"""What changed of the rota since it was last published: who, which shift, when."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from enum import StrEnum

from django.utils.dateparse import parse_date, parse_time
from django.utils.translation import gettext

from care.models import HandOver, RotaPublished, Shift, ShiftPlace
from care.planning.place_facts import HELD
from orchard.languages import clock, weekday_and_day
from orchard.models import Person, Site

Held = Mapping[str, Mapping[str, object]]


class Change(StrEnum):
    """What became of a shift or a place."""

    HOLDER = "holder"
    MOVED = "moved"
    CANCELLED = "cancelled"
    NEW = "new"
    GONE = "gone"


@dataclass(frozen=True, slots=True)
class RotaChange:
    """One change; ``before`` and ``after`` are names, or when the shift was to be.

    An empty name is nobody. ``at`` is ``None`` where nothing says when it was.
    """

    what: Change
    name: str
    day: date
    before: str = ""
    after: str = ""
    at: datetime | None = None


def last_published(site: Site) -> RotaPublished | None:
    """Return the last publication of a site's rota."""
    return RotaPublished.objects.filter(site=site).first()


def snapshot(site: Site, today: date) -> dict[str, dict[str, object]]:
    """Return every published shift from a day on, as a publication keeps it."""
    shifts = (
        Shift.objects.filter(site=site, day__gte=today, status=Shift.Status.PUBLISHED)
        .prefetch_related("places")
        .order_by("day", "starts_at", "id")
    )
    return {str(shift.uid): kept(shift, shift.places.all()) for shift in shifts}


def kept(shift: Shift, places: Iterable[ShiftPlace]) -> dict[str, object]:
    """Return what a publication keeps of a shift: when, and who holds which place."""
    return {
        "name": shift.name,
        "day": shift.day.isoformat(),
        "starts_at": f"{shift.starts_at:%H:%M}",
        "held": {
            str(place.pk): place.holder_id if place.state in HELD else None
            for place in places
        },
    }


def changes_since(published: RotaPublished, today: date) -> tuple[RotaChange, ...]:
    """Return what changed of the shifts to come, in five queries, in time."""
    then: Held = {
        uid: one
        for uid, one in published.held.items()
        if str(one["day"]) >= today.isoformat()
    }
    shifts = {
        str(shift.uid): shift
        for shift in Shift.objects.filter(
            site=published.site_id, published_at__isnull=False
        )
        .filter(day__gte=today)
        .prefetch_related("places")
    }
    earlier = [uid for uid in then if uid not in shifts]
    rows = Shift.objects.filter(site=published.site_id, uid__in=earlier)
    shifts |= {str(shift.uid): shift for shift in rows.prefetch_related("places")}
    moments = _moments(shifts.values(), published.at)
    names = _names(then, shifts.values())
    found: list[RotaChange] = []
    for uid in {**then, **shifts}:
        found += _of_shift(then.get(uid), shifts.get(uid), names, moments)
    return tuple(sorted(found, key=lambda one: (one.day, one.name, one.before)))


def _moments(shifts: Iterable[Shift], since: datetime) -> dict[str, datetime]:
    """Return when each place last changed hands since a moment."""
    rows = HandOver.objects.filter(
        place__shift__in=[shift.pk for shift in shifts], at__gte=since
    )
    return {str(place): at for place, at in rows.values_list("place", "at")}


def _names(then: Held, shifts: Iterable[Shift]) -> dict[int | None, str]:
    people: set[object] = {
        person for one in then.values() for person in _held(one).values()
    }
    people |= {place.holder_id for shift in shifts for place in shift.places.all()}
    found = Person.objects.in_bulk([one for one in people if isinstance(one, int)])
    names: dict[int | None, str] = {pk: one.shown_name for pk, one in found.items()}
    names[None] = ""
    return names


def _held(one: Mapping[str, object]) -> Mapping[str, int | None]:
    held = one["held"]
    if not isinstance(held, dict):
        message = "a publication keeps who held what by place"
        raise TypeError(message)
    return held


def _of_shift(
    then: Mapping[str, object] | None,
    shift: Shift | None,
    names: Mapping[int | None, str],
    moments: Mapping[str, datetime],
) -> list[RotaChange]:
    if then is None:
        is_on = shift is not None and shift.status == Shift.Status.PUBLISHED
        if shift is None or not is_on:
            return []
        return [RotaChange(Change.NEW, shift.name, shift.day, at=shift.published_at)]
    name, day = str(then["name"]), _day(then)
    if shift is None:
        return [RotaChange(Change.GONE, name, day)]
    if shift.status == Shift.Status.CANCELLED:
        at, why = shift.changed_at, shift.cancelled_why
        return [RotaChange(Change.CANCELLED, shift.name, day, after=why, at=at)]
    now = kept(shift, shift.places.all())
    found = []
    if (now["day"], now["starts_at"]) != (then["day"], then["starts_at"]):
        found.append(_moved(then, shift))
    before, after = _held(then), _held(now)
    for place in sorted({**before, **after}, key=int):
        was, is_now = before.get(place), after.get(place)
        if was != is_now:
            found.append(
                RotaChange(
                    Change.HOLDER,
                    shift.name,
                    shift.day,
                    before=names.get(was, gettext("somebody who left")),
                    after=names.get(is_now, gettext("somebody who left")),
                    at=moments.get(place),
                )
            )
    return found


def _day(then: Mapping[str, object]) -> date:
    day = parse_date(str(then["day"]))
    if day is None:
        message = f"a publication keeps days as written, not as {then['day']}"
        raise ValueError(message)
    return day


def _moved(then: Mapping[str, object], shift: Shift) -> RotaChange:
    at = parse_time(str(then["starts_at"]))
    day = _day(then)
    return RotaChange(
        Change.MOVED,
        shift.name,
        shift.day,
        before=_day_and_clock(day, at),
        after=_day_and_clock(shift.day, shift.starts_at),
        at=shift.changed_at,
    )


def _day_and_clock(day: date, at: time | None) -> str:
    return f"{weekday_and_day(day)}, {clock(at)}" if at else weekday_and_day(day)
