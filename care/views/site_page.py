"""What every page of a site starts from: who stands where, and on which day."""

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
    """One request to one site by somebody who may make it."""

    site: Site
    membership: Membership
    today: date
    now: datetime

    @property
    def person(self) -> Person:
        """Who asks."""
        return self.membership.person

    @property
    def units(self) -> UnitSystem:
        """In which units they read."""
        return UnitSystem(self.person.units)

    @property
    def may_tick(self) -> bool:
        """Whether they may tick, observe and log."""
        return may(self.membership.role, May.TICK)

    @property
    def may_edit(self) -> bool:
        """Whether they may change trees and the site."""
        return may(self.membership.role, May.EDIT)

    def context(self, page: str, **more: object) -> dict[str, object]:
        """Return the template values of every site page, and more."""
        return {
            "site": self.site,
            "membership": self.membership,
            "today": self.today,
            "may_tick": self.may_tick,
            "may_edit": self.may_edit,
            "page": page,
            **more,
        }


def open_site(request: HttpRequest, slug: str, what: May = May.SEE) -> SitePage:
    """Return the page's ground, if the person may do ``what`` there.

    Raises
    ------
    Http404
        No such site, or the person is no member of its orchard.
    PermissionDenied
        Their role may not do ``what``.
    """
    site, membership = membership_at(request.user, slug, what)
    now = timezone.now()
    return SitePage(site, membership, site.today(now), now)


def back_to(request: HttpRequest, otherwise: str) -> HttpResponse:
    """Redirect to the page the form came from, if it is one of ours."""
    wanted = request.POST.get("back", "")
    is_ours = url_has_allowed_host_and_scheme(
        wanted, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return redirect(wanted if is_ours else otherwise)
