"""How much sulfur one sour bed gets next."""

from dataclasses import replace
from datetime import date

import pytest

from care.facts import WorkDone
from care.science.soil_record import Acidity
from care.science.sulfur_plan import bed_plan, planted_plan
from tests.care.rules.cases import MILD, morning, species, tree

SPRING = date(2014, 3, 10)
BLUEBERRY = species("blueberry_highbush", feed_group="berry_acid", mature_spread_m=1.5)
BUSH = tree(BLUEBERRY, crown_width_m=1.2)
KNOWN = Acidity(6.0, date(2013, 10, 1))


def test_a_bed_by_the_smaller_of_two_rates():
    planned = replace(BUSH, entered_on=date(2014, 1, 5))
    sandy = replace(MILD, soil_texture="sand")
    situation = morning(SPRING, planned, sandy)
    plan = bed_plan(situation, KNOWN, 5.0, date(2014, 11, 1))
    facts = dict(plan.facts)
    # 1 lb (Extension Foundation) and 1.33 lb (Tennessee) for 100 square feet
    assert facts["extension_g_per_m2"] == pytest.approx(48.8, abs=0.1)
    assert facts["tennessee_g_per_m2"] == pytest.approx(65.1, abs=0.1)
    assert plan.per_m2_g == pytest.approx(48.8, abs=0.1)
    assert plan.grams == pytest.approx(plan.per_m2_g * plan.area_m2)
    assert bed_plan(situation, KNOWN, 5.0, date(2014, 6, 1)) is None


def test_the_last_useful_day_is_three_months_ahead():
    planting = date(2014, 6, 9)
    assert bed_plan(morning(SPRING, BUSH), KNOWN, 4.8, planting).days[2] == SPRING


def test_a_planted_bush_has_what_is_left_of_the_year():
    fresh = planted_plan(morning(SPRING, BUSH), KNOWN, 4.8)
    assert fresh.per_m2_g == pytest.approx(34.2, abs=0.1)
    had = (WorkDone(1, "soil", "2014/acidify_1", SPRING, "done", fresh.grams / 2),)
    rest = planted_plan(morning(SPRING, BUSH, work=had), KNOWN, 4.8)
    assert rest.grams == pytest.approx(fresh.grams / 2)
    assert rest.days == (date(2014, 3, 1), date(2014, 3, 29), date(2014, 4, 26))
