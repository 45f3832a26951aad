"""Sprays and raw manure forbid picking for a while; taking them back allows it."""

from datetime import UTC, date, datetime, timedelta

import pytest

from care.actions.holds import last_held_day, log_manure, log_spray, manure_days
from care.actions.tasks import take_back
from care.models import LogEntry
from care.planning.gather import gather
from care.planning.propose import situations
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)


def held_until(site, today=TODAY):
    """Return the day each tree's fruit is held until, by its name."""
    return {
        one.tree.name: hold.until if (hold := one.held_until()) else None
        for one in situations(gather(site, today))
    }


def spray(*trees, waiting_days=7):
    return log_spray(
        site=trees[0].site,
        trees=trees,
        product="Soap",
        waiting_days=waiting_days,
        person=None,
        on=TODAY,
        now=NOW,
    )


@pytest.mark.parametrize(
    ("days", "last"),
    [(0, None), (1, date(2025, 7, 1)), (7, date(2025, 7, 7)), (31, date(2025, 7, 31))],
)
def test_after_so_many_days_from_the_first_fruit_may_be_picked(days, last):
    # Sprayed on the 1st with 7 days to wait, fruit may be picked on the 8th.
    assert last_held_day(date(2025, 7, 1), days) == last


def test_raw_manure_holds_fruit_as_the_organic_rule_has_it():
    # 7 CFR 205.203(c)(1): 120 days at least where what is eaten touches the soil, 90
    # where it does not.
    assert manure_days(touches_soil=True) == 120
    assert manure_days(touches_soil=False) == 90


def test_a_spray_holds_every_tree_that_got_it_and_no_other(site, make_tree):
    first, second = make_tree("First"), make_tree("Second")
    make_tree("Third")
    before = site.revision
    entries = spray(first, second)
    until = TODAY + timedelta(days=6)
    assert held_until(site) == {"First": until, "Second": until, "Third": None}
    assert [entry.product for entry in entries] == ["Soap", "Soap"]
    site.refresh_from_db()
    assert site.revision > before


def test_a_hold_ends_by_itself(site, make_tree):
    spray(make_tree("Anna"))
    last = TODAY + timedelta(days=6)
    assert held_until(site, last) == {"Anna": last}
    assert held_until(site, last + timedelta(days=1)) == {"Anna": None}


def test_a_spray_whose_label_asks_no_wait_holds_nothing(site, make_tree):
    (entry,) = spray(make_tree("Anna"), waiting_days=0)
    assert entry.held_until is None
    assert held_until(site) == {"Anna": None}


def test_a_spray_taken_back_holds_nothing(site, make_tree):
    (entry,) = spray(make_tree("Anna"))
    assert take_back(entry=LogEntry.objects.get(pk=entry.pk), person=None, now=NOW)
    assert held_until(site) == {"Anna": None}


@pytest.mark.parametrize(("touches_soil", "days"), [(True, 120), (False, 90)])
def test_manure_is_logged_with_its_wait(site, make_tree, touches_soil, days):
    (entry,) = log_manure(
        site=site,
        trees=[make_tree("Anna")],
        touches_soil=touches_soil,
        person=None,
        on=TODAY,
        now=NOW,
    )
    assert (entry.amount, entry.unit) == (days, "d")
    assert entry.held_until == TODAY + timedelta(days=days - 1)
    assert held_until(site) == {"Anna": entry.held_until}
