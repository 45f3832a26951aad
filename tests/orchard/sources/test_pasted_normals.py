from collections.abc import Iterable

import pytest
from hypothesis import given, settings, strategies as st

from orchard.sources.normals import MONTH_NAMES, NormalsTable
from orchard.sources.pasted_normals import MAX_LETTERS, parse_pasted_normals
from orchard.sources.problems import SourceError
from orchard.units import UnitSystem

METRIC, US = UnitSystem.METRIC, UnitSystem.US
LOWS = tuple(float(m) for m in range(1, 13))
HIGHS = tuple(low + 8.5 for low in LOWS)
RAINS = tuple(10.0 * m for m in range(1, 13))
TABLE = NormalsTable(LOWS, HIGHS, RAINS)


def month_lines(form: str, names: Iterable[object] = MONTH_NAMES) -> str:
    rows = zip(names, LOWS, HIGHS, RAINS, strict=True)
    return "\n".join(form.format(*row) for row in rows)


def variable_line(label: str, values: Iterable[float], extra: str = "") -> str:
    return "\t".join([label, *(str(value) for value in values)]) + extra


@pytest.mark.parametrize(
    "text",
    [
        month_lines("{0},{1},{2},{3}"),
        month_lines("{0:.3}. {1} {2} {3}"),
        month_lines("{0}\t{1} °C\t{2} °C\t{3} mm"),
        month_lines("{0}; {1}; {2}; {3};"),
        month_lines("{1} {2} {3}"),
        month_lines("{0},{1},{2},{3}", names=range(1, 13)),
        month_lines("{0} {1} {2} {3}", names=[f"{m:02}" for m in range(1, 13)]),
        "Month, Low, High, Rain\n" + month_lines("{0}, {1}, {2}, {3}"),
        "Month\tHigh\tHumidity\tLow\tRain\n" + month_lines("{0}\t{2}\t80\t{1}\t{3}"),
        "Low High Rain\n\n" + month_lines("{0} {1} {2} {3}") + "\nYear 6 15 780",
        # Nothing says so, but the first are the larger: highs.
        month_lines("{0} {2} {1} {3}"),
    ],
)
def test_a_line_a_month_is_read(text):
    assert parse_pasted_normals(text, METRIC) == TABLE


def test_a_comma_may_be_the_decimal_sign():
    text = month_lines("{0}\t{1}\t{2}\t{3}").replace(".", ",")
    assert parse_pasted_normals(text, METRIC) == TABLE
    assert parse_pasted_normals(text.replace("\t", " "), METRIC) == TABLE


def test_a_line_a_variable_is_read_in_any_order_and_others_are_left_out():
    text = "\n".join(
        [
            "Month\t" + "\t".join(MONTH_NAMES) + "\tYear",
            variable_line("Record high °C (°F)", [30] * 12, extra="\t30"),
            variable_line("Mean daily maximum °C", HIGHS, extra="\t15"),
            variable_line("Daily mean °C", [9] * 12, extra="\t9"),
            variable_line("Mean daily minimum °C", LOWS, extra="\t6"),
            variable_line("Average precipitation mm", RAINS, extra="\t780"),
            variable_line("Average precipitation days", [9] * 12, extra="\t108"),
        ]
    )
    assert parse_pasted_normals(text, US) == TABLE


def test_three_bare_lines_are_low_high_and_rain():
    text = "\n".join(", ".join(map(str, row)) for row in (LOWS, HIGHS, RAINS))
    assert parse_pasted_normals(text, METRIC) == TABLE


def test_values_in_brackets_are_the_other_unit():
    low = variable_line("Average low °F (°C)", ["\N{MINUS SIGN}4 (-20)"] * 12)
    high = variable_line("Average high °F (°C)", ["50 (10)"] * 12)
    rain = variable_line("Rainfall inches (mm)", ["2 (50.8)"] * 12)
    table = parse_pasted_normals(f"{low}\n{high}\n{rain}", METRIC)
    assert table.tmin_c == pytest.approx((-20.0,) * 12)
    assert table.tmax_c == pytest.approx((10.0,) * 12)
    assert table.rain_mm == pytest.approx((50.8,) * 12)


