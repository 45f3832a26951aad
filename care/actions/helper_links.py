"""Helper links: make for one round, open by name, revoke; and the one way in.

A link is for whoever is sent it, so it opens one round and ends the day after. The
first visit swaps its secret for another that a cookie keeps; of both only hashes are
stored. Whoever made a link and may no longer arrange work has no open links: they know
their secrets.
"""

import secrets
from datetime import UTC, date, datetime, time, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.db.models import Exists, OuterRef, QuerySet

from care.models import Helper, HelperLink, Round
from orchard.access import HELPER_MAY, NOBODY_TO_ASK, May, may
from orchard.actions.audit import note
from orchard.actions.people import hash_of
from orchard.models import Membership, Role, Site

#: A link works through the day after its round, for what was left over.
DAYS_AFTER = timedelta(days=1)
#: A round further off is better linked nearer its day. Common practice, no source.
FURTHEST = timedelta(days=13)
#: More people than ever walk one round. Common practice, no source.
MOST_HELPERS = 60


class LinkState(StrEnum):
    """What became of a link."""

    OPEN = "open"
    EXPIRED = "expired"
    REVOKED = "revoked"


class NoWayInError(Exception):
    """The secret opens nothing; ``state`` is ``None`` where nobody knows it."""

    def __init__(self, state: LinkState | None) -> None:
        super().__init__(state or "unknown")
        self.state = state


class FullError(Exception):
    """As many people as a link takes have opened it."""


def links() -> QuerySet[HelperLink]:
    """Return all links, each knowing whether its maker may still arrange work."""
    roles = [role for role in Role.values if may(role, May.ARRANGE)]
    makers = Membership.objects.filter(
        person=OuterRef("made_by"), orchard=OuterRef("site__orchard"), role__in=roles
    )
    return HelperLink.objects.annotate(is_backed=Exists(makers)).select_related(
        "site__orchard", "round__block", "made_by"
    )


def state_of(link: HelperLink, now: datetime) -> LinkState:
    """Return what became of one of ``links()`` by ``now``."""
    is_backed: bool = getattr(link, "is_backed")  # noqa: B009 (annotated by links())
    if link.revoked_at is not None or not is_backed:
        return LinkState.REVOKED
    return LinkState.OPEN if now < link.expires_at else LinkState.EXPIRED


def end_of(site: Site, day: date, now: datetime) -> datetime:
    """Return when a link for a round of ``day`` ends: at midnight after the day after.

    A demonstration lives in days of its own; its links end as many real days on.
    """
    zone = ZoneInfo(site.time_zone)
    days_ahead = day - site.today(now)
    last = now.astimezone(zone).date() + days_ahead + DAYS_AFTER
    midnight = datetime.combine(last + timedelta(days=1), time.min, tzinfo=zone)
    return midnight.astimezone(UTC)


def rounds_to_link(site: Site, today: date) -> QuerySet[Round]:
    """Return the rounds a link can be made for, soonest first."""
    return (
        Round.objects.filter(
            site=site,
            is_withdrawn=False,
            day__gte=today,
            day__lte=today + FURTHEST,
            tasks__status="open",
            tasks__is_firm=True,
        )
        .select_related("block")
        .distinct()
        .order_by("day", "block__position", "id")
    )


@transaction.atomic
def make_helper_link(
    *, membership: Membership, one: Round, now: datetime
) -> tuple[HelperLink, str]:
    """Return a new link to a round and its secret, shown now and never again.

    Raises
    ------
    PermissionDenied
        The member may not arrange work, or the round is not their orchard's.
    """
    is_theirs = one.site.orchard_id == membership.orchard_id
    if not (is_theirs and may(membership.role, May.ARRANGE)):
        raise PermissionDenied(NOBODY_TO_ASK)
    token = secrets.token_urlsafe(32)
    link = HelperLink.objects.create(
        site=one.site,
        round=one,
        token_hash=hash_of(token),
        made_by=membership.person,
        made_at=now,
        expires_at=end_of(one.site, one.day, now),
    )
    note(
        orchard=membership.orchard,
        person=membership.person,
        what="helper_link_made",
        subject=_subject(one),
        after={"ends_at": link.expires_at.isoformat()},
        now=now,
    )
    return link, token


def _subject(one: Round) -> str:
    place = one.block.name if one.block else one.site.name
    return f"{place}, {one.day.isoformat()}"


@transaction.atomic
def revoke_helper_link(*, membership: Membership, link_id: int, now: datetime) -> bool:
    """Close a link of the member's orchard; whether it was there and not yet closed.

    Raises
    ------
    PermissionDenied
        The member may not arrange work.
    """
    if not may(membership.role, May.ARRANGE):
        raise PermissionDenied(NOBODY_TO_ASK)
    theirs = HelperLink.objects.filter(pk=link_id, site__orchard=membership.orchard)
    link = theirs.select_related("round__block", "round__site").first()
    if link is None:
        return False
    # Of several at once one changes the row, as long as no join is asked for.
    still_open = HelperLink.objects.filter(pk=link.pk, revoked_at=None)
    if not still_open.update(revoked_at=now):
        return False
    note(
        orchard=membership.orchard,
        person=membership.person,
        what="helper_link_revoked",
        subject=_subject(link.round),
        now=now,
    )
    return True


def open_link(token: str, now: datetime) -> HelperLink:
    """Return the open link behind a secret; looking uses nothing up.

    Raises
    ------
    NoWayInError
        Nobody knows the secret, or its link has ended or was closed.
    """
    link = links().filter(token_hash=hash_of(token)).first()
    return _still_open(link, now)


def _still_open(link: HelperLink | None, now: datetime) -> HelperLink:
    state = state_of(link, now) if link is not None else None
    if link is None or state is not LinkState.OPEN:
        raise NoWayInError(state)
    return link


@transaction.atomic
def enter_as_helper(*, token: str, name: str, now: datetime) -> tuple[Helper, str]:
    """Return a new helper behind a link and the secret for their cookie.

    Raises
    ------
    NoWayInError
        Nobody knows the secret, or its link has ended or was closed.
    FullError
        Too many have opened it.
    """
    link = open_link(token, now)
    HelperLink.objects.select_for_update().get(pk=link.pk)  # they are counted
    if link.helpers.count() >= MOST_HELPERS:
        raise FullError
    secret = secrets.token_urlsafe(32)
    helper = Helper.objects.create(
        link=link, name=name, secret_hash=hash_of(secret), first_seen_at=now
    )
    entry = note(
        orchard=link.site.orchard,
        person=None,
        what="helper_link_opened",
        subject=_subject(link.round),
        now=now,
    )
    entry.person_name = f"{name} (helper)"  # not the server, as nobody would mean
    entry.save(update_fields=["person_name"])
    return helper, secret


def helper_at(secret: str, what: May, now: datetime) -> tuple[Helper, Round]:
    """Return a helper and the one round that a cookie's secret opens.

    Every page of a helper comes through here, as those of members come through
    ``membership_at``.

    Raises
    ------
    NoWayInError
        Nobody knows the secret, or its link has ended or was closed.
    PermissionDenied
        Helpers may not do ``what``.
    """
    if what not in HELPER_MAY:
        raise PermissionDenied(NOBODY_TO_ASK)
    helper = Helper.objects.filter(secret_hash=hash_of(secret)).first()
    if helper is None:
        raise NoWayInError(None)
    link = _still_open(links().filter(pk=helper.link_id).first(), now)
    helper.link = link
    return helper, link.round
