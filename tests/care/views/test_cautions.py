"""Every code that a rule can send has words, and what stops the work comes first."""

import re
from pathlib import Path

import pytest

from care.views.cautions import CAUTIONS, caution_words
from care.views.reasons import CHANGES, SENTENCES
from care.views.wording import TITLES

CARE = Path(__file__).parents[3] / "care"
SAYING = (
    *(CARE / "rules").glob("*.py"),
    CARE / "science" / "planting_checks.py",
    CARE / "planning" / "allowed_days.py",
    CARE / "planning" / "planting_sheet.py",
)
SOURCE = "\n".join(path.read_text(encoding="utf-8") for path in SAYING)


def test_what_stops_the_work_comes_before_what_guards_it():
    words = caution_words(["clean_tools", "ladder", "power_lines"])
    assert words[0].startswith("Stop:")
    assert words[-1] == CAUTIONS["clean_tools"]


@pytest.mark.parametrize(
    ("of_people", "of_plants"),
    [
        ("sulfur_dust", "sulfur_on_surface"),
        ("trimmer_throws", "edge_shallow"),
        ("stay_on_ground", "wet_disease"),
        ("damp_mulch_dust", "weed_seed_in_mulch"),
        ("damp_potting_dust", "water_first"),
        ("toxic_parts", "drains_too_slowly"),
        ("hand_dig_near_marks", "drains_too_slowly"),
        ("heat_put_off_work", "hot_pot"),
        ("label_rules", "moist_soil_only"),
    ],
)
def test_what_hurts_people_comes_before_what_hurts_plants(of_people, of_plants):
    words = caution_words([of_plants, of_people])
    assert words == (CAUTIONS[of_people], CAUTIONS[of_plants])


def test_nobody_stands_on_a_ladder_in_a_thunderstorm():
    assert "at the first thunder" in CAUTIONS["ladder"]


def test_a_code_without_words_is_shown_rather_than_lost():
    assert caution_words(["falling_fruit"]) == ("Falling fruit.",)


@pytest.mark.parametrize("words", CAUTIONS.values())
def test_cautions_are_whole_sentences(words):
    assert words[0].isupper()
    assert words.endswith(".")


@pytest.mark.parametrize(
    "known", [CAUTIONS, SENTENCES, CHANGES], ids=["cautions", "reasons", "changes"]
)
def test_every_word_here_belongs_to_a_rule(known):
    assert [code for code in known if f'"{code}"' not in SOURCE] == []


def test_every_reason_that_a_rule_gives_has_a_sentence():
    prefixes = r"(?:water|check|feed|mulch|prune|cold|heat|weed|thin|harvest|soil|flush|plant|young|inspect)_[a-z_]+"
    given = set(re.findall(rf'Reason\(\s*"({prefixes})"', SOURCE))
    given |= set(re.findall(rf'return "({prefixes})"', SOURCE))
    assert len(given) > 10
    assert sorted(given - set(SENTENCES)) == []


def test_every_action_has_a_title():
    actions = set(re.findall(r'action="([a-z_]+)"', SOURCE))
    assert actions - {action for _, action in TITLES} == set()
