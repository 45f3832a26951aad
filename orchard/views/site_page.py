"""What every page of one site begins with: who asks, what they may, which day it is."""

from dataclasses import dataclass
from datetime import date, datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme

from orchard.access import May, may, membership_at
from orchard.models import Membership, Person, Site
from orchard.units import UnitSystem


@dataclass(frozen=True, slots=True)
class SitePage:
    """A member on a site, let in."""

    site: Site
    membership: Membership
    today: date
    now: datetime
    page: str = ""

    @property
    def person(self) -> Person:
        """Who asks."""
        return self.membership.person

    @property
    def units(self) -> UnitSystem:
        """The person's units."""
        return UnitSystem(self.person.units)

    @property
    def may_tick(self) -> bool:
        """Whether the person may tick, observe and log."""
        return self.allows(May.TICK)

    @property
    def may_edit(self) -> bool:
        """Whether the person may change trees and the site."""
        return self.allows(May.EDIT)

    @property
    def may_arrange(self) -> bool:
        """Whether the person may ask others to help."""
        return self.allows(May.ARRANGE)

    def allows(self, what: May) -> bool:
        """Whether the person may do ``what`` here."""
        return may(self.membership.role, what)

    def context(self, page: str = "", **more: object) -> dict[str, object]:
        """Return the template values every page of a site has, and ``more``."""
        return {
            "site": self.site,
            "membership": self.membership,
            "today": self.today,
            "may_edit": self.may_edit,
            "may_tick": self.may_tick,
            "may_arrange": self.may_arrange,
            "page": page or self.page,
            **more,
        }


def let_in(
    request: HttpRequest, slug: str, what: May = May.SEE, *, page: str = ""
) -> SitePage:
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
    now = timezone.now()
    return SitePage(site, membership, site.today(now), now, page)


def back_to(request: HttpRequest, otherwise: str) -> HttpResponse:
    """Redirect to the page the form came from, if it is one of ours."""
    wanted = request.POST.get("back", "")
    is_ours = url_has_allowed_host_and_scheme(
        wanted, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return redirect(wanted if is_ours else otherwise)
