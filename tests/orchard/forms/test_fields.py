from datetime import date

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given, strategies as st

from orchard.forms.fields import (
    DayOfYearField,
    NumberField,
    QuantityField,
    read_past_day,
)
from orchard.units import Quantity, UnitSystem


def volume(system=UnitSystem.METRIC):
    field = QuantityField(Quantity.VOLUME, low=0.5, high=5000, label="Pot volume")
    field.system = system
    return field


@given(st.text(max_size=40), st.sampled_from(UnitSystem))
def test_any_text_is_an_amount_within_bounds_or_refused(text, system):
    field = volume(system)
    try:
        found = field.clean(text)
    except ValidationError:
        return
    assert found is None or 0.5 <= found <= 5000
    assert (found is None) == (not text.strip())


@given(st.floats(0.5, 5000), st.sampled_from(UnitSystem))
def test_an_untouched_box_has_not_changed(litres, system):
    field = volume(system)
    assert not field.has_changed(litres, field.prepare_value(litres))
    assert field.has_changed(litres, f"{field.prepare_value(litres)}1")


def test_a_change_from_and_to_nothing_is_seen():
    assert volume().has_changed(None, "5")
    assert volume().has_changed(5.0, "")
    assert not volume().has_changed(None, "")


@given(st.text(max_size=40))
def test_any_text_is_a_number_within_bounds_or_refused(text):
    try:
        found = NumberField(low=-90, high=90, label="Latitude", unit="°").clean(text)
    except ValidationError:
        return
    assert -90 <= found <= 90


@given(st.text(max_size=40) | st.from_regex(r"\d{4}([-./ ]\d{1,2}){0,2}"))
def test_any_text_is_a_day_or_refused(text):
    try:
        found = read_past_day(text)
    except ValueError:
        return
    assert isinstance(found, date)


@given(st.dates())
def test_a_written_day_is_read_back(day):
    assert read_past_day(day.isoformat()) == day


@pytest.mark.parametrize("text", ["", "0000", "20", "2024-13", "Smarch 2024", "2024-"])
def test_what_is_no_day_is_refused(text):
    with pytest.raises(ValueError, match=r"\w"):
        read_past_day(text)


@given(st.lists(st.text(max_size=4), max_size=3))
def test_any_two_boxes_are_a_day_of_the_year_or_refused(boxes):
    try:
        found = DayOfYearField(label="Last frost").clean(boxes)
    except ValidationError:
        return
    if found is not None:
        assert date(2000, *found)


def test_half_a_day_of_the_year_is_refused():
    for boxes in (["2", ""], ["", "29"], ["2", "30"], ["13", "1"], ["a", "b"]):
        with pytest.raises(ValidationError):
            DayOfYearField(label="Last frost").clean(boxes)
    assert DayOfYearField(label="Last frost").clean(["2", "29"]) == (2, 29)
