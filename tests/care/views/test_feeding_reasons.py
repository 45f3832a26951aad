"""Feeding says how much and why, in cups too, or why it asks or rests."""

from dataclasses import replace
from datetime import date

import pytest

from care.facts import (
    Blackout,
    MonthDay,
    NitrogenAdvice,
    Observation,
    SoilTest,
    WorkDone,
)
from care.rules.feeding import propose
from care.science.ladder_sources import LADDER_SOURCES
from care.views.feeding_reasons import STOPS
from care.views.references import REFERENCES
from orchard.units import UnitSystem
from tests.care.rules.cases import MILD, morning, outlook, species, tree
from tests.care.views.reason_cases import told

SPRING = date(2014, 3, 10)
METRIC, US = UnitSystem.METRIC, UnitSystem.US
NEAR = replace(MILD, water_setback_m=3.0)
BLOCKED = replace(MILD, feeding_blackouts=(Blackout(MonthDay(2, 1), MonthDay(9, 30)),))
NO_NITROGEN = replace(
    MILD, soil_test=SoilTest(date(2013, 9, 1), nitrogen=NitrogenAdvice.NONE)
)
HALF = replace(MILD, soil_test=SoilTest(date(2013, 9, 1), nitrogen=NitrogenAdvice.HALF))


def shoots(mm):
    return (Observation(1, "shoot_growth_mm", date(2013, 10, 1), mm),)


def first(its_tree=None, site=MILD, **more):
    return propose(morning(SPRING, its_tree, site, **more))[0]


FRESH = tree(planted_on=date(2014, 2, 20), entered_on=date(2014, 2, 20))
HARD = (WorkDone(1, "pruning", "2014/1", date(2014, 2, 1), amount=0.4),)
DRY = outlook(stress_ks=0.5)
OTHERWISE = (*shoots(20.0), Observation(1, "short_shoots_cause", SPRING, word="wet"))
CASES = {
    "feed": (first(), "200 g of nitrogen as 10-10-10"),
    "half": (first(observations=shoots(250.0)), "Half of it, because it grew 250 mm"),
    "half by test": (first(site=HALF), "Half of it by the soil test"),
    "short": (first(observations=shoots(20.0), water=DRY), "it has been dry lately"),
    "first growth": (first(FRESH), "150 mm"),
    "near water": (first(tree(water_distance_m=1.0), NEAR), "within 3 m"),
    "soil test": (first(site=NO_NITROGEN), "advises no nitrogen"),
    "blackout": (first(site=BLOCKED), "forbids feeding on every day"),
    "pruned": (first(work=HARD), "25%"),
    "grown": (first(observations=shoots(900.0)), "900 mm"),
    "other cause": (first(observations=OTHERWISE), "not for want of feed"),
    "past": (first(tree(entered_on=SPRING)), "mid-season"),
    "pot size": (first(tree(in_container=True)), "volume"),
    "crown": (first(tree(crown_width_m=None, planted_on=None)), "width of its crown"),
}


@pytest.mark.parametrize("units", list(UnitSystem))
@pytest.mark.parametrize("case", CASES)
def test_a_sentence_with_nothing_missing(case, units):
    proposal, words = CASES[case]
    sentence = told(proposal, SPRING, units)
    if units is METRIC:
        assert words in sentence


def test_the_product_in_cups_or_millilitres_and_a_scale_is_better():
    # 498 g of a 10 % product, two cups a pound
    feed = first(tree(crown_width_m=1.5))
    assert "about 2 cups by a rule of thumb; a scale is better" in told(
        feed, SPRING, US
    )
    assert "about 520 mL by a rule of thumb" in told(feed, SPRING, METRIC)
    weighed = first(tree(crown_width_m=1.5), replace(MILD, feed_density_g_per_ml=1.2))
    assert "about 1¾ cups; a scale is better" in told(weighed, SPRING, US)


def test_small_doses_come_in_spoons():
    small = first(tree(in_container=True, container_litres=1.5))
    assert "about ¼ teaspoon" in told(small, SPRING, US)


def test_a_lost_crop_is_told_with_the_last_part():
    sandy = replace(MILD, soil_texture="sand")
    lost = WorkDone(1, "thinning", "2014/1", SPRING, "skipped", reason="light_crop")
    assert "nothing follows this season" in told(first(site=sandy, work=(lost,)), SPRING, US)  # fmt: skip


def test_every_stop_has_a_reason():
    grape = tree(species("grape", feed_group="other"))
    assert STOPS["species"] in told(first(grape), SPRING, METRIC)


def test_every_ladder_has_its_reference():
    assert set(LADDER_SOURCES) <= set(REFERENCES)
