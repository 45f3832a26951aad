"""The look back at earlier plans: wish for it, begin it, keep it or say what failed.

It is reckoned from the record and changes none of it: no revision rises and nothing
stands in the trail. Between beginning and keeping, no transaction is open.
"""

from datetime import datetime, timedelta
from enum import StrEnum

from django.db import transaction
from django.db.models import Q, QuerySet

from care.models import Hindcast
from orchard.models import Site

#: A worker that has not finished by then has died; ours, ten times what it takes.
LEASE = timedelta(minutes=30)
#: After so long it is made anew, if the weather it was made of has changed; ours.
KEEPS = timedelta(days=30)
ERROR_LENGTH = 240


class LookState(StrEnum):
    """Where a site's look back stands."""

    NEVER = "never"
    WISHED = "wished"
    UNDER_WAY = "under_way"
    FAILED = "failed"
    DONE = "done"


def state_of(look: Hindcast | None, now: datetime) -> LookState:
    """Return where a look back stands; an older one may be there all the same."""
    if look is None:
        return LookState.NEVER
    if look.begun_at is not None and look.begun_at > now - LEASE:
        return LookState.UNDER_WAY
    if look.wished_at is not None or look.begun_at is not None:
        return LookState.WISHED
    if look.error:
        return LookState.FAILED
    return LookState.DONE if look.done_at is not None else LookState.NEVER


@transaction.atomic
def wish_for_hindcast(*, site: Site, now: datetime) -> Hindcast:
    """Ask for a look back; asking again while one waits or runs changes nothing."""
    look, _ = Hindcast.objects.select_for_update().get_or_create(site=site)
    if state_of(look, now) not in (LookState.WISHED, LookState.UNDER_WAY):
        look.wished_at = now
        look.begun_at = None
        look.error = ""
        look.save(update_fields=["wished_at", "begun_at", "error"])
    return look


def _waiting(now: datetime) -> QuerySet[Hindcast]:
    """Return those wished for, and those whose worker died, oldest wish first."""
    is_dead = Q(begun_at__lte=now - LEASE)
    is_wished = Q(wished_at__isnull=False, begun_at=None)
    return Hindcast.objects.filter(is_wished | is_dead).order_by("wished_at", "pk")


@transaction.atomic
def begin_hindcast(*, now: datetime) -> Hindcast | None:
    """Take the next look back that waits, ``None`` while another runs or none waits."""
    looks = Hindcast.objects.select_for_update().order_by("pk")
    running = [look for look in looks if state_of(look, now) is LookState.UNDER_WAY]
    look = _waiting(now).select_related("site").first()
    if running or look is None:
        return None
    look.begun_at = now
    look.save(update_fields=["begun_at"])
    return look


@transaction.atomic
def keep_hindcast(
    *, site: Site, report: dict[str, object], digest: str, now: datetime
) -> Hindcast:
    """Keep a finished report; whatever was wished or under way is answered by it."""
    look, _ = Hindcast.objects.update_or_create(
        site=site,
        defaults={
            "report": report,
            "digest": digest,
            "done_at": now,
            "wished_at": None,
            "begun_at": None,
            "error": "",
        },
    )
    return look


@transaction.atomic
def fail_hindcast(*, site: Site, error: str) -> None:
    """Say what went wrong; the report before, if any, stays."""
    Hindcast.objects.filter(site=site).update(
        error=error[:ERROR_LENGTH], wished_at=None, begun_at=None
    )


def grown_old(now: datetime) -> QuerySet[Hindcast]:
    """Return the reports that are old enough to be made anew, and nothing under way."""
    return (
        Hindcast.objects.filter(done_at__lte=now - KEEPS, wished_at=None, begun_at=None)
        .select_related("site")
        .order_by("done_at", "pk")
    )
