"""Shifts that are cancelled, moved, or take place after all; their holders are told.

A holder keeps the place through all of it and may leave as ever. Only where they hold
another shift on the new day does the place open again, and they are told so.
"""

from collections.abc import Iterable, Mapping
from datetime import date, datetime, time

from django.db import IntegrityError, transaction
from django.utils.translation import gettext

from care.actions.places_arranged import settle_shift
from care.actions.shift_messages import HELD, Doing, Words, tell_holders, when_words
from care.actions.shifts import NotNowError, locked, subject_of
from care.models import HandOver, Shift, ShiftPlace
from orchard.actions.audit import note
from orchard.actions.places import raise_revision
from orchard.models import AuditEntry, Person

WHY_MOVED = "shift_moved"
WHY_REVIVED = "shift_revived"


class SeriesDayError(Exception):
    """The series of a shift has another one on that day."""


@transaction.atomic
def cancel_shift(
    *, shift: Shift, why: str, person: Person | None, now: datetime
) -> bool:
    """Cancel a shift and tell whoever holds a place why; say whether this call did it.

    Its holders stay written down, and are free for other shifts that day. ``person`` is
    who does it, here and below; ``None`` is the server.

    Raises
    ------
    NotNowError
        It has begun.
    """
    row, doing = locked(shift), Doing(person, now)
    if row.status == Shift.Status.CANCELLED:
        return False
    if row.begun_at is not None:
        raise NotNowError
    row.status, row.cancelled_why = Shift.Status.CANCELLED, why
    _changed(row, now, "status", "cancelled_why")
    held = _held(row)
    row.places.filter(state__in=HELD).update(busy_on=None)
    tell_holders(
        shift=row,
        places=held,
        words=lambda: (
            gettext("{shift} is cancelled").format(shift=row.name),
            [
                f"{when_words(row.day, row.starts_at)}.",
                *([gettext(why)] if why else []),
            ],
        ),
        doing=doing,
    )
    _note(row, "shift_cancelled", doing, after={"why": why})
    return True


@transaction.atomic
def revive_shift(*, shift: Shift, person: Person | None, now: datetime) -> bool:
    """Let a cancelled shift take place after all; say whether this call did it."""
    row, doing = locked(shift), Doing(person, now)
    if row.status != Shift.Status.CANCELLED:
        return False
    is_known = row.published_at is not None
    row.status = Shift.Status.PUBLISHED if is_known else Shift.Status.DRAFT
    why, row.cancelled_why = row.cancelled_why, ""
    _changed(row, now, "status", "cancelled_why")
    kept, opened = _hold_again(row, WHY_REVIVED, doing)
    _tell_both(row, kept, opened, words=lambda: _revived_words(row), doing=doing)
    named = {"_shift": str(row.uid)}
    _note(row, "shift_revived", doing, before={"why": why}, after=named)
    settle_shift(shift=row, now=now)
    return True


def _revived_words(shift: Shift) -> tuple[str, list[str]]:
    title = gettext("{shift} takes place after all").format(shift=shift.name)
    return title, [f"{when_words(shift.day, shift.starts_at)}."]


def overruled(shift: Shift) -> frozenset[str]:
    """Return why a shift was called off where a person let it take place after all.

    For the same reason the program calls it off no second time.
    """
    revived = AuditEntry.objects.filter(
        orchard=shift.site.orchard_id,
        what="shift_revived",
        person__isnull=False,
        after___shift=str(shift.uid),
    )
    return frozenset(str(entry.before.get("why")) for entry in revived)


