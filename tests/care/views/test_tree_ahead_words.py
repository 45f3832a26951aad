"""The likely lines of a tree's page."""

from dataclasses import replace
from datetime import date

import pytest

from care.planning.ensemble import LikelyDay, Members
from care.planning.season_ahead import TreeAhead
from care.planning.species_facts import species_facts
from care.views import tree_ahead_words
from care.views.chill_need_words import needs_of
from care.views.days import DASH
from care.views.tree_ahead_words import enough_words, tree_ahead_rows
from tests.care.rules.cases import tree
from tests.care.views.test_likely_words import BLOOM, TODAY

MET = LikelyDay(
    low=date(2015, 1, 3),
    middle=date(2015, 1, 3),
    high=date(2015, 1, 3),
    share=0.98,
    is_firm=True,
    until=date(2015, 5, 30),
    members=Members(30, 3, 27),
)


class Morning:
    """The part of a site's records that words look at."""

    today = TODAY
    trees = (tree(species_facts("apple")),)


def rows_of(ahead, monkeypatch):
    monkeypatch.setattr(tree_ahead_words, "tree_ahead", lambda *_arguments: ahead)
    return dict(tree_ahead_rows(Morning, 1))


def test_what_is_likely_and_what_it_rests_on(monkeypatch):
    ripe = replace(BLOOM, low=date(2015, 7, 20), high=date(2015, 8, 15))
    rows = rows_of(TreeAhead(BLOOM, ripe, {250: MET, 1000: BLOOM}), monkeypatch)
    source = "(from 3 past years and 27 generated)."
    assert rows == {
        "Enough chill": "Cultivars that need least: since 3 January; cultivars that "
        f"need most: likely 28 March {DASH} 9 April.",
        "Full bloom": f"Likely 28 March {DASH} 9 April {source}",
        "First ripe": f"Likely 20 July {DASH} 15 August {source}",
    }


def test_a_bloom_that_was_seen_rests_on_nothing_else(monkeypatch):
    seen = replace(MET, low=date(2015, 2, 20))
    assert rows_of(TreeAhead(seen, None, {}), monkeypatch) == {
        "Full bloom": "On 20 February."
    }


@pytest.mark.parametrize("ahead", [None, TreeAhead(None, None, {})])
def test_only_what_is_known_has_a_line(ahead, monkeypatch):
    assert rows_of(ahead, monkeypatch) == {}


def test_a_species_of_one_need_names_no_cultivars():
    (need, _most) = needs_of([species_facts("apple")])
    alone = [replace(need, which="")]
    assert enough_words(alone, {need.hours: MET}, TODAY) == "Since 3 January."
    assert enough_words(alone, {}, TODAY) == ""
