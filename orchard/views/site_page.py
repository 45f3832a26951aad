"""What every page of one site begins with: who asks, what they may, which day it is."""

from dataclasses import dataclass
from datetime import date

from django.http import HttpRequest
from django.utils import timezone

from orchard.access import May, may, membership_at
from orchard.models import Membership, Person, Site
from orchard.units import UnitSystem


@dataclass(frozen=True, slots=True)
class SitePage:
    """A member on a site, let in."""

    site: Site
    membership: Membership
    today: date
    page: str

    @property
    def person(self) -> Person:
        """Who asks."""
        return self.membership.person

    @property
    def units(self) -> UnitSystem:
        """The person's units."""
        return UnitSystem(self.person.units)

    def allows(self, what: May) -> bool:
        """Whether the person may do ``what`` here."""
        return may(self.membership.role, what)

    def context(self, **more: object) -> dict[str, object]:
        """Return the template values every page of a site has, and ``more``."""
        return {
            "site": self.site,
            "membership": self.membership,
            "today": self.today,
            "may_edit": self.allows(May.EDIT),
            "may_tick": self.allows(May.TICK),
            "page": self.page,
            **more,
        }


def let_in(request: HttpRequest, slug: str, what: May, *, page: str) -> SitePage:
    """Let a signed-in member in who may do ``what``.

    Raises
    ------
    Http404
        The person is no member of the site's orchard, or there is no such site.
    PermissionDenied
        The person's role may not do it.
    """
    if not isinstance(request.user, Person):
        message = "Pages of a site need somebody who is signed in."
        raise TypeError(message)
    site, membership = membership_at(request.user, slug, what)
    return SitePage(site, membership, site.today(timezone.now()), page)