@transaction.atomic
def move_shift(
    *,
    shift: Shift,
    day: date,
    starts_at: time,
    person: Person | None,
    now: datetime,
) -> bool:
    """Move a shift to another day or hour; say whether anything changed.

    Raises
    ------
    NotNowError
        It is cancelled or has begun.
    SeriesDayError
        Its series has another shift on that day.
    """
    row, doing = locked(shift), Doing(person, now)
    if (row.day, row.starts_at) == (day, starts_at):
        return False
    if row.status == Shift.Status.CANCELLED or row.begun_at is not None:
        raise NotNowError
    if _series_has(row, day):
        raise SeriesDayError
    old = (row.day, row.starts_at)
    was = when_words(*old)
    # The first day stays known: there its series makes no second one.
    first = row.moved_from or row.day
    row.moved_from = None if first == day else first
    row.day, row.starts_at = day, starts_at
    _changed(row, now, "moved_from", "day", "starts_at")
    kept, opened = _hold_again(row, WHY_MOVED, doing)
    _tell_both(row, kept, opened, words=lambda: _moved_words(row, old), doing=doing)
    after = {"when": when_words(day, starts_at)}
    _note(row, "shift_moved", doing, before={"when": was}, after=after)
    settle_shift(shift=row, now=now)
    return True


def _moved_words(shift: Shift, old: tuple[date, time]) -> tuple[str, list[str]]:
    when = when_words(shift.day, shift.starts_at)
    title = gettext("{shift} moves to {when}").format(shift=shift.name, when=when)
    return title, [
        gettext("It was to be {when}.").format(when=when_words(*old)),
        gettext(
            "Your place is still yours. If you cannot come then, say so on its page."
        ),
    ]


def _series_has(shift: Shift, day: date) -> bool:
    if shift.series_id is None:
        return False
    others = Shift.objects.filter(series=shift.series_id, day=day)
    return others.exclude(pk=shift.pk).exists()


def _changed(shift: Shift, now: datetime, *fields: str) -> None:
    shift.sequence += 1
    shift.changed_at = now
    shift.save(update_fields=["sequence", "changed_at", *fields])
    raise_revision(shift.site)


def _note(
    shift: Shift,
    what: str,
    doing: Doing,
    *,
    before: Mapping[str, object] | None = None,
    after: Mapping[str, object] | None = None,
) -> None:
    note(
        orchard=shift.site.orchard,
        person=doing.person,
        what=what,
        subject=subject_of(shift),
        before=before,
        after=after,
        now=doing.now,
    )


def _held(shift: Shift) -> list[ShiftPlace]:
    """Return the places somebody holds, their holders at hand."""
    return list(
        shift.places.filter(state__in=HELD, holder__isnull=False).select_related(
            "holder"
        )
    )


def _hold_again(
    shift: Shift, why: str, doing: Doing
) -> tuple[list[ShiftPlace], list[ShiftPlace]]:
    """Let holders be busy on a shift's day; return the kept places and the opened ones.

    Opened ones still name who held them, for telling them.
    """
    kept, opened = [], []
    for place in _held(shift):
        try:
            with transaction.atomic():
                ShiftPlace.objects.filter(pk=place.pk).update(busy_on=shift.day)
        except IntegrityError:  # they hold another shift that day
            _open(place, why, doing)
            opened.append(place)
        else:
            kept.append(place)
    return kept, opened


def _open(place: ShiftPlace, why: str, doing: Doing) -> None:
    """Open a place; a learner's, which nobody else would fill, goes."""
    if place.is_learner:
        ShiftPlace.objects.filter(pk=place.pk).delete()
        return
    version = place.version + 1
    ShiftPlace.objects.filter(pk=place.pk).update(
        state=ShiftPlace.State.OPEN,
        holder=None,
        offered_to=None,
        accepted_at=None,
        busy_on=None,
        version=version,
    )
    HandOver.objects.create(
        place=place,
        version=version,
        from_person=place.holder,
        by_person=doing.person,
        why=why,
        at=doing.now,
    )


def _tell_both(
    shift: Shift,
    kept: Iterable[ShiftPlace],
    opened: Iterable[ShiftPlace],
    *,
    words: Words,
    doing: Doing,
) -> None:
    def lost() -> tuple[str, list[str]]:
        title, lines = words()
        other = gettext(
            "You hold a place in another shift that day, so this place is open again."
        )
        return title, [lines[0], other]

    tell_holders(shift=shift, places=kept, words=words, doing=doing)
    tell_holders(shift=shift, places=opened, words=lost, doing=doing)
