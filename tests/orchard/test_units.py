import math

import pytest
from django.utils import translation
from hypothesis import given, settings, strategies as st

from orchard.units import (
    NO_NUMBER,
    Quantity,
    UnitError,
    UnitSystem,
    format_length_mm,
    format_metres,
    format_quantity,
    format_temperature,
    from_si,
    parse_number,
    parse_quantity,
    to_si,
    unit_label,
)

METRIC, US = UnitSystem.METRIC, UnitSystem.US


@pytest.mark.parametrize(
    ("quantity", "si_per_us"),
    [
        # NIST Special Publication 811 (2008), appendix B.8, from memory: factors to
        # seven digits; inch, foot, pound and mile per hour are exact.
        (Quantity.DEPTH, 25.4),
        (Quantity.DIAMETER, 25.4),
        (Quantity.VOLUME, 3.785412),
        (Quantity.LOOSE_VOLUME, 28.31685),
        (Quantity.TEMPERATURE_STEP, 0.5555556),
        (Quantity.LENGTH, 0.3048),
        (Quantity.SMALL_MASS, 28.34952),
        (Quantity.MASS, 0.4535924),
        (Quantity.SPEED, 0.44704),
        (Quantity.AREA, 0.09290304),
    ],
)
def test_a_us_unit_is_worth_its_published_factor(quantity, si_per_us):
    assert to_si(1, quantity, US) == pytest.approx(si_per_us, rel=2e-7)


@pytest.mark.parametrize(
    # Fixed points of the two scales (NIST SP 811, B.8: t/°C = (t/°F - 32)/1.8).
    ("fahrenheit", "celsius"),
    [(32, 0), (212, 100), (-40, -40), (45, 7.222222)],
)
def test_fahrenheit_meets_celsius_at_known_points(fahrenheit, celsius):
    found = to_si(fahrenheit, Quantity.TEMPERATURE, US)
    assert found == pytest.approx(celsius, abs=1e-6)


@given(
    st.floats(-1e6, 1e6), st.sampled_from(list(Quantity)), st.sampled_from([METRIC, US])
)
@settings(max_examples=200)
def test_there_and_back_is_the_same_value(value, quantity, system):
    there = from_si(value, quantity, system)
    assert to_si(there, quantity, system) == pytest.approx(value, rel=1e-12, abs=1e-9)


@given(st.floats(-1e6, 1e6), st.sampled_from(list(Quantity)))
@settings(max_examples=50)
def test_metric_is_si_itself(value, quantity):
    assert to_si(value, quantity, METRIC) == value
    assert from_si(value, quantity, METRIC) == value


@pytest.mark.parametrize(
    ("value", "unit", "metric", "us"),
    [
        (18.2, "L", "18 L", "4.8 gal"),
        (4.84, "L", "4.8 L", "1.3 gal"),
        (0.5, "L", "0.5 L", "17 fl oz"),
        (0.03, "L", "30 mL", "1 fl oz"),
        (0.0, "L", "0 L", "0 gal"),
        (180.0, "L loose", "180 L", "6.4 cu ft"),
        (250.0, "g", "250 g", "9 oz"),
        (1234.0, "g", "1.2 kg", "2.7 lb"),
        (999.7, "g", "1 kg", "2.2 lb"),
        (12.34, "kg", "12.3 kg", "27.2 lb"),
        (75.0, "mm", "75 mm", "3 in"),
        (0.2, "mm", "0.2 mm", "0.01 in"),
        (0.45, "m", "0.45 m", "1.5 ft"),
        (12.0, "m", "12 m", "39 ft"),
        (-2.23, "°C", "-2.2 °C", "28 °F"),
        (-0.04, "°C", "0 °C", "32 °F"),
        (0.25, "share", "25%", "25%"),
        (3.0, "", "3", "3"),
        (3.0, "cuts", "3 cuts", "3 cuts"),
        (math.nan, "L", NO_NUMBER, NO_NUMBER),
    ],
)
def test_an_amount_reads_as_a_can_or_scale_shows_it(value, unit, metric, us):
    assert format_quantity(value, unit, METRIC) == metric
    assert format_quantity(value, unit, US) == us


def test_named_formatters_know_their_units():
    assert format_temperature(4.4, US) == "40 °F"
    assert format_length_mm(12.7, US) == "0.5 in"
    assert format_metres(3.05, US) == "10 ft"
    assert unit_label(Quantity.VOLUME, US) == "gal"
    assert unit_label(Quantity.VOLUME, METRIC) == "L"


@given(
    st.floats(allow_nan=True, allow_infinity=True),
    st.sampled_from(["mm", "L", "L loose", "g", "kg", "m", "°C", "share", "", "x"]),
    st.sampled_from([METRIC, US]),
)
@settings(max_examples=200)
def test_every_number_can_be_shown(value, unit, system):
    shown = format_quantity(value, unit, system)
    assert shown == NO_NUMBER or shown.startswith(tuple("-0123456789"))
    assert not shown.startswith("-0 ")


@pytest.mark.parametrize(
    ("text", "system", "litres"),
    [
        ("60", METRIC, 60.0),
        ("15", US, 56.78118),
        ("15 gal", METRIC, 56.78118),
        ("7 Gallons", METRIC, 26.49788),
        ("60 L", US, 60.0),
        ("18,5", METRIC, 18.5),
        (".5 l", METRIC, 0.5),
        ("1,200 L", US, 1200.0),
        ("16 fl oz", METRIC, 0.4731765),
    ],
)
def test_a_typed_unit_wins_over_the_members_own(text, system, litres):
    found = parse_quantity(text, Quantity.VOLUME, system)
    assert found == pytest.approx(litres, rel=1e-6)


@pytest.mark.parametrize("text", ["", "gal", "five", "5 lb", "1e5", "5 5", "--3", "٣"])
def test_what_is_no_volume_is_refused(text):
    with pytest.raises(UnitError, match="“"):
        parse_quantity(text, Quantity.VOLUME, METRIC)


def test_a_comma_that_could_mean_two_things_is_refused_with_both_readings():
    with pytest.raises(UnitError, match=r"write 1200 or 1\.200"):
        parse_number("1,200", METRIC)
    assert parse_number("1,200", US) == 1200
    assert parse_number("\N{MINUS SIGN}1,5") == -1.5


def test_a_number_too_large_for_the_machine_is_refused():
    with pytest.raises(UnitError, match="too large"):
        parse_number("9" * 400)


@given(
    st.text(max_size=30), st.sampled_from(list(Quantity)), st.sampled_from([METRIC, US])
)
@settings(max_examples=200)
def test_any_text_is_an_amount_or_a_unit_error(text, quantity, system):
    try:
        told = math.isfinite(parse_quantity(text, quantity, system))
    except UnitError as error:
        told = str(error)
    assert told


def test_degrees_are_read_with_either_sign_in_any_language():
    for language in ("en", "es"):
        with translation.override(language):
            assert parse_number("47.451", largest=90) == 47.451
            assert parse_number("-122,308", largest=180) == -122.308
            with pytest.raises(UnitError):
                parse_number("1.200" if language == "es" else "1,200", largest=5000)
