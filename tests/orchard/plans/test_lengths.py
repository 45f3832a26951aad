"""Lengths typed and said as tapes show them. Inch 25.4 mm, foot 0.3048 m: exact."""

import pytest
from hypothesis import given, strategies as st

from orchard.plans.lengths import length_words, read_length
from orchard.plans.problems import PlanError
from orchard.units import UnitError, UnitSystem

METRIC, US = UnitSystem.METRIC, UnitSystem.US


@pytest.mark.parametrize(
    ("text", "length_m"),
    [
        ("3.45", 3.45),
        ("3,45 m", 3.45),
        ("345 cm", 3.45),
        ("12'4\"", 148 * 0.0254),
        ("12' 4", 148 * 0.0254),
        ("12\N{PRIME}4\N{DOUBLE PRIME}", 148 * 0.0254),
        ("12 ft 4 1/2 in", 148.5 * 0.0254),
        ("12\N{RIGHT SINGLE QUOTATION MARK}", 144 * 0.0254),
        ("30 in", 30 * 0.0254),
        ("\N{MINUS SIGN}2", -2.0),
    ],
)
def test_a_typed_length(text, length_m):
    assert read_length(text, METRIC) == pytest.approx(length_m, abs=1e-9)


def test_a_bare_number_is_in_the_reader_s_units():
    assert read_length("10", US) == pytest.approx(3.048)


@pytest.mark.parametrize("text", ["", "far", "3 gal", "5'13\"", "1 2", "nan", "1e9 m"])
def test_no_length(text):
    with pytest.raises(UnitError):
        read_length(text, METRIC)


@pytest.mark.parametrize(
    ("length_m", "metric", "us"),
    [
        (3.45, "3.45 m", "11'4\""),
        (5.0, "5 m", "16'5\""),
        (0.1, "0.1 m", "4 in"),
        (-0.001, "0 m", "0 in"),
        (-1.0, "-1 m", "-3'3\""),
        (3.6576, "3.66 m", "12 ft"),
        (123.4, "123 m", "405 ft"),
        (9_000_000.0, "9,000 km", "5,592 mi"),
    ],
)
def test_a_length_in_words(length_m, metric, us):
    assert length_words(length_m, METRIC) == metric
    assert length_words(length_m, US) == us


@given(st.floats(0, 99))
def test_what_is_said_is_read_back(length_m):
    for units, off_m in ((METRIC, 0.00501), (US, 0.01271)):
        words = length_words(length_m, units)
        assert read_length(words, units) == pytest.approx(length_m, abs=off_m)


def test_a_problem_speaks_the_reader_s_units_and_keeps_braces():
    problem = PlanError("{name} is {off} away", name="{x}", off=3.048)
    assert str(problem) == "{x} is 3.05 m away"
    assert problem.words(US) == "{x} is 10 ft away"
