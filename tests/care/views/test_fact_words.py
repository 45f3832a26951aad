"""Stored numbers, named and with their units."""

import pytest

from care.views.fact_names import FACT_NAMES
from care.views.fact_values import FACT_VALUES
from care.views.fact_words import _NAMES, FactRow, fact_rows


@pytest.mark.parametrize(
    ("name", "value", "told"),
    [
        ("pot_l", 54.9, ("pot", "54.9 L")),
        ("nitrogen_g_per_m2", 6.2, ("nitrogen", "6.2 g/m²")),
        ("density_g_per_ml", 0.96, ("density", "0.96 g/mL")),
        ("every_days", 14, ("every", "14 days")),
        ("is_citrus", False, ("citrus", "no")),
        ("unverified", True, ("unverified", "yes")),
        ("growth_start_on", "2012-02-18", ("growth start on", "18 February 2012")),
        ("season_stage", "by_month", ("season stage", "by month")),
        ("worst_c", None, ("coldest that is possible", "not known")),
        ("kc_mid", 0.65, ("crop coefficient, full leaf", "0.65")),
        ("season", 2012, ("season", "2012")),
    ],
)
def test_a_fact_is_named_and_carries_its_unit(name, value, told):
    assert fact_rows([(name, value)]) == (FactRow(*told),)


def test_the_list_of_checks_has_its_own_place():
    assert fact_rows([("checks", "drain_holes")]) == ()


@pytest.mark.parametrize("words", [FACT_NAMES, FACT_VALUES], ids=["names", "values"])
def test_a_code_is_said_as_it_stands_in_english(words):
    assert {code: str(said) for code, said in words.items()} == {
        code: code.replace("_", " ") for code in words
    }


def test_what_a_name_needs_explained_is_explained_once():
    assert not set(FACT_NAMES) & set(_NAMES)
