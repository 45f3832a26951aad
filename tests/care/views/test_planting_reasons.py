"""Planting, establishing, potting and looks say why, and every line of their lists."""

import re
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from care.facts import (
    Goal,
    RainFacts,
    RainState,
    SiteFacts,
    Situation,
    Span,
    Stock,
    Support,
    TreeFacts,
    WorkDone,
)
from care.models import Task
from care.planning.reconcile import reason_values
from care.proposals import Proposal
from care.rules import establishing, inspection, planting, potting
from care.science import planting_windows
from care.science.inspection import GROUPS as LIST_GROUPS, KINDS, LISTS
from care.views.calendar_rounds import SUMMARY_VERBS
from care.views.check_lists import CHECKS, check_list
from care.views.inspection_reasons import GROUPS, STAGES
from care.views.log_lines import DONE_TITLES
from care.views.planting_reasons import TIMES
from care.views.reason_words import Teller
from care.views.reasons import CHANGES, NUMBERS, SENTENCES
from care.views.references import REFERENCES
from care.views.steps import steps_of
from care.views.wording import NOUNS, ROW_VERBS, TITLES, reason_of
from orchard.models import Tree
from orchard.units import UnitSystem
from tests.care.rules.cases import (
    WARM,
    WARM_SOUTH,
    orange,
    outlook,
    species,
    tree,
)

JANUARY = date(2015, 1, 15)
PLANNED: dict[str, Any] = {
    "planted_on": date(2015, 2, 20),
    "entered_on": date(2014, 10, 1),
}
NEW: dict[str, Any] = {
    "planted_on": date(2015, 1, 10),
    "entered_on": date(2015, 1, 10),
}
POT: dict[str, Any] = {
    "in_container": True,
    "container_litres": 40.0,
    "planted_on": date(2012, 3, 1),
    "entered_on": date(2012, 3, 1),
}
KIND = species(container_min_l=60.0, invasive_note="on some lists")
BEARING = species(harvest=Span(7, 11), days_bloom_to_harvest=140)
WIDE = outlook(is_established=False, root_radius_m=0.5)
THIRSTY = outlook(is_container=True, crown_area_m2=9.0)
ASKED = WorkDone(1, "planting", "2015/locate", date(2014, 11, 1))
POTTED = WorkDone(1, "potting", "2013/repot", date(2013, 3, 1), amount=40.0)


def at(its_tree: TreeFacts, site: SiteFacts = WARM, **more: Any) -> Situation:
    return Situation(today=JANUARY, tree=its_tree, site=site, weather=None, **more)


CASES: dict[str, tuple[Any, Situation, str]] = {
    "planned": (planting, at(tree(KIND, **PLANNED)), "on some lists"),
    "in time": (
        planting,
        at(tree(KIND, **{**PLANNED, "planted_on": date(2015, 4, 20)})),
        "a little above the ground",
    ),
    "asked": (planting, at(tree(KIND, **PLANNED), work=(ASKED,)), "wide"),
    "slow ground": (
        planting,
        at(tree(KIND, **PLANNED, drainage_hours=60.0, spacing_m=1.0)),
        "mound",
    ),
    "bad day": (
        planting,
        at(tree(**{**PLANNED, "planted_on": date(2015, 7, 20)}, stock=Stock.BARE_ROOT)),
        "Better:",
    ),
    "fig": (planting, at(tree(species("fig"), **PLANNED)), "a little deeper"),
    "for a pot": (
        planting,
        at(tree(KIND, **PLANNED, in_container=True, container_litres=20.0)),
        "in steps",
    ),
    "pot of any kind": (
        planting,
        at(tree(**PLANNED, in_container=True, container_litres=20.0)),
        "to be potted",
    ),
    "new": (
        establishing,
        at(tree(**NEW, support=Support.STAKE, watered_radius_m=0.2), water=WIDE),
        "settled",
    ),
    "only to survive": (
        establishing,
        at(tree(**NEW, goal=Goal.SURVIVAL)),
        "twice a week for 2 to 3 months",
    ),
    "new orange": (establishing, at(tree(orange(), **NEW)), "most of a year"),
    "settled by the balance": (
        establishing,
        at(tree(**NEW), water=outlook(is_established=True)),
        "reach enough soil",
    ),
    "growing pot": (potting, at(tree(KIND, **POT)), "or more"),
    "lemon": (potting, at(tree(orange(container_min_l=75.0), **POT)), "sulks"),
    "thirsty pot": (potting, at(tree(KIND, **POT), water=THIRSTY), "hot day"),
    "huge pot": (
        potting,
        at(tree(KIND, **{**POT, "container_litres": 160.0}), water=THIRSTY),
        "more than people can move",
    ),
    "old mix": (potting, at(tree(species(), **POT), work=()), "rotted down"),
    "unknown pot": (
        potting,
        at(tree(KIND, **{**POT, "planted_on": None})),
        "look first",
    ),
    "one tree": (inspection, at(tree(BEARING)), "Name what you find"),
    "neighbours": (
        inspection,
        at(tree(BEARING), look_mates=(2, 3), rains=RainFacts(RainState.SET_IN)),
        "the other 2 of its place",
    ),
    "a neighbour": (
        inspection,
        at(tree(BEARING), WARM_SOUTH, look_mates=(2,)),
        "the other one",
    ),
}


