"""Sizes, intervals and weights of pots against what is published."""

from datetime import date, timedelta

import pytest
from hypothesis import given, strategies as st

from care.science.container_water import LEACHING_FRACTION, pot_diameter_m
from care.science.potting import (
    INCH_M,
    YEARS_BETWEEN,
    is_cramped,
    next_pot,
    pot_litres,
    potting_window,
    wet_weight_kg,
    years_due_on,
)
from care.science.season import growth_start
from orchard.catalogue.species import species_catalogue
from tests.care.rules.cases import MILD, WARM, morning, orange, outlook, species, tree


@pytest.mark.parametrize("kind", [orange(), species("avocado", feed_group="tropical")])
def test_citrus_and_avocado_move_up_two_inches(kind):
    # Nursery pages: no more than 2 in wider at a step.
    steps = next_pot(34.1, kind)
    grown_in = (pot_diameter_m(steps.advised_l) - pot_diameter_m(34.1)) / INCH_M
    assert grown_in == pytest.approx(2)


@given(litres=st.floats(8, 150))
def test_others_move_up_between_two_and_four_inches(litres):
    steps = next_pot(litres, species())
    grown_in = (pot_diameter_m(steps.advised_l) - pot_diameter_m(litres)) / INCH_M
    assert 2 <= grown_in <= 4


@given(litres=st.floats(0.3, 300))
def test_no_step_passes_three_times_the_volume(litres):
    # The other published rule: at most three times as large.
    steps = next_pot(litres, species())
    assert litres < steps.careful_l <= steps.advised_l <= steps.bold_l
    assert steps.bold_l == pytest.approx(3 * litres)


def test_the_bold_rule_outgrows_the_careful_one_in_large_pots():
    steps = next_pot(60.0, species())
    assert steps.bold_l > 2 * steps.careful_l


@pytest.mark.parametrize(
    ("facts", "litres"),
    [
        ({"container_litres": 40.0, "container_diameter_m": 0.2}, 40.0),
        ({"container_diameter_m": 0.4}, 42.7),
        ({}, None),
    ],
)
def test_a_pots_volume(facts, litres):
    found = pot_litres(tree(in_container=True, **facts))
    assert found == (None if litres is None else pytest.approx(litres, abs=0.05))


@pytest.mark.parametrize(
    ("facts", "is_so"),
    [
        # 1.7 m2 of apple in leaf at 6 mm a day: 9.7 L, and 10 L are easily had.
        ({"crown_area_m2": 1.7}, False),
        ({"crown_area_m2": 1.8}, True),
        # The same on a winter's day, for it is the crown that counts.
        ({"crown_area_m2": 1.8, "et0_mm": 0.4, "use_l": 0.1}, True),
        ({"crown_area_m2": 1.7, "et0_mm": 6.5}, True),
        ({"pot_too_small": True}, True),
        ({"needs_twice_daily": True}, True),
    ],
)
def test_a_pot_is_cramped_when_a_hot_day_empties_what_is_easily_had(facts, is_so):
    assert is_cramped(outlook(is_container=True, **facts), species()) is is_so


def test_a_soaked_pot_of_60_litres_passes_50_kilograms():
    # Common practice, no source.
    assert wet_weight_kg(60.0, "mix") > 50
    assert wet_weight_kg(60.0, "garden soil") > wet_weight_kg(60.0, "mix")


def test_hardy_trees_are_potted_in_late_winter_before_growth():
    window = potting_window(morning(date(2014, 1, 1)), 2014)
    start = growth_start(2014, species(), MILD)
    assert window.start == start - timedelta(days=42)
    assert window.end == start + timedelta(days=14)


def test_tender_ones_once_they_grow():
    kind = orange()
    window = potting_window(morning(date(2014, 1, 1), tree(kind), WARM), 2014)
    start = growth_start(2014, kind, WARM)
    assert window.start == start - timedelta(days=14)
    assert window.end == start + timedelta(days=42)


def test_years_are_counted_from_the_last_potting():
    assert years_due_on(date(2012, 3, 1), 3.0) == date(2015, 3, 2)


@pytest.mark.parametrize(
    "key", ["orange", "lemon", "lime", "mandarin_satsuma", "grapefruit"]
)
def test_grown_citrus_ends_in_fifteen_gallons_or_more(key):
    # UF/IFAS Gardening Solutions and reprints: a final pot of 15 gal or more.
    assert species_catalogue()[key].container_min_l >= 15 * 3.785411784


def test_what_runs_out_below_lies_in_the_published_tenth_to_fifth():
    # 10-20 % leaching fraction, from memory.
    assert 0.10 <= LEACHING_FRACTION <= 0.20


def test_years_between_pottings_span_both_published_rules():
    # 2-3 years (extension reprints), 3-5 (University of Nevada).
    least, usual, most = YEARS_BETWEEN
    assert (least, most) == (2, 5)
    assert usual == 3
