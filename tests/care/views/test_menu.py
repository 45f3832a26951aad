"""Shifts are in the menu where work is shared by many, or once somebody made one."""

from datetime import time

from orchard.models import Membership
from tests.conftest import TODAY

LINK = 'href="/s/test-site/shifts/"'


def test_for_a_family_of_two_shifts_stay_out_of_sight(site, cast, client_of, make_tree):
    make_tree("Apple")
    page = client_of(cast.owner)
    assert LINK in page.get("/s/test-site/care/").content.decode()
    Membership.objects.filter(orchard=site.orchard).exclude(
        person__in=[cast.owner, cast.grower]
    ).delete()
    assert LINK not in page.get("/s/test-site/care/").content.decode()
    # The way in is the round, for whoever may make one.
    add = f"/s/test-site/shifts/add/?day={TODAY}"
    assert add in page.get("/s/test-site/").content.decode()
    assert add not in client_of(cast.grower).get("/s/test-site/").content.decode()
    site.shift_series.create(
        name="Water",
        weekdays="5",
        starts_at=time(9),
        minutes=60,
        from_on=TODAY,
        until_on=TODAY,
    )
    assert LINK in page.get("/s/test-site/care/").content.decode()
