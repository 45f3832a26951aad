"""Helper links: one round, until the day after, for as long as its maker may ask."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.core.exceptions import PermissionDenied

from care.actions.helper_links import (
    MOST_HELPERS,
    FullError,
    LinkState,
    NoWayInError,
    end_of,
    enter_as_helper,
    helper_at,
    make_helper_link,
    open_link,
    revoke_helper_link,
    rounds_to_link,
)
from care.models import Helper, HelperLink
from orchard.access import May
from orchard.actions.people import hash_of
from orchard.models import AuditEntry, Membership, Site
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)
DAY = timedelta(days=1)


@pytest.fixture
def member(cast):
    return lambda role: Membership.objects.get(person=getattr(cast, role))


@pytest.fixture
def one(site, make_tree, make_task, make_round):
    Site.objects.filter(pk=site.pk).update(own_today=None)
    site.own_today = None
    return make_round(TODAY, [make_task(make_tree("Anna"))])


@pytest.fixture
def made(member, one):
    return make_helper_link(membership=member("coordinator"), one=one, now=NOW)


def refused(token, now=NOW):
    with pytest.raises(NoWayInError) as error:
        open_link(token, now)
    return error.value.state


def test_only_hashes_are_kept_and_the_trail_knows_no_secret(made):
    link, token = made
    helper, secret = enter_as_helper(token=token, name="Sam", now=NOW)
    assert (link.token_hash, helper.secret_hash) == (hash_of(token), hash_of(secret))
    assert len(token) >= 43  # 256 bits in base64
    trail = [
        f"{entry.what} {entry.person_name} {entry.subject} {entry.after}"
        for entry in AuditEntry.objects.order_by("id")
        if entry.what.startswith("helper")
    ]
    assert [line.split()[0] for line in trail] == [
        "helper_link_made",
        "helper_link_opened",
    ]
    assert "Sam (helper)" in trail[1]
    assert not any(each in line for line in trail for each in (token, secret))


def test_who_may_not_arrange_makes_and_closes_no_link(member, one, made):
    for role in ("grower", "viewer", "stranger"):
        with pytest.raises(PermissionDenied):
            make_helper_link(membership=member(role), one=one, now=NOW)
    for role in ("grower", "viewer"):
        with pytest.raises(PermissionDenied):
            revoke_helper_link(membership=member(role), link_id=made[0].pk, now=NOW)
    # The stranger owns another orchard: the link is not there for them.
    assert not revoke_helper_link(
        membership=member("stranger"), link_id=made[0].pk, now=NOW
    )
    assert open_link(made[1], NOW) == made[0]


def test_a_link_ends_at_the_local_midnight_after_the_day_after(made):
    # In Los Angeles 4 July begins at 7:00 UTC.
    end = datetime(2025, 7, 4, 7, tzinfo=UTC)
    assert made[0].expires_at == end
    assert open_link(made[1], end - timedelta(seconds=1))
    assert refused(made[1], end) is LinkState.EXPIRED


def test_the_end_keeps_to_the_sites_clock_over_a_change_of_clocks(site):
    site.own_today = None
    site.time_zone = "Pacific/Auckland"
    now = datetime(2025, 9, 26, tzinfo=UTC)
    # New Zealand went from UTC+12 to UTC+13 on 28 September 2025.
    assert end_of(site, date(2025, 9, 26), now) == datetime(2025, 9, 27, 12, tzinfo=UTC)
    assert end_of(site, date(2025, 9, 27), now) == datetime(2025, 9, 28, 11, tzinfo=UTC)


def test_a_demonstrations_link_ends_as_many_real_days_on(site):
    now = datetime(2026, 3, 1, 20, tzinfo=UTC)
    assert end_of(site, TODAY + DAY, now) == datetime(2026, 3, 4, 8, tzinfo=UTC)


def test_closing_a_link_ends_it_and_every_cookie_it_gave(member, made):
    link, token = made
    _, secret = enter_as_helper(token=token, name="Sam", now=NOW)
    assert helper_at(secret, May.SEE, NOW)[1] == link.round
    owner = member("owner")
    assert revoke_helper_link(membership=owner, link_id=link.pk, now=NOW)
    assert not revoke_helper_link(membership=owner, link_id=link.pk, now=NOW)
    assert refused(token) is LinkState.REVOKED
    with pytest.raises(NoWayInError) as error:
        helper_at(secret, May.SEE, NOW)
    assert error.value.state is LinkState.REVOKED


@pytest.mark.parametrize("how", ["left", "lowered"])
def test_the_links_of_who_may_no_longer_arrange_are_closed(member, made, how):
    _, secret = enter_as_helper(token=made[1], name="Sam", now=NOW)
    maker = Membership.objects.filter(pk=member("coordinator").pk)
    if how == "left":
        maker.delete()
    else:
        maker.update(role="grower")
    assert refused(made[1]) is LinkState.REVOKED
    with pytest.raises(NoWayInError):
        helper_at(secret, May.TICK, NOW)


def test_a_cookie_ends_with_its_link(made):
    _, secret = enter_as_helper(token=made[1], name="Sam", now=NOW)
    with pytest.raises(NoWayInError) as error:
        helper_at(secret, May.SEE, made[0].expires_at)
    assert error.value.state is LinkState.EXPIRED


def test_an_unknown_secret_opens_nothing(made):
    assert refused("guess") is None
    assert refused("") is None
    for guess in ("", "guess", made[1]):  # the link's secret is no cookie's
        with pytest.raises(NoWayInError) as error:
            helper_at(guess, May.SEE, NOW)
        assert error.value.state is None


def test_a_helper_may_see_and_tick_and_nothing_else(made):
    _, secret = enter_as_helper(token=made[1], name="Sam", now=NOW)
    for what in May:
        if what in (May.SEE, May.TICK):
            assert helper_at(secret, what, NOW)[0].name == "Sam"
        else:
            with pytest.raises(PermissionDenied):
                helper_at(secret, what, NOW)


def test_several_people_use_one_link_each_with_a_cookie_of_their_own(made):
    given = [
        enter_as_helper(token=made[1], name=name, now=NOW) for name in ("Sam", "Sam")
    ]
    assert given[0][0] != given[1][0]
    assert given[0][1] != given[1][1]


def test_a_link_takes_no_endless_crowd(made):
    Helper.objects.bulk_create(
        Helper(link=made[0], name="x", secret_hash=str(n), first_seen_at=NOW)
        for n in range(MOST_HELPERS)
    )
    with pytest.raises(FullError):
        enter_as_helper(token=made[1], name="Sam", now=NOW)
    assert HelperLink.objects.get().helpers.count() == MOST_HELPERS


def test_a_round_can_be_linked_while_it_has_something_to_tick_soon(
    site, make_tree, make_task, make_round
):
    soon = make_round(TODAY + 2 * DAY, [make_task(make_tree("A"), days=2)])
    make_round(TODAY - DAY, [make_task(make_tree("B"))])
    make_round(TODAY + 14 * DAY, [make_task(make_tree("C"), days=14)])
    make_round(TODAY, [make_task(make_tree("D"), status="done")])
    make_round(TODAY, [make_task(make_tree("E"), is_firm=False)])
    make_round(TODAY, [make_task(make_tree("F"))], is_withdrawn=True)
    assert list(rounds_to_link(site, TODAY)) == [soon]
