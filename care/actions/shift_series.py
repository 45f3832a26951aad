"""Shifts that repeat: made, filled four weeks ahead, silent where rain did the work.

A series that is silent when wet makes no shift for a day before which nothing of its
kinds of work begins to be due. What the plan cannot see yet is not silence: from the
first day on which a tree may need it again, its shifts stand. A published shift is
called off only when its day is near, so that nobody's week changes twice; it comes back
the same way.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from django.db import transaction
from django.db.models import F
from django.utils.translation import gettext_noop

from care.actions.shift_changes import cancel_shift, overruled, revive_shift
from care.actions.shifts import shift_of_series
from care.models import Shift, ShiftSeries, Task
from care.planning.shift_times import begins_at, next_clear_time
from orchard.actions.audit import note
from orchard.actions.places import raise_revision
from orchard.models import Person, Site, Tree
from orchard.sources.official_warnings import site_moment

#: Shifts are made so far ahead; common practice, no source.
FILLED_DAYS = 27
#: A published shift is called off for want of work from so many days before; ours.
SURE_DAYS = timedelta(days=2)
DAY = timedelta(days=1)
#: Why the program itself called a shift off. Such a one comes back with the work.
SILENT = gettext_noop(
    "Rain did it, or it is done: nothing of this work is due that day."
)
ENDED = gettext_noop("The series ended.")


@dataclass(slots=True)
class Filled:
    """How many shifts filling made, silenced and brought back."""

    made: int = 0
    silenced: int = 0
    revived: int = 0


@dataclass(frozen=True, slots=True)
class DueWork:
    """From when each kind of work is due, by block; ``None`` is trees of no block."""

    starts: Mapping[tuple[str, int | None], date] = field(default_factory=dict)

    def first_day(self, series: ShiftSeries) -> date | None:
        """Return the first day on which work of a series may be due, if any is known."""
        days = [
            start
            for (kind, block_id), start in self.starts.items()
            if (not series.kinds or kind in series.kinds)
            and series.block_id in (None, block_id)
        ]
        return min(days, default=None)

    def is_silent(self, series: ShiftSeries, day: date) -> bool:
        """Whether a series gives no shift for a day."""
        if not series.silent_when_wet:
            return False
        first = self.first_day(series)
        return first is None or first > day


@transaction.atomic
def make_series(
    *,
    site: Site,
    values: Mapping[str, object],
    person: Person | None,
    now: datetime,
) -> ShiftSeries:
    """Make a series; ``values`` are the model's fields, checked by a form.

    Its shifts come by :func:`fill_series`.
    """
    series = ShiftSeries.objects.create(site=site, **values)
    note(
        orchard=site.orchard,
        person=person,
        what="series_made",
        subject=series.name,
        after={"from": series.from_on, "until": series.until_on},
        now=now,
    )
    return series


@transaction.atomic
def end_series(
    *,
    series: ShiftSeries,
    is_all_off: bool,
    person: Person | None,
    today: date,
    now: datetime,
) -> int:
    """Let a series make no more shifts; return how many published ones stay.

    Drafts to come go. Published ones are cancelled, and their holders told, where
    ``is_all_off``; else they stay.
    """
    row = ShiftSeries.objects.select_for_update().get(pk=series.pk)
    if row.is_ended:
        return 0
    row.is_ended = True
    row.save(update_fields=["is_ended"])
    ahead = Shift.objects.filter(series=row, day__gte=today, begun_at=None)
    ahead.filter(status=Shift.Status.DRAFT, published_at=None).delete()
    published = list(ahead.filter(status=Shift.Status.PUBLISHED))
    if is_all_off:
        for shift in published:
            cancel_shift(shift=shift, why=ENDED, person=person, now=now)
    raise_revision(row.site)
    note(
        orchard=row.site.orchard,
        person=person,
        what="series_ended",
        subject=row.name,
        now=now,
    )
    return 0 if is_all_off else len(published)


@transaction.atomic
def fill_series(*, site: Site, today: date, until: date, now: datetime) -> Filled:
    """Make the shifts of a site's series through a day; safe to run again.

    Plan the site first. Nothing moves that a person cancelled, moved or began.
    """
    filled = Filled()
    rows = ShiftSeries.objects.select_for_update().filter(
        site=site, is_ended=False, from_on__lte=until, until_on__gte=today
    )
    all_series = list(rows.order_by("pk"))
    if not all_series:
        return filled
    due = due_work(site)
    stored = _stored(all_series, today)
    for series in all_series:
        series.site = site
        theirs = stored.get(series.pk, [])
        taken = {day for shift in theirs for day in (shift.day, shift.moved_from)}
        for shift in theirs:
            _settle(shift, due, today, now, filled)
        for day in days_of(series, max(today, series.from_on), until):
            if day not in taken and not due.is_silent(series, day):
                filled.made += _make(series, day, now)
    return filled


def due_work(site: Site) -> DueWork:
    """Return from when the open tasks of a site are due, in one query."""
    tasks = Task.objects.filter(
        site=site, status=Task.Status.OPEN, tree__status=Tree.Status.ALIVE
    ).annotate(block_id=F("tree__block_id"))
    starts: dict[tuple[str, int | None], date] = {}
    fields = ("kind", "block_id", "earliest", "likely_from", "not_before")
    for kind, block_id, earliest, likely_from, not_before in tasks.values_list(*fields):
        start = max(filter(None, (likely_from or earliest, not_before)))
        place = (kind, block_id)
        starts[place] = min(starts.get(place, start), start)
    return DueWork(starts)


def days_of(series: ShiftSeries, first: date, last: date) -> list[date]:
    """Return the days of a series from a first to a last, both included."""
    last = min(last, series.until_on)
    days = (first + number * DAY for number in range((last - first).days + 1))
    return [day for day in days if str(day.weekday()) in series.weekdays]


def _stored(
    all_series: Collection[ShiftSeries], today: date
) -> dict[int | None, list[Shift]]:
    shifts: dict[int | None, list[Shift]] = {}
    rows = Shift.objects.filter(series__in=all_series).select_related(
        "series", "site__orchard"
    )
    is_ahead = rows.filter(day__gte=today) | rows.filter(moved_from__gte=today)
    for shift in is_ahead.prefetch_related("places"):
        shifts.setdefault(shift.series_id, []).append(shift)
    return shifts


def _make(series: ShiftSeries, day: date, now: datetime) -> bool:
    """Make one shift; a time that clocks skip or show twice that night gives way."""
    on, at = next_clear_time(day, series.starts_at, series.site.time_zone)
    if on != day:
        return False
    shift_of_series(series, day, at, now)
    return True


def _settle(
    shift: Shift, due: DueWork, today: date, now: datetime, filled: Filled
) -> None:
    """Silence one stored shift of a series, or bring it back, as the plan says."""
    series = shift.series
    if series is None or shift.moved_from is not None or not _is_ahead(shift, now):
        return
    is_silent = due.is_silent(series, shift.day)
    is_off = shift.status == Shift.Status.CANCELLED
    if is_off and not is_silent and shift.cancelled_why == SILENT:
        filled.revived += revive_shift(shift=shift, person=None, now=now)
    elif is_silent and not is_off and _may_silence(shift, today):
        filled.silenced += _silence(shift, now)


def _is_ahead(shift: Shift, now: datetime) -> bool:
    """Whether a shift has not begun, by anybody's word or the site's clock."""
    site = shift.site
    return shift.begun_at is None and begins_at(shift, site) > site_moment(site, now)


def _may_silence(shift: Shift, today: date) -> bool:
    return shift.status == Shift.Status.DRAFT or shift.day <= today + SURE_DAYS


def _silence(shift: Shift, now: datetime) -> bool:
    """Remove a draft that nobody has a part in; cancel any other, unless overruled."""
    if shift.published_at is None and _is_as_made(shift):
        shift.delete()
        return True
    if SILENT in overruled(shift):
        return False
    return cancel_shift(shift=shift, why=SILENT, person=None, now=now)


def _is_as_made(shift: Shift) -> bool:
    """Whether a draft is as its series made it, and nobody holds a place."""
    series, places = shift.series, list(shift.places.all())
    if series is None or any(place.holder_id for place in places):
        return False
    made = (series.name, series.minutes, series.block_id, series.kinds)
    now = (shift.name, shift.minutes, shift.block_id, shift.kinds)
    skills = sorted(place.skill for place in places)
    is_plain = not shift.note and not shift.is_hazardous
    return is_plain and made == now and skills == sorted(series.skills)
