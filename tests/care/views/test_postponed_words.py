"""Work that waits says for what and since when."""

import re
from datetime import date
from pathlib import Path

import pytest

import care.planning.agree
import care.rules.feeding
from care.models import Task
from care.views.postponed_words import CAUSES
from care.views.reasons import sentence
from orchard.units import UnitSystem

TODAY = date(2025, 4, 20)


def told(cause):
    facts = [["finger_depth_mm", 100.0]]
    if cause:
        facts += [["postponed_by", cause], ["postponed_from", "2025-04-18"]]
    task = Task(kind="watering", action="check")
    task.reason = {"code": "check_new", "facts": facts, "would_change": []}
    return sentence(task, TODAY, UnitSystem.METRIC)


@pytest.mark.parametrize("cause", CAUSES)
def test_a_sentence_goes_on_to_say_what_it_waits_for(cause):
    assert told(cause) == f"{told('')} Put off from 18 April: {CAUSES[cause]}."


def test_every_cause_of_the_plan_has_words_and_no_other():
    source = Path(care.planning.agree.__file__).read_text(encoding="utf-8")
    given = set(re.findall(r'Block\(\s*"([a-z_]+)"', source))
    feeding = Path(care.rules.feeding.__file__).read_text(encoding="utf-8")
    given |= set(re.findall(r'"postponed_by", "([a-z_]+)"', feeding))
    assert given == set(CAUSES)
    assert told("moonlight") == told("")
