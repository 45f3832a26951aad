from itertools import product

import pytest
from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import Http404

from orchard.access import May, may, membership_at, sites_of
from orchard.models import Membership, Role

SEE, TICK, EDIT, ARRANGE, GOVERN = May
# The table as the growers were promised it, written out once more on purpose.
TABLE = {
    "owner": {SEE, TICK, EDIT, ARRANGE, GOVERN},
    "coordinator": {SEE, TICK, EDIT, ARRANGE},
    "grower": {SEE, TICK},
    "viewer": {SEE},
}


@pytest.mark.parametrize(("role", "what"), list(product(TABLE, May)))
def test_each_role_may_what_the_table_says(role, what):
    assert may(role, what) is (what in TABLE[role])


def test_the_table_knows_every_role():
    assert set(TABLE) == set(Role.values)


@pytest.mark.parametrize("what", May)
def test_an_unknown_role_may_nothing(what):
    assert not may("gardener", what)


@pytest.mark.parametrize(("role", "what"), list(product(TABLE, May)))
def test_a_member_is_let_in_or_told_whom_to_ask(cast, site, role, what):
    person = getattr(cast, role)
    if what in TABLE[role]:
        found, membership = membership_at(person, site.slug, what)
        assert (found, membership.person, membership.role) == (site, person, role)
    else:
        with pytest.raises(PermissionDenied, match="Ask an owner or coordinator"):
            membership_at(person, site.slug, what)


@pytest.mark.parametrize("what", May)
def test_a_stranger_learns_nothing(cast, site, what):
    with pytest.raises(Http404):
        membership_at(cast.stranger, site.slug, what)
    with pytest.raises(Http404):
        membership_at(cast.stranger, "no-such-site", what)
    with pytest.raises(Http404):
        membership_at(AnonymousUser(), site.slug, what)


def test_somebody_who_left_is_a_stranger(cast, site):
    Membership.objects.filter(person=cast.grower).delete()
    with pytest.raises(Http404):
        membership_at(cast.grower, site.slug, SEE)


def test_one_site_of_two_orchards_is_found_for_each(cast, site):
    elsewhere = cast.stranger.orchards.get()
    Membership.objects.create(person=cast.grower, orchard=elsewhere, role=Role.VIEWER)
    found, membership = membership_at(cast.grower, site.slug, TICK)
    assert (found, membership.role) == (site, "grower")
    other = elsewhere.sites.get()
    with pytest.raises(PermissionDenied):
        membership_at(cast.grower, other.slug, TICK)
    assert set(sites_of(cast.grower)) == {site, other}


def test_sites_of_nobody(cast, site):
    assert list(sites_of(AnonymousUser())) == []
    assert site not in sites_of(cast.stranger)
