"""Weeding, edging and guards say why, with every number they promise."""

from datetime import date
from typing import Any

import pytest

from care.facts import WorkDone
from care.rules.weeding import propose
from orchard.units import UnitSystem
from tests.care.rules.cases import morning, tree
from tests.care.views.reason_cases import told

JUNE = date(2014, 6, 1)
FRESH: dict[str, Any] = {
    "planted_on": date(2014, 3, 1),
    "floor": "grass",
    "crown_width_m": 0.8,
}


def asked(key, its_tree, *work):
    found = propose(morning(JUNE, its_tree, work=work))
    return next(proposal for proposal in found if proposal.key == key)


def work(key):
    return WorkDone(1, "weeding", key, date(2014, 5, 5))


CASES = {
    "young": (asked("next", tree(**FRESH)), "1.1 m across"),
    "again": (asked("next", tree(**FRESH), work("next")), "5 May"),
    "grass": (asked("next", tree(floor="grass")), "stands in grass"),
    "edge": (asked("next/edge", tree(**FRESH)), "1.1 m across"),
    "edged": (asked("next/edge", tree(**FRESH), work("next/edge")), "5 May"),
    "guard": (asked("next/guard", tree(**FRESH)), "fit a guard"),
    "look": (asked("next/guard", tree(**FRESH), work("next/guard")), "loosen it"),
}


@pytest.mark.parametrize("units", list(UnitSystem))
@pytest.mark.parametrize("case", CASES)
def test_a_sentence_with_nothing_missing(case, units):
    proposal, words = CASES[case]
    sentence = told(proposal, JUNE, units)
    assert units is UnitSystem.US or words in sentence
