"""The trail of who changed what; written with the change, in its transaction."""

from collections.abc import Mapping
from datetime import date, datetime

from django.db.models import Model
from django.utils import timezone

from orchard.models import AuditEntry, Orchard, Person

Values = Mapping[str, object]


def note(
    *,
    orchard: Orchard,
    person: Person | None,
    what: str,
    subject: str,
    before: Values | None = None,
    after: Values | None = None,
    now: datetime | None = None,
) -> AuditEntry:
    """Write one change into the trail.

    Parameters
    ----------
    orchard : Orchard
    person : Person or None
        Who did it; ``None`` for a command on the server.
    what : str
        Verb and noun, such as ``member_removed``; its words stand with the page.
    subject : str
        Whom or what it was done to, as people name it.
    before, after : mapping, optional
        The values that changed; never a secret. Days and rows become text.
    """
    return AuditEntry.objects.create(
        orchard=orchard,
        person=person,
        person_name=person.shown_name if person else "",
        at=now or timezone.now(),
        what=what,
        subject=subject[:160],
        before=_plain(before or {}),
        after=_plain(after or {}),
    )


def _plain(value: object) -> object:
    """Return what JSON holds of a value: a day as text, a row by its name."""
    if isinstance(value, Mapping):
        return {str(name): _plain(each) for name, each in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [_plain(each) for each in value]
    if isinstance(value, date):  # a datetime is one too
        return value.isoformat()
    if isinstance(value, Model):
        return str(value)
    return value


def changed(
    before: Values, after: Values
) -> tuple[dict[str, object], dict[str, object]]:
    """Return both sides of the values that differ, and nothing else."""
    names = [name for name in after if before.get(name) != after[name]]
    return {n: before.get(n) for n in names}, {n: after[n] for n in names}
