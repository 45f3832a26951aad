"""Which night alarms, by which figure and margin, and every number it was decided by."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from care.facts import ColdPocket, Observation
from care.science.cold_alarm import MINIMUM_ONLY_MARGIN_C, alarm_facts, first_alarm
from tests.care.rules.cases import MILD, minima, morning, orange, species, tree

TODAY = date(2014, 4, 20)
OPEN = (Observation(1, "bloom_stage", TODAY, word="full_bloom"),)


def spell(lows):
    """Days from yesterday on, so that the hours of every night are known."""
    return minima(TODAY - timedelta(days=1), [5.0, *lows], "o" + "f" * len(lows))


def test_the_first_night_within_the_margin():
    situation = morning(TODAY, weather=spell([3.0, -0.4, -3.0]), observations=OPEN)
    # Apple at full bloom: 28 degF and a margin of 1.7 degC
    assert first_alarm(situation, 2).night.day == TODAY + timedelta(days=2)
    assert first_alarm(situation, 1) is None
    assert first_alarm(situation, 1, widen_c=0.5).night.day == TODAY + timedelta(days=1)
    nothing = tree(species(damage_temp_mature_c=None, bloom=None))
    assert first_alarm(morning(TODAY, nothing, weather=spell([-30.0])), 2) is None


@pytest.mark.parametrize(
    ("lows", "days"),
    [
        ([-3.0, -5.0], 1),  # for both mornings somebody acts today: the colder one
        ([-5.0, -3.0], 0),
        ([-3.0, 5.0, -9.0], 0),  # the third morning's cold is for tomorrow
        ([5.0, -3.0, -9.0], 1),
        ([-3.0, 5.0], 0),
    ],
)
def test_of_this_morning_and_the_next_the_colder_counts(lows, days):
    situation = morning(TODAY, weather=spell(lows), observations=OPEN)
    assert first_alarm(situation, 2).night.day == TODAY + timedelta(days=days)


def test_with_nothing_but_a_minimum_buds_get_four_degrees_fahrenheit():
    known = morning(TODAY, weather=spell([-0.3]), observations=OPEN)
    assert first_alarm(known, 0) is None
    lonely = morning(TODAY, typed_minimum_c=-0.3, observations=OPEN)
    alarm = first_alarm(lonely, 0)
    assert alarm.hours is None
    assert alarm.margin_c == pytest.approx(MINIMUM_ONLY_MARGIN_C) == 4 / 1.8
    wide = replace(MILD, frost_margin_c=3.0)
    assert first_alarm(replace(lonely, site=wide), 0).margin_c == 3.0


def test_every_number_that_decided_is_told():
    site = replace(MILD, cold_pocket=ColdPocket(2.0, 7))
    situation = morning(TODAY, site=site, weather=spell([-1.0]), observations=OPEN)
    facts = dict(alarm_facts(situation, first_alarm(situation, 0)))
    assert (facts["minimum_c"], facts["told_c"], facts["pocket_c"]) == (-3.0, -1.0, 2.0)
    assert (facts["severity"], facts["worst_c"]) == ("warning", -3.9)
    assert facts["hours_needed"] == 0.5
    assert facts["hours_below"] > 0.5
    assert (facts["basis"], facts["evening_c"]) == ("forecast", None)
    assert facts["practice_c"] is None


def test_a_tender_pot_is_told_the_growers_own_figure_beside_its_species():
    pot = tree(orange(), in_container=True)
    situation = morning(TODAY, pot, weather=spell([-5.0]))
    facts = dict(alarm_facts(situation, first_alarm(situation, 0)))
    assert (facts["threshold_c"], facts["practice_c"]) == (2.0, 4.4)
    hardy = tree(species(), in_container=True)
    situation = morning(TODAY, hardy, weather=spell([-9.0]))
    assert dict(alarm_facts(situation, first_alarm(situation, 0)))["practice_c"] is None
