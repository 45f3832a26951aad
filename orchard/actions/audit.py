"""The trail of who changed what; written with the change, in its transaction."""

from collections.abc import Mapping
from datetime import datetime

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
        The values that changed, JSON-plain; never a secret.
    """
    return AuditEntry.objects.create(
        orchard=orchard,
        person=person,
        person_name=person.shown_name if person else "",
        at=now or timezone.now(),
        what=what,
        subject=subject[:160],
        before=dict(before or {}),
        after=dict(after or {}),
    )


def changed(
    before: Values, after: Values
) -> tuple[dict[str, object], dict[str, object]]:
    """Return both sides of the values that differ, and nothing else."""
    names = [name for name in after if before.get(name) != after[name]]
    return {n: before.get(n) for n in names}, {n: after[n] for n in names}
