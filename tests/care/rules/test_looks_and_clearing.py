"""No tree is both cleared and looked over for the same thing in the same weeks."""

from datetime import date, timedelta

import pytest

from care.planning.species_facts import species_facts
from care.rules import inspection, sanitation
from care.rules.inspection import propose as look_over
from care.rules.sanitation import propose as clear
from orchard.catalogue.species import species_catalogue
from tests.care.rules.cases import MILD, SHORT, WARM, WARM_SOUTH, morning, tree

#: What clearing does that a look is for too.
SAME = {
    "clean_up": {"mummies", "cankers", "leftover_fruit"},
    "look_for_blight": {"fire_blight"},
}
SITES = {"mild": MILD, "short": SHORT, "warm": WARM, "south": WARM_SOUTH}
AGES = {"young": date(2012, 3, 1), "grown": date(1990, 3, 1), "unknown": None}
DAYS = [date(2013, 11, 1) + timedelta(days=4 * n) for n in range(92)]


def overlaps(day, its_tree, site):
    known = morning(day, its_tree, site)
    for task in clear(known):
        for look in look_over(known):
            checks = set(str(look.reason.fact("checks")).split())
            is_same_time = look.earliest <= task.latest and task.earliest <= look.latest
            if is_same_time and checks & SAME[task.action]:
                yield (day, task.key, look.key)


@pytest.mark.parametrize("site", SITES)
@pytest.mark.parametrize("age", AGES)
def test_silence_over_a_whole_year_of_every_kind(site, age):
    for key in species_catalogue():
        its_tree = tree(species_facts(key), planted_on=AGES[age])
        for day in DAYS:
            assert not list(overlaps(day, its_tree, SITES[site])), key


def test_what_is_not_asked_twice_is_asked_once():
    apple = species_facts("apple")
    grown, young = tree(apple), tree(apple, planted_on=date(2012, 3, 1))
    for its_tree, asks in ((grown, inspection), (young, sanitation)):
        blight = [
            proposal
            for day in DAYS
            for rule in (inspection, sanitation)
            for proposal in rule.propose(morning(day, its_tree))
            if proposal.action == "look_for_blight"
            or "fire_blight" in str(proposal.reason.fact("checks")).split()
        ]
        assert {proposal.kind for proposal in blight} == {asks.KIND}
    mummies = [
        proposal.kind
        for day in DAYS
        for rule in (inspection, sanitation)
        for proposal in rule.propose(morning(day, grown))
        if proposal.action == "clean_up"
        or "mummies" in str(proposal.reason.fact("checks")).split()
    ]
    assert set(mummies) == {"sanitation"}
