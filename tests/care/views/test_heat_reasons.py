"""Heat says why, with every number it promises."""

from datetime import date
from typing import Any

import numpy as np
import pytest

from care.facts import WeatherSeries, WorkDone
from care.models import Task
from care.planning.reconcile import reason_values
from care.rules import heat
from care.views.reason_words import Teller
from care.views.reasons import NUMBERS, SENTENCES
from care.views.wording import NOUNS, ROW_VERBS, TITLES, reason_of
from orchard.units import UnitSystem
from tests.care.rules.cases import morning, tree

JUNE = date(2014, 6, 1)
FRESH: dict[str, Any] = {
    "planted_on": date(2014, 3, 1),
    "floor": "grass",
    "crown_width_m": 0.8,
}
HOT = WeatherSeries(
    start=JUNE,
    tmin_c=np.array([20.0]),
    tmax_c=np.array([38.4]),
    rain_mm=np.zeros(1),
    origin="f",
)
HOT_DAY: dict[str, Any] = {"weather": HOT}
SPELL: dict[str, Any] = {
    "weather": WeatherSeries(
        JUNE, np.full(3, 20.0), np.array([36.0, 39.0, 37.0]), np.zeros(3), "fff"
    )
}
DRY: dict[str, Any] = {
    "weather": WeatherSeries(
        JUNE,
        np.array([12.0]),
        np.array([34.0]),
        np.zeros(1),
        "f",
        humidity_percent=np.array([20.0]),
    )
}
CUT: dict[str, Any] = {
    "work": (WorkDone(1, "pruning", "2014/1", date(2014, 5, 1), amount=0.2),)
}
CASES = {
    "pot": (heat, tree(in_container=True), HOT_DAY, "38.4 °C"),
    "small pot": (
        heat,
        tree(in_container=True, container_litres=8.0),
        HOT_DAY,
        "do it first",
    ),
    "spell": (
        heat,
        tree(in_container=True),
        SPELL,
        "3 such days are forecast, up to 39",
    ),
    "dry": (heat, tree(in_container=True), DRY, "4.6 kPa short of saturation"),
    "young bark": (heat, tree(planted_on=date(2012, 3, 1)), HOT_DAY, "It is young"),
    "bared bark": (heat, tree(), {**HOT_DAY, **CUT}, "Cuts on 1 May"),
    "fresh": (heat, tree(**FRESH), HOT_DAY, "small root ball"),
}


@pytest.mark.parametrize("units", list(UnitSystem))
@pytest.mark.parametrize("case", CASES)
def test_a_sentence_with_nothing_missing(case, units):
    rule, its_tree, more, words = CASES[case]
    (proposal,) = rule.propose(morning(JUNE, its_tree, **more))
    task = Task(kind=proposal.kind, action=proposal.action)
    task.reason = reason_values(proposal)
    teller = Teller(reason_of(task), task, JUNE, units)
    sentence = SENTENCES[proposal.reason.code](teller)
    assert "unknown" not in sentence
    assert sentence.endswith(".")
    if units is UnitSystem.METRIC:
        assert words in sentence
    numbers = NUMBERS.get(proposal.reason.code)
    assert numbers is None or all(told.amount for told in numbers(teller))
    assert (proposal.kind, proposal.action) in TITLES
    assert (proposal.kind, proposal.action) in ROW_VERBS
    assert proposal.kind in NOUNS
