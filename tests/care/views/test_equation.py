"""Equations as they are set, and with their numbers."""

import pytest

from care.views.steps.equation import Part, equation_parts, with_numbers
from care.views.steps.step import Step, Term


def test_letters_are_slanted_and_what_follows_an_underscore_stands_below():
    assert equation_parts("U = 2 · K_c / N_full") == (
        Part("U", is_symbol=True),
        Part(" = 2 · "),
        Part("K", "c", is_symbol=True),
        Part(" / "),
        Part("N", "full", is_symbol=True),
    )


def test_functions_stand_upright_and_minus_is_a_minus():
    assert equation_parts("min(a - b, 1)") == (
        Part("min"),
        Part("("),
        Part("a", is_symbol=True),
        Part(" \N{MINUS SIGN} "),
        Part("b", is_symbol=True),
        Part(", 1)"),
    )


def test_numbers_stand_for_the_symbols_of_the_right_side():
    numbers = {"p": "0.5", "C_1": "16.5", "D_1": "8"}
    shown = with_numbers("S = max(p · C_1 - D_1, 0)", numbers)
    assert shown == "max(0.5 · 16.5 \N{MINUS SIGN} 8, 0)"


def test_a_number_below_zero_stands_in_brackets():
    shown = with_numbers("a = T + m", {"T": "-1.1", "m": "1.7"})
    assert shown == "(\N{MINUS SIGN}1.1) + 1.7"


def test_a_symbol_without_a_number_is_an_error():
    with pytest.raises(KeyError):
        with_numbers("a = b", {})


def test_a_step_shows_its_equation_with_its_numbers():
    step = Step(
        "double",
        "",
        "b = 2 · a",
        (Term("a", "an input", 2.0, "m", "tree record"),),
        Term("b", "a result", 4.0, "m"),
        4.0,
    )
    assert step.with_numbers == "2 · 2"
    assert step.parts[0] == Part("b", is_symbol=True)
    assert step.terms[0].parts == (Part("a", is_symbol=True),)


@pytest.mark.parametrize(("again", "shown"), [(4.01, ""), (4.1, "4.1")])
def test_only_a_noticeable_rounding_is_told(again, shown):
    step = Step("", "", "b = a", (), Term("b", "", 4.0), again)
    assert step.shown_again == shown
