"""A look back is wished for, begun once, and kept or told to have failed."""

from datetime import UTC, datetime, timedelta

import pytest

from care.actions.hindcasts import (
    KEEPS,
    LEASE,
    LookState,
    begin_hindcast,
    fail_hindcast,
    grown_old,
    keep_hindcast,
    state_of,
    wish_for_hindcast,
)
from care.models import Hindcast
from orchard.models import Site

NOW = datetime(2025, 7, 2, 9, tzinfo=UTC)
MINUTE = timedelta(minutes=1)


@pytest.fixture
def other(site, cast):
    """The stranger's site."""
    return Site.objects.exclude(pk=site.pk).get()


def state(site, now=NOW):
    return state_of(Hindcast.objects.filter(site=site).first(), now)


def keep(site, now=NOW):
    return keep_hindcast(site=site, report={"count": 3}, digest="d", now=now)


def test_nobody_asked_yet(site):
    assert state(site) is LookState.NEVER


def test_a_wish_waits_is_begun_and_kept(site):
    site.refresh_from_db()
    revision = site.revision
    wish_for_hindcast(site=site, now=NOW)
    assert state(site) is LookState.WISHED
    look = begin_hindcast(now=NOW + MINUTE)
    assert look is not None
    assert look.site == site
    assert state(site, NOW + MINUTE) is LookState.UNDER_WAY
    kept = keep(site, NOW + 2 * MINUTE)
    assert state(site, NOW + 2 * MINUTE) is LookState.DONE
    assert (kept.report, kept.digest) == ({"count": 3}, "d")
    site.refresh_from_db()
    assert site.revision == revision


def test_wishing_twice_is_one_wish(site):
    first = wish_for_hindcast(site=site, now=NOW)
    again = wish_for_hindcast(site=site, now=NOW + MINUTE)
    assert again.wished_at == first.wished_at
    begin_hindcast(now=NOW + MINUTE)
    wish_for_hindcast(site=site, now=NOW + 2 * MINUTE)
    assert state(site, NOW + 2 * MINUTE) is LookState.UNDER_WAY


def test_one_at_a_time_and_the_oldest_wish_first(site, other):
    wish_for_hindcast(site=other, now=NOW)
    wish_for_hindcast(site=site, now=NOW + MINUTE)
    assert begin_hindcast(now=NOW + 2 * MINUTE).site == other
    assert begin_hindcast(now=NOW + 3 * MINUTE) is None
    keep(other, NOW + 4 * MINUTE)
    assert begin_hindcast(now=NOW + 5 * MINUTE).site == site


def test_nothing_waits(site):
    keep(site)
    assert begin_hindcast(now=NOW) is None


def test_what_a_dead_worker_held_is_begun_again(site):
    wish_for_hindcast(site=site, now=NOW)
    begin_hindcast(now=NOW)
    later = NOW + LEASE
    assert state(site, later) is LookState.WISHED
    assert begin_hindcast(now=later).begun_at == later


def test_what_failed_says_so_and_keeps_the_report_before(site):
    keep(site)
    wish_for_hindcast(site=site, now=NOW + MINUTE)
    begin_hindcast(now=NOW + MINUTE)
    fail_hindcast(site=site, error="x" * 999)
    look = Hindcast.objects.get(site=site)
    assert state(site, NOW + MINUTE) is LookState.FAILED
    assert look.report == {"count": 3}
    assert len(look.error) == 240
    wish_for_hindcast(site=site, now=NOW + 2 * MINUTE)
    assert state(site, NOW + 2 * MINUTE) is LookState.WISHED


def test_a_report_grows_old_unless_another_is_wished_for(site):
    keep(site)
    assert not grown_old(NOW + KEEPS - MINUTE).exists()
    assert grown_old(NOW + KEEPS).get().site == site
    wish_for_hindcast(site=site, now=NOW + KEEPS)
    assert not grown_old(NOW + KEEPS).exists()
