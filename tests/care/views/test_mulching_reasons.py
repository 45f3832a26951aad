"""Mulching says how much and why, and where advice parts."""

from dataclasses import replace
from datetime import date

import pytest

from care.facts import Answer, Mulch, Observation
from care.rules.mulching import propose
from care.views.references import REFERENCES
from orchard.units import UnitSystem
from tests.care.rules.cases import morning, orange, tree
from tests.care.views.reason_cases import told

TODAY = date(2014, 4, 1)
CHIPS = Mulch("wood_chips", 75.0, date(2013, 4, 1), 1.2, 150.0)
STRAW = replace(CHIPS, material="pine_straw", depth_mm=30.0)
TOUCHING = (Observation(1, "trunk_gap_mm", date(2014, 3, 20), 20.0),)
DEEP = replace(CHIPS, depth_mm=200.0, laid_on=date(2014, 3, 1))


def asked(key, its_tree, **more):
    found = propose(morning(TODAY, its_tree, **more))
    return next(proposal for proposal in found if proposal.key == key)


CASES = {
    "thin": (asked("next/top_up", tree(mulch=CHIPS)), "rotted down to about 50 mm"),
    "citrus": (asked("next/top_up", tree(orange(), mulch=CHIPS)), "Advice parts"),
    "straw": (asked("next/top_up", tree(mulch=STRAW)), "bales"),
    "first": (asked("next/top_up", tree(mulched_before=Answer.NO)), "no mulch yet"),
    "ask": (asked("next/top_up", tree()), "ruler"),
    "look": (asked("next/gap", tree(mulch=CHIPS)), "from 50 mm to 450 mm"),
    "near": (
        asked("next/gap", tree(mulch=CHIPS), observations=TOUCHING),
        "Only 20 mm is bare",
    ),
    "deep": (asked("next/gap", tree(mulch=DEEP)), "keeps air from the roots"),
}


@pytest.mark.parametrize("units", list(UnitSystem))
@pytest.mark.parametrize("case", CASES)
def test_a_sentence_with_nothing_missing(case, units):
    proposal, words = CASES[case]
    sentence = told(proposal, TODAY, units)
    assert units is UnitSystem.US or words in sentence
    assert set(proposal.sources) <= set(REFERENCES)
