"""What boxes show is read back as it was, in the language of whoever looks."""

from datetime import date

import pytest
from django import forms
from django.core.exceptions import ValidationError
from django.utils import translation
from hypothesis import given, strategies as st

from orchard.forms.fields import (
    DayOfYearField,
    NumberField,
    QuantityField,
    read_past_day,
)
from orchard.forms.folds import folds_of
from orchard.forms.tree_fields import FOLDS, WEEKDAYS
from orchard.forms.tree_list import parse_tree_list
from orchard.units import Quantity, UnitSystem

LANGUAGES = ("en", "es")
languages = st.sampled_from(LANGUAGES)


@pytest.mark.parametrize(("language", "shown"), [("en", "18.5"), ("es", "18,5")])
def test_a_box_shows_the_readers_decimal_sign(language, shown):
    litres = QuantityField(Quantity.VOLUME, low=0.5, high=5000, label="Pot volume")
    degrees = NumberField(low=-90, high=90, label="Latitude", unit="°")
    with translation.override(language):
        assert litres.prepare_value(18.5) == shown
        assert degrees.prepare_value(18.5) == shown


@given(st.floats(0.5, 5000), st.sampled_from(UnitSystem), languages)
def test_a_quantity_that_is_shown_is_read_back(litres, system, language):
    field = QuantityField(Quantity.VOLUME, low=0.4, high=6000, label="Pot volume")
    field.system = system
    with translation.override(language):
        shown = field.prepare_value(litres)
        found = field.clean(shown)
        assert found == pytest.approx(litres, abs=0.02)
        assert not field.has_changed(litres, shown)
        assert field.prepare_value(found) == shown


@given(st.floats(-90, 90), languages)
def test_a_number_that_is_shown_is_read_back(degrees, language):
    field = NumberField(low=-90, high=90, label="Latitude", unit="°")
    with translation.override(language):
        found = field.clean(field.prepare_value(round(degrees, 6)))
    assert found == pytest.approx(degrees, abs=1e-6)


@pytest.mark.parametrize(
    ("language", "typed", "litres"),
    [
        *(("es", "18,5", 18.5), ("es", "18.5", 18.5), ("es", "1.200,5", 1200.5)),
        *(("en", "18,5", 18.5), ("en", "18.5", 18.5), ("es", "1,200", 1.2)),
    ],
)
def test_a_number_is_read_as_the_reader_writes_it(language, typed, litres):
    field = QuantityField(Quantity.VOLUME, low=0.5, high=5000, label="Pot volume")
    with translation.override(language):
        assert field.clean(typed) == litres


def test_what_spanish_could_mean_two_ways_is_refused():
    field = QuantityField(Quantity.VOLUME, low=0.5, high=5000, label="Pot volume")
    with translation.override("es"), pytest.raises(ValidationError):
        field.clean("1.200")


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("typed", ["March 2024", "mar 2024", "2024-03", "2024-03-01"])
def test_english_months_are_read_everywhere(language, typed):
    with translation.override(language):
        assert read_past_day(typed) == date(2024, 3, 1)


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("marzo de 2024", date(2024, 3, 1)),
        ("Septiembre 2023", date(2023, 9, 1)),
        ("ene 2023", date(2023, 1, 1)),
    ],
)
def test_spanish_months_are_read_where_spanish_is(typed, day):
    with translation.override("es"):
        assert read_past_day(typed) == day


def test_months_and_weekdays_are_those_of_the_reader():
    frost = DayOfYearField(label="Last frost")
    with translation.override("es"):
        assert ">marzo</option>" in str(frost.widget.render("frost", (3, 20)))
        assert [str(name) for _, name in WEEKDAYS][:2] == ["lunes", "martes"]
    with translation.override("en"):
        assert ">March</option>" in str(frost.widget.render("frost", (3, 20)))


def test_a_list_of_trees_is_read_in_either_language():
    lines = "Uno, manzano, tierra, 1998\nDos, limonero, maceta de 60 L, desconocido"
    parsed = parse_tree_list(lines, date(2026, 6, 1))
    assert parsed.problems == ()
    assert [(row.species_key, row.container_litres) for row in parsed.rows] == [
        ("apple", None),
        ("lemon", 60.0),
    ]


def test_links_to_folds_are_the_same_in_every_language():
    with translation.override("en"):
        english = [fold.key for fold in folds_of(forms.Form(), FOLDS)]
    with translation.override("es"):
        assert [fold.key for fold in folds_of(forms.Form(), FOLDS)] == english


def test_a_number_close_to_nothing_is_written_out():
    field = NumberField(low=-90, high=90, label="Latitude", unit="°")
    assert field.prepare_value(0.000001) == "0.000001"
