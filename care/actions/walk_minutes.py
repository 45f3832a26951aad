"""How long a whole walk took: said once, corrected by saying it again."""

from datetime import date, datetime

from django.db import transaction
from django.db.models import QuerySet

from care.models import LogEntry
from care.planning.learned_minutes import WALK_MINUTES
from orchard.models import Person, Site


def walk_time_of(site: Site, person: Person, on: date) -> LogEntry | None:
    """Return what a person said of their walk of a day, if they did."""
    return _said(site, person, on).first()


@transaction.atomic
def say_walk_minutes(
    *, site: Site, person: Person, on: date, now: datetime, minutes: float | None
) -> LogEntry | None:
    """Write how long a person's walk of a day took; ``None`` takes it back.

    What they said of it before is voided and keeps its row. No plan reads it, so the
    site's revision stays.
    """
    Site.objects.select_for_update().get(pk=site.pk)  # so that one entry stands
    standing = _said(site, person, on).first()
    if standing is not None:
        if standing.amount == minutes:
            return standing
        _said(site, person, on).update(voided_at=now, voided_by=person)
    if minutes is None:
        return None
    return LogEntry.objects.create(
        site=site,
        person=person,
        on=on,
        recorded_at=now,
        what=LogEntry.What.OBSERVED,
        kind=WALK_MINUTES,
        amount=minutes,
        unit="min",
    )


def _said(site: Site, person: Person, on: date) -> QuerySet[LogEntry]:
    return LogEntry.objects.filter(
        site=site, person=person, on=on, kind=WALK_MINUTES, voided_at=None
    )
