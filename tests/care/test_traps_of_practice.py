"""What advisers stumble over that no one kind of work can hold alone."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from care.facts import Answer, MonthDay, Stage, StageDay
from care.planning.species_facts import species_facts
from care.rules import RULES
from tests.care.rules.cases import MILD, morning, tree

TWELVE = (
    *("apple", "pear", "peach", "apricot", "european_plum", "sour_cherry", "fig"),
    *("asian_persimmon", "orange", "olive", "grape", "blueberry_highbush"),
)
#: Half a year lies between two days that have one meaning on the two halves of the
#: earth; months are of unequal length.
HALF_YEAR = timedelta(days=182)
SLACK = timedelta(days=5)
SOUTH = replace(
    MILD,
    latitude_deg=-MILD.latitude_deg,
    last_frost=MonthDay(9, 20),
    first_frost=MonthDay(5, 10),
)


def asked(situation):
    return [proposal for _, rule in RULES for proposal in rule(situation)]


@pytest.mark.parametrize("key", TWELVE)
@pytest.mark.parametrize("month", [4, 5, 6, 7])
def test_a_tree_of_unknown_past_is_asked_about_and_given_nothing(key, month):
    entered = date(2014, month, 10)
    newcomer = tree(
        species_facts(key),
        planted_on=None,
        entered_on=entered,
        fed_before=Answer.UNKNOWN,
        pruned_before=Answer.UNKNOWN,
        mulched_before=Answer.UNKNOWN,
    )
    found = asked(morning(entered, newcomer))
    given = [each for each in found if each.kind in ("feeding", "pruning", "mulching")]
    assert given
    for each in given:
        assert each.amount is None or each.key.startswith("2015"), each


def stages(buds, bloom):
    return tuple(
        StageDay(stage, 2014, day, "seen")
        for stage, day in (
            (Stage.BUD_BREAK, buds),
            (Stage.FULL_BLOOM, bloom),
            (Stage.PETAL_FALL, bloom + timedelta(days=8)),
        )
    )


@pytest.mark.parametrize("key", ["apple", "pear", "peach", "european_plum"])
def test_all_of_a_year_moves_with_the_stages_that_were_seen(key):
    today, shift = date(2014, 3, 1), timedelta(days=20)
    buds, bloom = date(2014, 3, 20), date(2014, 4, 12)
    its_tree = tree(species_facts(key), pruned_before=Answer.NO, fed_before=Answer.NO)

    def dates(offset):
        seen = stages(buds + offset, bloom + offset)
        found = asked(morning(today, its_tree, stages=seen))
        return {(one.kind, one.key, one.action): one for one in found}

    early, late = dates(timedelta(0)), dates(shift)
    moved = {
        ("feeding", "2014/1", "feed"),
        ("thinning", "2014/1", "thin"),
        ("harvest", "2014/pick1", "pick"),
        ("suckers", "2014/spring", "pull_suckers"),
    }
    assert moved <= early.keys() & late.keys()
    for which in moved:
        assert late[which].earliest - early[which].earliest == shift, which
    cuts = ("pruning", "2014/1", "prune")
    if early[cuts].earliest < today:  # in dormancy, which ends as buds break
        assert late[cuts].latest - early[cuts].latest == shift


@pytest.mark.parametrize("key", TWELVE)
@pytest.mark.parametrize("month", range(1, 13))
def test_every_kind_of_work_is_mirrored_by_half_a_year(key, month):
    north = date(2014, month, 9)
    south = date(2014 + (month > 6), (month + 5) % 12 + 1, 9)
    grown = {"pruned_before": Answer.NO, "fed_before": Answer.NO}
    facts = species_facts(key)
    ours = tree(facts, entered_on=date(2013, 1, 10), **grown)
    theirs = replace(
        ours,
        planted_on=ours.planted_on + HALF_YEAR,
        entered_on=ours.entered_on + HALF_YEAR,
    )
    here, there = asked(morning(north, ours)), asked(morning(south, theirs, SOUTH))
    assert [(one.kind, one.action) for one in here] == [
        (one.kind, one.action) for one in there
    ]
    for one, other in zip(here, there, strict=True):
        for day, mirrored in (
            (one.earliest, other.earliest),
            (one.due, other.due),
            (one.latest, other.latest),
        ):
            assert abs(mirrored - day - HALF_YEAR) <= SLACK, (one, other)
