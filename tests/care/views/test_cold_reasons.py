"""Cold and freeze say why, with every number they promise."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from care.facts import ColdPocket, Observation, Place, Span, Stay, WorkDone
from care.models import Task
from care.planning.reconcile import reason_values
from care.rules import cold, freeze
from care.views.cold_words import hours_words
from care.views.reason_words import Teller
from care.views.reasons import NUMBERS, SENTENCES
from care.views.wording import NOUNS, ROW_VERBS, TITLES, reason_of
from orchard.units import UnitSystem
from tests.care.rules.cases import MILD, minima, morning, orange, species, tree
from tests.care.science.test_cold_nights import FROSTY

WINTER = date(2014, 12, 12)
SPRING = date(2014, 4, 20)
SUNK = replace(MILD, cold_pocket=ColdPocket(3.0, 8))
OPEN = (Observation(1, "bloom_stage", SPRING, word="full_bloom"),)
INDOORS: dict[str, Any] = {
    "in_container": True,
    "stays": (Stay(Place.INDOORS_HEATED, date(2013, 11, 1)),),
}


def spell(today: date, *lows: float, before: float = 6.0, high: float = 8.0):
    values = [before, *lows]
    first = today - timedelta(days=1)
    return minima(first, values, "o" + "f" * len(lows), tmax_c=high)


def warm(today: date):
    first = today - timedelta(days=14)
    return minima(first, [16.0] * 14 + [-1.0], "o" * 14 + "f")


POT = tree(orange(), in_container=True, container_litres=40.0)
CASES: dict[str, tuple[Any, date, Any, dict[str, Any], str]] = {
    "pot": (cold, WINTER, POT, {"weather": spell(WINTER, 1.0)}, "4.4 °C"),
    "pot by practice": (
        cold,
        WINTER,
        tree(orange(move_in_temp_c=None), in_container=True),
        {"weather": spell(WINTER, 1.0)},
        "without a source",
    ),
    "huddle": (
        cold,
        WINTER,
        tree(species(), in_container=True),
        {"weather": spell(WINTER, -4.5)},
        "against a wall",
    ),
    "buds": (
        cold,
        SPRING,
        tree(),
        {"weather": spell(SPRING, -2.6), "observations": OPEN},
        "a tenth of the buds",
    ),
    "buds by month": (
        cold,
        SPRING,
        tree(),
        {"weather": spell(SPRING, -2.6)},
        "may be in bloom",
    ),
    "tall": (
        cold,
        WINTER,
        tree(orange(), height_m=5.0),
        {"weather": spell(WINTER, -5.0)},
        "too tall",
    ),
    "cover": (
        cold,
        WINTER,
        tree(orange()),
        {"weather": spell(WINTER, -4.0)},
        "A light row cover holds",
    ),
    "beyond any cover": (
        cold,
        WINTER,
        tree(orange()),
        {"weather": spell(WINTER, -12.0)},
        "too cold for either",
    ),
    "soft citrus": (
        cold,
        WINTER,
        tree(orange()),
        {"weather": warm(WINTER)},
        "hardened",
    ),
    "pocket": (
        cold,
        WINTER,
        POT,
        {"weather": spell(WINTER, 5.0), "site": SUNK},
        "2 °C is expected for the early morning of today; it bears 2 °C, and the alarm "
        "rings from 3.7 °C. The forecast says 5 °C",
    ),
    "evening": (
        cold,
        WINTER,
        POT,
        {"site": FROSTY, "tonight_evening_c": 8.0, "tonight_dew_point_c": 1.0},
        "air and dew point",
    ),
    "evening and forecast": (
        cold,
        WINTER,
        POT,
        {
            "site": FROSTY,
            "tonight_evening_c": 8.0,
            "tonight_dew_point_c": 1.0,
            "weather": spell(WINTER, 9.0, 6.0),
        },
        "the forecast was 6 °C",
    ),
    "typed": (cold, WINTER, POT, {"typed_minimum_c": 1.0}, "typed in"),
    "unverified": (
        cold,
        WINTER,
        tree(orange(unverified=frozenset({"move_in_temp_c"})), in_container=True),
        {"weather": spell(WINTER, 4.0)},
        "not checked",
    ),
    "out": (
        cold,
        date(2014, 5, 20),
        tree(orange(), **INDOORS),
        {"weather": minima(date(2014, 5, 20), [9.0] * 6)},
        "coldest night",
    ),
    "out for chill": (
        cold,
        WINTER,
        tree(species(), **INDOORS),
        {"weather": minima(WINTER, [2.0] * 6)},
        "winter rest",
    ),
    "fruit": (
        freeze,
        WINTER,
        tree(orange(harvest=Span(11, 6)), height_m=5.0),
        {"weather": spell(WINTER, -5.0)},
        "for 4 hours. It stays that cold for about",
    ),
    "fruit, hours unknown": (
        freeze,
        WINTER,
        tree(orange(harvest=Span(11, 6)), height_m=5.0),
        {"typed_minimum_c": -5.0},
        "is not known",
    ),
    "soil": (
        freeze,
        WINTER,
        tree(orange()),
        {"weather": spell(WINTER, 6.0, 6.0, -3.0)},
        "15 to 20 cm",
    ),
    "uncover": (
        freeze,
        WINTER,
        tree(orange()),
        {"work": (WorkDone(1, "cold", "next", WINTER - timedelta(days=1)),)},
        "above freezing",
    ),
    "damage": (
        freeze,
        WINTER,
        tree(orange()),
        {"weather": minima(WINTER - timedelta(days=5), [-6.0] + [5.0] * 4, "o")},
        "new shoots",
    ),
}


@pytest.mark.parametrize("units", list(UnitSystem))
@pytest.mark.parametrize("case", CASES)
def test_a_sentence_with_nothing_missing(case, units):
    rule, today, its_tree, more, words = CASES[case]
    (proposal,) = rule.propose(morning(today, its_tree, **more))
    task = Task(kind=proposal.kind, action=proposal.action)
    task.reason = reason_values(proposal)
    teller = Teller(reason_of(task), task, today, units)
    sentence = SENTENCES[proposal.reason.code](teller)
    assert "unknown" not in sentence
    assert "  " not in sentence
    assert sentence.endswith(".")
    if units is UnitSystem.METRIC:
        assert words in sentence
    numbers = NUMBERS.get(proposal.reason.code)
    assert numbers is None or all(told.amount for told in numbers(teller))
    assert (proposal.kind, proposal.action) in TITLES
    assert (proposal.kind, proposal.action) in ROW_VERBS
    assert proposal.kind in NOUNS


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        (0.2, "some minutes"),
        (0.5, "half an hour"),
        (1.0, "1 hour"),
        (1.6, "1.5 hours"),
        (4.2, "4 hours"),
    ],
)
def test_hours_in_words(hours, words):
    assert hours_words(hours) == words