def told(proposal: Proposal, units: UnitSystem) -> Teller:
    task = Task(kind=proposal.kind, action=proposal.action)
    task.reason = reason_values(proposal)
    return Teller(reason_of(task), task, JANUARY, units)


@pytest.mark.parametrize("units", list(UnitSystem))
@pytest.mark.parametrize("case", CASES)
def test_a_sentence_with_nothing_missing(case, units):
    rule, situation, words = CASES[case]
    found = rule.propose(situation)
    assert found
    sentences = []
    for proposal in found:
        teller = told(proposal, units)
        sentence = SENTENCES[proposal.reason.code](teller)
        assert "unknown a" not in sentence
        assert "an unknown" not in sentence
        assert sentence[0].isupper()
        assert sentence.endswith(".")
        assert "  " not in sentence
        sentences.append(sentence)
        numbers = NUMBERS.get(proposal.reason.code)
        assert numbers is None or all(one.amount for one in numbers(teller))
    assert words in " ".join(sentences)


@pytest.mark.parametrize("case", CASES)
def test_every_word_of_a_task_is_known(case):
    rule, situation, _words = CASES[case]
    for proposal in rule.propose(situation):
        name = (proposal.kind, proposal.action)
        assert name in TITLES
        assert name in ROW_VERBS
        assert name in SUMMARY_VERBS
        assert name in DONE_TITLES
        assert proposal.kind in NOUNS
        assert set(proposal.sources) <= set(REFERENCES)
        assert set(proposal.reason.would_change) <= set(CHANGES)
        codes = str(proposal.reason.fact("checks") or "").split()
        assert [code for code in codes if code not in CHECKS] == []


def test_every_line_that_a_look_may_hold_has_words():
    codes = {code for entries in LISTS.values() for code, _kinds in entries}
    assert codes <= set(CHECKS)
    assert set(STAGES) == set(LISTS)


def test_every_list_has_a_name_for_its_neighbours():
    feed_groups = {"citrus", "stone", "pome", "berry_acid", "tropical", "nut", "other"}
    named = {LIST_GROUPS.get(group, group) for group in feed_groups}
    assert named | set(KINDS.values()) == set(GROUPS)


def test_every_planting_time_has_its_reason():
    source = Path(planting_windows.__file__).read_text(encoding="utf-8")
    assert set(re.findall(r'"(planting_[a-z_]+)"', source)) == set(TIMES)


def test_a_list_is_shown_line_by_line_and_an_odd_code_is_not_lost():
    task = Task(reason={"code": "x", "facts": [["checks", "fruit_off odd_one"]]})
    assert check_list(task) == (CHECKS["fruit_off"], "odd one")
    assert check_list(Task(reason={})) == ()


@pytest.mark.parametrize("words", CHECKS.values())
def test_lines_are_whole_sentences(words):
    assert words[0].isupper()
    assert words[-1] in ".?"


@pytest.mark.parametrize("case", ["thirsty pot", "huge pot", "growing pot"])
def test_the_steps_of_a_potting_close(case):
    rule, situation, _words = CASES[case]
    (proposal,) = rule.propose(situation)
    task = Task(kind="potting", action=proposal.action, tree=Tree(species_key="apple"))
    task.reason = reason_values(proposal)
    steps = steps_of(task, None)
    assert len(steps) == (1 if situation.water is None else 3)
    for step in steps:
        assert step.again == pytest.approx(step.result.value, rel=0.02, abs=0.06)
