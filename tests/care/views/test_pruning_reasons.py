"""Pruning, training, suckers and sanitation say why, with every number they promise."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from care.facts import Stock, WorkDone
from care.models import Task
from care.planning.reconcile import reason_values
from care.planning.species_facts import species_facts
from care.rules import pruning, sanitation, suckers, training
from care.science.pruning import CrownLimit, crown_limit
from care.science.pruning_windows import Timing
from care.science.training import SUMMER, WINTER
from care.views.cautions import CAUTIONS
from care.views.log_lines import DONE_TITLES, LOG_KINDS
from care.views.pruning_reasons import (
    HELD,
    NUMBERS,
    OWN_RULES,
    SENTENCES,
    STEPS,
    TIMINGS,
)
from care.views.reason_words import Teller
from care.views.references import REFERENCES
from care.views.wording import NOUNS, ROW_VERBS, TITLES, reason_of
from orchard.units import UnitSystem
from tests.care.rules.cases import WARM, minima, morning, species, tree

WINTER_DAY = date(2015, 1, 10)
PLANTED = date(2014, 2, 10)
YOUNG: dict[str, Any] = {"planted_on": PLANTED, "entered_on": PLANTED}
PRUNED: dict[str, Any] = {"work": (WorkDone(1, "pruning", "2015/1", WINTER_DAY),)}
COLD: dict[str, Any] = {"weather": minima(WINTER_DAY, [-20.0, 1.0])}
APRIL, MAY, JUNE = date(2015, 4, 10), date(2015, 5, 20), date(2015, 5, 30)


def its(key, **changes):
    return tree(species_facts(key), **changes)


CASES = {
    "window": (
        pruning,
        WINTER_DAY,
        tree(entered_on=date(2013, 1, 1)),
        {},
        "half of the leaves",
    ),
    "held": (
        pruning,
        WINTER_DAY,
        tree(entered_on=date(2013, 1, 1)),
        COLD,
        "severe cold",
    ),
    "light": (pruning, date(2015, 2, 10), its("orange"), {}, "below the graft"),
    "height": (
        pruning,
        WINTER_DAY,
        tree(height_m=4.0, height_target_m=3.2, entered_on=date(2013, 1, 1)),
        {},
        "bring it to 3.2 m",
    ),
    "renovate": (pruning, WINTER_DAY, tree(), {}, "no more than 2 large limbs"),
    "renovate high": (
        pruning,
        WINTER_DAY,
        tree(height_m=6.0, height_target_m=3.0),
        {},
        "Bring it to 5 m",
    ),
    "own": (pruning, date(2015, 2, 10), its("peach"), {}, "a third"),
    "first year": (
        pruning,
        date(2015, 3, 10),
        its("currant", planted_on=date(2015, 3, 1), entered_on=date(2015, 3, 1)),
        {},
        "broken wood",
    ),
    "own, to height": (
        pruning,
        date(2015, 2, 10),
        its("peach", height_m=4.0, height_target_m=3.5),
        {},
        "Bring it to 3.5 m",
    ),
    "past": (pruning, WINTER_DAY, tree(entered_on=WINTER_DAY), {}, "unknown past"),
    "wires": (pruning, WINTER_DAY, tree(near_wires=True), {}, "50 kV"),
    "tall": (pruning, WINTER_DAY, tree(height_m=9.0), {}, "professional"),
    "whip": (
        training,
        PLANTED,
        tree(**YOUNG, stock=Stock.BARE_ROOT),
        {},
        "first year of training",
    ),
    "held step": (training, WINTER_DAY, tree(**YOUNG), COLD, "Wait until"),
    "suckers": (suckers, APRIL, tree(), {}, "below the graft"),
    "own suckers": (suckers, APRIL, its("fig"), {}, "Suckers; keep"),
    "sprouts": (suckers, JUNE, tree(), PRUNED, "250 mm to 300 mm"),
    "pups": (suckers, APRIL, its("banana"), {}, "3 to 4 stems"),
    "clean": (sanitation, WINTER_DAY, tree(), {}, "cut out cankers"),
    "clean apricot": (sanitation, WINTER_DAY, its("apricot"), {}, "dry weeks of"),
    "blight": (sanitation, MAY, tree(**YOUNG), {}, "70%"),
}


def told(rule, day, its_tree, more, units=UnitSystem.METRIC):
    proposal = rule.propose(morning(day, its_tree, **more))[-1 if more is PRUNED else 0]
    task = Task(kind=proposal.kind, action=proposal.action)
    task.reason = reason_values(proposal)
    return proposal, Teller(reason_of(task), task, day, units)


@pytest.mark.parametrize("units", list(UnitSystem))
@pytest.mark.parametrize("case", CASES)
def test_a_sentence_with_nothing_missing(case, units):
    rule, day, its_tree, more, words = CASES[case]
    proposal, teller = told(rule, day, its_tree, more, units)
    sentence = SENTENCES[proposal.reason.code](teller)
    assert "unknown amount" not in sentence
    assert "unknown day" not in sentence
    assert sentence.endswith(".")
    if units is UnitSystem.METRIC:
        assert words in sentence
    numbers = NUMBERS.get(proposal.reason.code)
    assert numbers is None or all(each.amount for each in numbers(teller))
    assert (proposal.kind, proposal.action) in TITLES
    is_question = proposal.action == "check"
    assert is_question or (proposal.kind, proposal.action) in ROW_VERBS
    assert (proposal.kind, proposal.action) in DONE_TITLES
    assert proposal.kind in NOUNS
    assert proposal.kind in LOG_KINDS
    known = {*REFERENCES, "catalogue", *dict(its_tree.species.sources).values()}
    assert set(proposal.sources) <= known


def test_every_step_of_training_has_words_and_its_numbers():
    steps = {step.code for step in (*WINTER.values(), *SUMMER.values())}
    assert steps == set(STEPS)
    for (frame, year), step in (*WINTER.items(), *SUMMER.items()):
        facts = (("step", step.code), ("training_year", year), *step.numbers)
        proposal, teller = told(*CASES["held step"][:4])
        reason = replace(proposal.reason, facts=facts)
        task = Task(kind="training", action="train")
        task.reason = reason_values(replace(proposal, reason=reason))
        words = SENTENCES["train_step"](replace(teller, reason=reason_of(task)))
        assert "unknown" not in words, (frame, year)
        assert " 0 " not in words, (frame, year)


def test_every_rule_hold_and_timing_has_words():
    own = {crown_limit(species_facts(key)) for key in ("peach", "grape", "raspberry")}
    assert {limit.own_rule for limit in own if limit != CrownLimit(None)} == set(
        OWN_RULES
    )
    assert {timing.value for timing in Timing} == set(TIMINGS)
    assert set(HELD) == {"cold", "heat", "wet", "drought"}


@pytest.mark.parametrize("case", CASES)
def test_no_spray_is_ever_advised(case):
    rule, day, its_tree, more, _ = CASES[case]
    proposal, teller = told(rule, day, its_tree, more)
    sentence = SENTENCES[proposal.reason.code](teller).lower()
    for word in ("spray", "copper", "fungicide", "insecticide", "herbicide", "paint"):
        assert word not in sentence.replace("no wound paint", "")


def test_the_safety_gates_are_told_in_numbers():
    # Oregon State University Extension (2011): a three-legged ladder on soil, its third
    # leg uphill, 2 ft below its top; 29 CFR 1910.269: 10 ft
    assert all(
        word in CAUTIONS["ladder"] for word in ("three-legged", "uphill", "(2 ft)")
    )
    assert "(10 ft)" in CAUTIONS["look_for_wires"]
    assert "never on a ladder" in CAUTIONS["saw"]
    # UC IPM: 70 % alcohol; cherries and plums are cut 4-6 in beyond a stain
    assert "70%" in CAUTIONS["clean_each_cut"]
    assert "(4 to 6 in)" in TIMINGS["dry_summer"]


def test_a_figure_from_memory_says_so():
    kind = species(unverified=frozenset({"prune_months"}))
    proposal, teller = told(pruning, WINTER_DAY, tree(kind), {})
    assert "not checked" in SENTENCES[proposal.reason.code](teller)
    mango = its("mango", entered_on=date(2013, 1, 1))
    (task,) = pruning.propose(morning(date(2015, 8, 10), mango, WARM))
    assert task.reason.fact("timing") == "after_harvest"
