"""Who may do what: the one place pages, calendars, jobs and commands ask.

=============================  =====  ===========  ======  ======
may                            owner  coordinator  grower  viewer
=============================  =====  ===========  ======  ======
see trees, tasks, log            x         x         x       x
tick, observe, log harvest       x         x         x
edit trees, sites, weather       x         x
shifts, rota, invites            x         x
roles, local rules, deletion     x
=============================  =====  ===========  ======  ======

Another orchard's anything is 404: a stranger learns not even that it exists.
"""

from enum import StrEnum

from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.db.models import QuerySet
from django.http import Http404
from django.utils.translation import gettext_lazy

from orchard.models import Membership, Person, Role, Site


class May(StrEnum):
    """What there is to be allowed."""

    SEE = "see"
    TICK = "tick"
    EDIT = "edit"
    ARRANGE = "arrange"
    GOVERN = "govern"


ALLOWED: dict[str, frozenset[May]] = {
    Role.OWNER: frozenset(May),
    Role.COORDINATOR: frozenset({May.SEE, May.TICK, May.EDIT, May.ARRANGE}),
    Role.GROWER: frozenset({May.SEE, May.TICK}),
    Role.VIEWER: frozenset({May.SEE}),
}

#: A volunteer behind a helper link, within its one round and nowhere else.
HELPER_MAY = frozenset({May.SEE, May.TICK})

NOBODY_TO_ASK = gettext_lazy(
    "Ask an owner or coordinator of this orchard: your role may not do this."
)


def may(role: str, what: May) -> bool:
    """Whether a member with ``role`` may do ``what``; an unknown role may nothing."""
    return what in ALLOWED.get(role, frozenset())


def invitable_roles(role: str) -> tuple[str, ...]:
    """Return the roles a member may invite to: nobody invites above themselves."""
    if may(role, May.GOVERN):
        return tuple(Role.values)
    if may(role, May.ARRANGE):
        return tuple(value for value in Role.values if value != Role.OWNER)
    return ()


def sites_of(person: Person | AnonymousUser) -> QuerySet[Site]:
    """Return the sites of every orchard the person belongs to."""
    if not isinstance(person, Person):
        return Site.objects.none()
    return Site.objects.filter(orchard__memberships__person=person).distinct()


def membership_at(
    person: Person | AnonymousUser, slug: str, what: May
) -> tuple[Site, Membership]:
    """Return a site and the person's membership, if they may do ``what`` there.

    Raises
    ------
    Http404
        The site does not exist or the person is no member of its orchard.
    PermissionDenied
        The person is a member whose role may not do ``what``.
    """
    if not isinstance(person, Person):
        raise Http404
    membership = (
        Membership.objects.filter(person=person, orchard__sites__slug=slug)
        .select_related("orchard", "person")
        .first()
    )
    if membership is None:
        raise Http404
    if not may(membership.role, what):
        raise PermissionDenied(NOBODY_TO_ASK)
    sites = membership.orchard.sites.select_related("orchard", "way_in")
    site = sites.get(slug=slug)
    return site, membership
