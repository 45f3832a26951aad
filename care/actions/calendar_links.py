"""Calendar links: make, show once, revoke."""

import secrets
from datetime import datetime

from django.db import transaction

from care.models import CalendarLink
from orchard.actions.audit import note
from orchard.actions.people import hash_of
from orchard.models import Membership


@transaction.atomic
def make_calendar_link(
    *, membership: Membership, label: str, only_in_care: bool = False
) -> tuple[CalendarLink, str]:
    """Return a new link and its secret, which is shown now and never again.

    With ``only_in_care`` it shows what its member looks after and nothing else.
    """
    token = secrets.token_urlsafe(32)
    link = CalendarLink.objects.create(
        membership=membership,
        label=label,
        only_in_care=only_in_care,
        token_hash=hash_of(token),
    )
    note(
        orchard=membership.orchard,
        person=membership.person,
        what="calendar_link_made",
        subject=label,
    )
    return link, token


@transaction.atomic
def revoke_calendar_link(
    *, membership: Membership, link_id: int, now: datetime
) -> bool:
    """Close one of the member's own links; whether there was one to close."""
    rows = CalendarLink.objects.filter(pk=link_id, membership=membership)
    if not rows.filter(revoked_at=None).update(revoked_at=now):
        return False
    link = rows.get()
    note(
        orchard=membership.orchard,
        person=membership.person,
        what="calendar_link_closed",
        subject=link.label,
        now=now,
    )
    return True


def link_of_token(token: str) -> CalendarLink | None:
    """Return the open link behind a secret; unknown and revoked are the same."""
    return (
        CalendarLink.objects.filter(token_hash=hash_of(token), revoked_at=None)
        .select_related("membership__orchard", "membership__person")
        .first()
    )


def note_reading(*, link: CalendarLink, now: datetime) -> None:
    """Remember when a calendar program last asked."""
    CalendarLink.objects.filter(pk=link.pk).update(last_read_at=now)
