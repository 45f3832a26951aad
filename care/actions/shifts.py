"""Shifts: made, changed, begun, and drafts removed.

Whoever changes a shift locks its row first and its places after it.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, time, timedelta

from django.db import transaction
from django.utils.translation import gettext, ngettext

from care.actions.places_arranged import settle_shift
from care.actions.shift_messages import HELD, Doing, tell_holders, when_words
from care.actions.tasks import postpone_task
from care.models import Shift, ShiftPlace, ShiftSeries, Task
from orchard.actions.audit import changed, note
from orchard.actions.places import raise_revision
from orchard.models import Person, Site

#: What a form may change of a shift; its day and hour are moved instead.
CHANGEABLE = (
    *("name", "minutes", "block", "kinds", "note"),
    *("is_critical", "is_hazardous"),
)
TRACED = (*CHANGEABLE, "day", "starts_at")


class PlacesHeldError(Exception):
    """More people hold places than there would be; ``people`` are those who do."""

    def __init__(self, people: Sequence[str]) -> None:
        super().__init__(", ".join(people))
        self.people = tuple(people)


class NotNowError(Exception):
    """A shift that is cancelled, over, begun or published cannot be changed so."""


@transaction.atomic
def make_shift(
    *,
    site: Site,
    values: Mapping[str, object],
    skills: Sequence[str],
    person: Person | None,
    now: datetime,
) -> Shift:
    """Make a shift, not published yet.

    ``values`` are the model's fields, checked by a form; ``skills`` names what each
    place asks for, an empty text for nothing.
    """
    shift = Shift.objects.create(site=site, changed_at=now, **values)
    add_places(shift, skills)
    raise_revision(site)
    note(
        orchard=site.orchard,
        person=person,
        what="shift_made",
        subject=subject_of(shift),
        after={"people": len(skills)},
        now=now,
    )
    return shift


def subject_of(shift: Shift) -> str:
    """Return how the trail names a shift."""
    return f"{shift.name}, {when_words(shift.day, shift.starts_at)}"


def add_places(shift: Shift, skills: Sequence[str]) -> None:
    """Add open places behind those that a shift has."""
    numbers = shift.places.values_list("number", flat=True)
    first = max(numbers, default=0) + 1
    ShiftPlace.objects.bulk_create(
        ShiftPlace(shift=shift, number=first + offset, skill=skill)
        for offset, skill in enumerate(skills)
    )


def locked(shift: Shift) -> Shift:
    """Let nobody else change a shift until this transaction ends; read it anew."""
    rows = Shift.objects.select_related("site__orchard", "block", "series")
    return rows.select_for_update(of=("self",)).get(pk=shift.pk)


@transaction.atomic
def change_shift(
    *,
    shift: Shift,
    values: Mapping[str, object],
    skills: Sequence[str],
    person: Person | None,
    now: datetime,
) -> None:
    """Change what a shift is, and how many it needs; those who hold a place keep it.

    Raises
    ------
    PlacesHeldError
        More places are held than would be left.
    NotNowError
        It is cancelled.
    """
    row = locked(shift)
    if row.status == Shift.Status.CANCELLED:
        raise NotNowError
    wanted = {name: values[name] for name in CHANGEABLE if name in values}
    before, after = changed({name: getattr(row, name) for name in wanted}, wanted)
    counts = _fit_places(row, skills)
    if counts:
        before["people"], after["people"] = counts
    if not after:
        return
    for name, value in wanted.items():
        setattr(row, name, value)
    row.changed_at = now
    row.sequence += "minutes" in after
    row.save()
    if "minutes" in after:
        _tell_of_minutes(row, person, now)
    raise_revision(row.site)
    note(
        orchard=row.site.orchard,
        person=person,
        what="shift_changed",
        subject=subject_of(row),
        before=before,
        after=after,
        now=now,
    )
    settle_shift(shift=row, now=now)


def _tell_of_minutes(shift: Shift, person: Person | None, now: datetime) -> None:
    def words() -> tuple[str, list[str]]:
        when = when_words(shift.day, shift.starts_at)
        line = ngettext(
            "{when}: {minutes} minute.", "{when}: {minutes} minutes.", shift.minutes
        ).format(when=when, minutes=shift.minutes)
        title = gettext("{shift} takes another time now").format(shift=shift.name)
        return title, [line]

    tell_holders(
        shift=shift,
        places=shift.places.filter(state__in=HELD).select_related("holder"),
        words=words,
        doing=Doing(person, now),
    )


def _fit_places(
    shift: Shift, skills: Sequence[str]
) -> tuple[list[str], list[str]] | None:
    """Have a shift's places ask for ``skills``; return what they asked for before.

    Held places are kept first, each with its own skill where that is still wanted, else
    as one that asks for none. ``None`` where nothing changes.
    """
    places = list(shift.places.filter(is_learner=False).select_related("holder"))
    before = sorted(place.skill for place in places)
    if before == sorted(skills):
        return None
    left = Counter(skills)
    held = [place for place in places if place.holder is not None]
    stranded = _unskill(_unmatched(held, left), left)
    if stranded:
        raise PlacesHeldError([one.shown_name for one in stranded])
    for place in _unmatched([one for one in places if one.holder is None], left):
        place.delete()
    add_places(shift, sorted(left.elements(), reverse=True))
    return before, sorted(skills)


def _unmatched(places: Iterable[ShiftPlace], left: Counter[str]) -> list[ShiftPlace]:
    """Return the places whose skill is asked for no more; count off the others."""
    unmatched = []
    for place in places:
        if left[place.skill] > 0:
            left[place.skill] -= 1
        else:
            unmatched.append(place)
    return unmatched


def _unskill(places: Iterable[ShiftPlace], left: Counter[str]) -> list[Person]:
    """Let held places ask for no skill while such are left; return whom none is."""
    stranded = []
    for place in places:
        if left[""] > 0:
            left[""] -= 1
            place.skill = ""
            place.save(update_fields=["skill"])
        elif place.holder is not None:
            stranded.append(place.holder)
    return stranded


@transaction.atomic
def begin_shift(
    *, shift: Shift, trees: Iterable[int], person: Person | None, now: datetime
) -> bool:
    """Begin a shift: the walking order of its trees is frozen; say whether it was new.

    ``trees`` are ids in walking order. Of two who begin it one does.

    Raises
    ------
    NotNowError
        It is cancelled, or not published.
    """
    row = locked(shift)
    if row.begun_at is not None:
        return False
    if row.status != Shift.Status.PUBLISHED:
        raise NotNowError
    row.begun_at = row.changed_at = now
    row.order = list(dict.fromkeys(trees))
    row.save(update_fields=["begun_at", "changed_at", "order"])
    raise_revision(row.site)
    note(
        orchard=row.site.orchard,
        person=person,
        what="shift_begun",
        subject=subject_of(row),
        now=now,
    )
    return True


@transaction.atomic
def remove_draft(*, shift: Shift, person: Person | None, now: datetime) -> None:
    """Remove a shift that was never published.

    Raises
    ------
    NotNowError
        People have seen it, or a series makes it: then it is cancelled instead.
    """
    row = locked(shift)
    if row.published_at is not None or row.status == Shift.Status.PUBLISHED:
        raise NotNowError
    if row.series_id is not None:
        raise NotNowError
    subject = subject_of(row)
    row.delete()
    raise_revision(row.site)
    note(
        orchard=row.site.orchard,
        person=person,
        what="shift_removed",
        subject=subject,
        now=now,
    )


def shift_of_series(
    series: ShiftSeries, day: date, starts_at: time, now: datetime
) -> Shift:
    """Make a series' shift of one day, not published yet; written by whoever fills it."""
    shift = Shift.objects.create(
        site=series.site,
        series=series,
        block=series.block,
        name=series.name,
        day=day,
        starts_at=starts_at,
        minutes=series.minutes,
        kinds=series.kinds,
        is_critical=series.is_critical,
        changed_at=now,
    )
    add_places(shift, series.skills)
    return shift


@transaction.atomic
def leave_out(
    *, shift: Shift, tasks: Iterable[Task], person: Person | None, now: datetime
) -> int:
    """Give tasks of a shift back to the plan, from the day after it; return how many."""
    row = locked(shift)
    rows = list(tasks)
    if not rows:
        return 0
    for task in rows:
        postpone_task(task=task, until=row.day + timedelta(days=1))
    note(
        orchard=row.site.orchard,
        person=person,
        what="shift_left_out",
        subject=subject_of(row),
        after={"tasks": len(rows)},
        now=now,
    )
    return len(rows)