def test_units_come_from_headings_and_else_from_the_member():
    body = "\n".join(f"{name[:3]} 50 32 2" for name in MONTH_NAMES)
    headed = "Month High (°F) Low (°F) Rain (in)\n" + body
    for text, system in ((headed, METRIC), (body, US)):
        table = parse_pasted_normals(text, system)
        assert table.tmin_c == pytest.approx((0.0,) * 12)
        assert table.tmax_c == pytest.approx((10.0,) * 12)
        assert table.rain_mm == pytest.approx((50.8,) * 12)


GOOD = month_lines("{0},{1},{2},{3}")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "Paste twelve lines"),
        ("hello", "Paste twelve lines"),
        ("x" * (MAX_LETTERS + 1), "too long"),
        ("January,1,2,3", "no line for February, March"),
        (GOOD.replace("April", "March"), "Line 4: March appears a second time"),
        (GOOD.replace("April", "Avril"), "Line 4: “Avril” is not a month"),
        (GOOD.replace("3.0,11.5", "3.0,2.5"), "Line 3, March high: the high, 2.5"),
        (GOOD.replace("3.0,11.5", "3.0,x"), "Line 3, high: “x” is not a number"),
        (GOOD.replace("3.0,11.5", "3.0,"), "Line 3, high: is missing"),
        (GOOD.replace(",11.5", ""), "Line 3: needs low, high and rain, but holds 2"),
        (GOOD.replace(",11.5", ",11.5,7"), "Line 3: needs .* but holds 4"),
        (GOOD + "\n" + GOOD, "Line 13: January appears a second time"),
        (
            month_lines("{0},{1},{2},{3}", names=[*range(1, 12), 13]),
            "Line 12: must begin",
        ),
        (month_lines("{1} {2} {3}") + "\n1 2 3", "Found 13 lines"),
        (variable_line("low", LOWS) + "\n" + variable_line("high", HIGHS), "no rain"),
        (
            variable_line("low", LOWS) + "\n" + variable_line("low", LOWS),
            "a second line",
        ),
        (variable_line("1", LOWS[1:]), "Found 1 lines of twelve numbers"),
        (GOOD.replace(",30.0", ",-30"), "Line 3, March rain: rain cannot be below 0"),
    ],
)
def test_a_mistake_is_named_with_its_line(text, message):
    with pytest.raises(SourceError, match=message):
        parse_pasted_normals(text, METRIC)


def test_five_hundred_millimetres_typed_as_inches_are_refused():
    text = GOOD.replace(",30.0", ",500")
    with pytest.raises(SourceError, match=r"Line 3, March rain: 12700 mm.*inches"):
        parse_pasted_normals(text, US)


def test_fahrenheit_read_as_celsius_is_refused():
    text = "\n".join(f"{name} 60 80 50" for name in MONTH_NAMES)
    with pytest.raises(SourceError, match=r"Line 1, January low: .* is it °C or °F"):
        parse_pasted_normals(text, METRIC)


PIECES = [
    "Jan",
    "low",
    "high",
    "rain",
    "1",
    "-2,5",
    "°F",
    "(",
    ")",
    ",",
    ";",
    "\t",
    "\n",
]


@given(
    st.one_of(
        st.text(max_size=200),
        st.lists(st.sampled_from(PIECES), max_size=120).map(" ".join),
    ),
    st.sampled_from([METRIC, US]),
)
@settings(max_examples=200)
def test_any_text_is_a_table_or_a_source_error(text, system):
    try:
        found = parse_pasted_normals(text, system).tmin_c
    except SourceError as error:
        found = error.problems
    assert found


@pytest.mark.parametrize("text", ["(1" * 9_999, "1" * 19_999 + "x", "," * 19_999])
def test_no_text_takes_long(text):
    with pytest.raises(SourceError):
        parse_pasted_normals(text, METRIC)
