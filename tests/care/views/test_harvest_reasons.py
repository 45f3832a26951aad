"""Thinning and harvest say why, with every number they promise."""

from datetime import date
from typing import Any

import pytest

from care.facts import Hold, HoldCause, Observation, Span, Stage, StageDay
from care.models import Task
from care.planning.reconcile import reason_values
from care.rules import harvest, thinning
from care.views.harvest_reasons import CAUSES, NUMBERS, RIPE, SENTENCES
from care.views.log_lines import DONE_TITLES, LOG_KINDS
from care.views.reason_words import Teller
from care.views.references import REFERENCES
from care.views.wording import NOUNS, ROW_VERBS, TITLES, reason_of
from orchard.units import UnitSystem
from tests.care.rules.cases import morning, species, tree

JUNE = date(2014, 6, 1)
FULL_BLOOM = date(2014, 4, 20)
FRESH: dict[str, Any] = {"planted_on": date(2014, 3, 1), "crown_width_m": 0.8}
BEARING = species(harvest=Span(7, 11), days_bloom_to_harvest=140, yield_mature_kg=87.0)
SEEN: dict[str, Any] = {
    "observations": (
        Observation(1, "bloom_stage", FULL_BLOOM, word="full_bloom"),
        Observation(1, "harvest", date(2013, 9, 20), 31.5),
    )
}
WARMTH: dict[str, Any] = {
    "stages": (StageDay(Stage.FULL_BLOOM, 2014, FULL_BLOOM, "heat"),)
}


def on_hold(cause, product=""):
    until = date(2014, 9, 10)
    return {"holds": (Hold(1, cause, date(2014, 5, 20), until, product),)}


POT = {"in_container": True}
CASES = {
    "thin": (thinning, tree(), SEEN, "one fruit on a cluster"),
    "thin by month": (thinning, tree(), {}, "a first guess"),
    "clear": (thinning, tree(**FRESH), {}, "take off every fruit"),
    "pick": (harvest, tree(BEARING), SEEN, "full bloom on"),
    "pick from a pot": (harvest, tree(BEARING, **POT), SEEN, "full bloom on"),
    "look": (harvest, tree(BEARING), {}, "Tick the look"),
    "modelled": (harvest, tree(BEARING), WARMTH, "by this year's warmth"),
    "sprayed": (
        harvest,
        tree(BEARING),
        on_hold(HoldCause.SPRAY, "soap"),
        "Do not pick before 11 September: it was sprayed on 20 May (soap)",
    ),
    "manured": (harvest, tree(BEARING), on_hold(HoldCause.MANURE), "raw manure"),
}


def told(case, units=UnitSystem.METRIC):
    rule, its_tree, more, _ = CASES[case]
    proposal = rule.propose(morning(JUNE, its_tree, **more))[0]
    task = Task(kind=proposal.kind, action=proposal.action)
    task.reason = reason_values(proposal)
    return proposal, Teller(reason_of(task), task, JUNE, units)


@pytest.mark.parametrize("units", list(UnitSystem))
@pytest.mark.parametrize("case", CASES)
def test_a_sentence_with_nothing_missing(case, units):
    proposal, teller = told(case, units)
    sentence = SENTENCES[proposal.reason.code](teller)
    assert "unknown" not in sentence
    assert sentence.endswith(".")
    if units is UnitSystem.METRIC:
        assert CASES[case][3] in sentence
    numbers = NUMBERS.get(proposal.reason.code)
    assert numbers is None or all(each.amount for each in numbers(teller))
    assert (proposal.kind, proposal.action) in TITLES
    assert (proposal.kind, proposal.action) in ROW_VERBS
    assert (proposal.kind, proposal.action) in DONE_TITLES
    assert proposal.kind in NOUNS
    assert proposal.kind in LOG_KINDS
    assert set(proposal.sources) <= {*REFERENCES, "catalogue"}


def test_every_sign_of_ripeness_and_every_cause_has_words():
    signs = {*harvest.SIGNS.values(), *harvest.GROUP_SIGNS.values(), harvest.SIGN_ELSE}
    assert signs == set(RIPE)
    assert {cause.value for cause in HoldCause} == set(CAUSES)


def test_a_pots_yield_and_last_years_picking_are_told():
    proposal, teller = told("pick from a pot")
    labels = [each.label for each in NUMBERS[proposal.reason.code](teller)]
    assert "at most, in a pot; a third of it is as likely" in labels
    assert "picked the year before" in labels
    proposal, teller = told("pick")
    labels = [each.label for each in NUMBERS[proposal.reason.code](teller)]
    assert "at most: an orchard tree's, by its crown" in labels
