"""Soil tests, sulfur and washes of pots say why, with every number they promise."""

from dataclasses import replace
from datetime import date

import pytest

from care.facts import SoilTest, WorkDone
from care.rules import flushing, soil
from care.views.references import REFERENCES
from orchard.units import UnitSystem
from tests.care.rules.cases import MILD, morning, species, tree
from tests.care.views.reason_cases import told

SPRING = date(2014, 3, 10)
BLUEBERRY = species(
    "blueberry_highbush",
    feed_group="berry_acid",
    ph_min=4.0,
    ph_max=5.0,
    mature_spread_m=1.5,
    unverified=frozenset({"ph_max"}),
)
BUSH = tree(BLUEBERRY, crown_width_m=1.2)
FED = WorkDone(1, "feeding", "2014/1", date(2014, 3, 5), amount=5.0)
POT = tree(in_container=True, container_litres=20.0)


def site_of(ph):
    return replace(MILD, soil_test=SoilTest(date(2013, 10, 1), ph=ph))


def planned(on):
    return replace(BUSH, planted_on=on, entered_on=date(2014, 1, 5))


def asked(its_tree, site=MILD, *work):
    return soil.propose(morning(SPRING, its_tree, site, work=work))


def wash(site=MILD, *work):
    return flushing.propose(morning(SPRING, POT, site, work=work))[0]


SENT = WorkDone(1, "soil", "next/test", date(2014, 3, 5))
GIVEN = WorkDone(1, "soil", "2014/acidify_1", date(2014, 3, 5), amount=30.0)
CASES = {
    "first": (asked(BUSH)[0], "pH 4.0 to 5.0"),
    "again": (asked(BUSH, site_of(4.8))[0], "1 October 2013"),
    "result": (asked(BUSH, MILD, SENT)[0], "enter what the test said"),
    "retest": (asked(BUSH, site_of(6.0), GIVEN)[0], "test before anybody gives more"),
    "bed": (asked(planned(date(2014, 11, 1)), site_of(7.0))[1], "two thirds"),
    "planted": (asked(BUSH, site_of(6.4))[1], "never more than 34 g"),
    "limy": (asked(BUSH, site_of(7.8))[1], "free lime"),
    "too late": (asked(planned(date(2014, 5, 1)), site_of(6.0))[1], "a season later"),
    "wash": (wash(MILD, FED), "It was fed on"),
    "salty": (wash(replace(MILD, is_water_salty=True)), "softened"),
}


@pytest.mark.parametrize("units", list(UnitSystem))
@pytest.mark.parametrize("case", CASES)
def test_a_sentence_with_nothing_missing(case, units):
    proposal, words = CASES[case]
    assert words in told(proposal, SPRING, units) or units is UnitSystem.US


def test_sulfur_is_told_in_cups_and_its_figures_as_unchecked():
    sentence = told(CASES["planted"][0], SPRING, UnitSystem.US)
    assert "a scale is better" in sentence
    assert "rests on memory" in sentence
    assert "Above 6.0 sulfur alone" in sentence


def test_every_source_of_soil_work_has_a_reference():
    sources = {key for proposal, _ in CASES.values() for key in proposal.sources}
    assert sources - {"catalogue"} <= set(REFERENCES)
