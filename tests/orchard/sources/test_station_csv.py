from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings, strategies as st

from orchard.sources import SOURCES
from orchard.sources.problems import SourceError
from orchard.sources.station_columns import (
    ColumnChoice,
    ColumnMapping,
    ColumnUnit,
    DateOrder,
    StationQuantity,
)
from orchard.sources.station_csv import (
    MAX_PROBLEMS,
    StationDay,
    guess_mapping,
    parse_days,
    read_table,
)
from orchard.units import UnitSystem

DEMO = Path(__file__).parents[3] / "deploy" / "demo" / "seattle_daily_2012_2015.csv"
TODAY = date(2016, 1, 1)
HEAD = "date,tmin_c,tmax_c,rain_mm\n"


def parsed(text, today=TODAY, **mapping):
    table = read_table(text.encode() if isinstance(text, str) else text)
    guess = guess_mapping(table.header)
    return parse_days(table, ColumnMapping(guess.columns, **mapping), today)


def assert_told(problems):
    assert problems
    assert all(problem.message for problem in problems)


def messages(found):
    return [str(problem) for problem in found.problems]


def test_a_whole_published_record_is_read():
    # NOAA GHCN-Daily for Seattle-Tacoma, 2012-2015: 1461 days without a gap; rain of
    # the years 1226.0, 828.0, 1232.8 and 1139.2 mm, computed independently.
    found = parsed(DEMO.read_bytes())
    assert found.to_store == found.days
    assert (len(found.days), found.gaps, found.missing_values) == (1461, (), 0)
    for year, rain_mm in (
        (2012, 1226.0),
        (2013, 828.0),
        (2014, 1232.8),
        (2015, 1139.2),
    ):
        total = sum(d.rain_mm for d in found.days if d.day.year == year)
        assert total == pytest.approx(rain_mm, abs=0.05)
    assert found.days[0] == StationDay(date(2012, 1, 1), 5.0, 12.8, 0.0, wind_ms=4.7)


@pytest.mark.parametrize(
    "data",
    [
        (HEAD + "2014-07-01,10.5,20.5,1.5\n").encode(),
        ("\ufeff" + HEAD + "2014-07-01,10.5,20.5,1.5").encode(),
        (HEAD + "2014-07-01,10.5,20.5,1.5\n").encode("utf-16"),
        "# héloïse\ndate;tmin;tmax;rain\n2014-07-01;10,5;20,5;1,5\n".encode("latin-1"),
        b"Datum \x96;tmin;tmax;rain\r\n2014-07-01;10,5;20,5;1,5\r\n",
        b"\x81 day;tmin;tmax;rain\r2014-07-01;10,5;20,5;1,5\r",
        b"date\ttmin\ttmax\train\n2014-07-01\t10.5\t20.5\t1.5\n",
        b'date,tmin,tmax,rain\n"2014-07-01","10,5","20,5","1,5"\n',
        b"# a note, here\n\ndate,tmin,tmax,rain\n# more\n2014-07-01,10.5,20.5,1.5\n,,,\n",
    ],
)
def test_any_usual_way_of_writing_a_table_is_read(data):
    table = read_table(data)
    columns = {
        quantity: ColumnChoice(index, unit)
        for index, (quantity, unit) in enumerate(
            [
                (StationQuantity.DATE, ColumnUnit.NONE),
                (StationQuantity.TMIN, ColumnUnit.CELSIUS),
                (StationQuantity.TMAX, ColumnUnit.CELSIUS),
                (StationQuantity.RAIN, ColumnUnit.MILLIMETRES),
            ]
        )
    }
    found = parse_days(table, ColumnMapping(columns), TODAY)
    assert found.to_store == (StationDay(date(2014, 7, 1), 10.5, 20.5, 1.5),)


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        (
            ["Date", "Tmin (°C)", "Tmax (°C)", "Rain (mm)"],
            {"date": (0, ""), "tmin": (1, "°C"), "tmax": (2, "°C"), "rain": (3, "mm")},
        ),
        (
            ["DATE", "TMAX", "TMIN", "PRCP", "AWND"],
            {
                "date": (0, ""),
                "tmin": (2, "°C"),
                "tmax": (1, "°C"),
                "rain": (3, "mm"),
                "wind": (4, "m/s"),
            },
        ),
        (
            ["day", "High Temp °F", "Low Temp °F", "Rainfall (in)", "Snow in"],
            {"date": (0, ""), "tmin": (2, "°F"), "tmax": (1, "°F"), "rain": (3, "in")},
        ),
        (
            [
                "time",
                "maxTempF",
                "minTempF",
                "rainIn",
                "rh_max",
                "rh_mean",
                "Wind gust",
            ],
            {
                "date": (0, ""),
                "tmin": (2, "°F"),
                "tmax": (1, "°F"),
                "rain": (3, "in"),
                "humidity": (5, "%"),
            },
        ),
        (
            [
                "time",
                "temperature_2m_max",
                "temperature_2m_min",
                "precipitation_sum",
                "et0_total",
                "Solar rad (W/m²)",
                "Wind km/h",
            ],
            {
                "date": (0, ""),
                "tmin": (2, "°C"),
                "tmax": (1, "°C"),
                "rain": (3, "mm"),
                "et0": (4, "mm"),
                "radiation": (5, "W/m²"),
                "wind": (6, "km/h"),
            },
        ),
        (["a", "b"], {}),
    ],
)
def test_headings_say_what_columns_hold(header, expected):
    found = guess_mapping(tuple(header)).columns
    assert {str(q): (c.index, str(c.unit)) for q, c in found.items()} == expected


def test_units_no_heading_names_are_the_members_own():
    found = guess_mapping(
        ("date", "tmin", "tmax", "rain", "wind"), UnitSystem.US
    ).columns
    units = [found[q].unit for q in ("tmin", "tmax", "rain", "wind")]
    assert units == ["°F", "°F", "in", "mph"]


def test_every_unit_becomes_si():
    text = (
        "date,low F,high F,rain in,wind mph,solar W/m2,et0 in,rh\n"
        "2014-07-01,50,68,0.5,10,250,0.2,102\n"
    )
    day = parsed(text).to_store[0]
    assert day.tmin_c == pytest.approx(10)
    assert day.tmax_c == pytest.approx(20)
    assert day.rain_mm == pytest.approx(12.7)
    # NIST SP 811 (from memory): 1 mph = 0.44704 m/s. FAO-56, table 3: 1 W m-2 is
    # 0.0864 MJ m-2 d-1.
    assert day.wind_ms == pytest.approx(4.4704)
    assert day.radiation_mj == pytest.approx(21.6)
    assert day.et0_mm == pytest.approx(5.08)
    assert day.humidity_percent == 100


def test_kilometres_an_hour_become_metres_a_second():
    text = "date,tmin,tmax,rain,wind km/h\n2014-07-01,1,2,0,36\n"
    assert parsed(text).to_store[0].wind_ms == pytest.approx(10)


def test_what_is_missing_stays_missing_and_a_trace_is_none():
    found = parsed(
        HEAD + "2014-07-01,,20,NA\n2014-07-02,-9999,M,T\n2014-07-03,10,20,0\n"
    )
    assert found.to_store == (
        StationDay(date(2014, 7, 1), None, 20.0, None),
        StationDay(date(2014, 7, 2), None, None, 0.0),
        StationDay(date(2014, 7, 3), 10.0, 20.0, 0.0),
    )
    assert found.missing_values == 4


def test_days_that_are_missing_are_a_note_and_never_zeros():
    found = parsed(HEAD + "2014-07-05,1,2,3\n2014-07-01,1,2,3\n2014-07-03,,,\n")
    assert found.problems == ()
    assert [d.day.day for d in found.to_store] == [1, 5]
    assert [(gap.first.day, gap.last.day) for gap in found.gaps] == [(2, 4)]
    assert found.missing_days == 3


@pytest.mark.parametrize(
    ("row", "message"),
    [
        ("2014-13-01,1,2,0", "Line 3, date: “2014-13-01” is not a day of the calendar"),
        ("2014-02-30,1,2,0", "Line 3, date: “2014-02-30” is not a day of the calendar"),
        ("July 1,1,2,0", "Line 3, date: “July 1” is not a date; write dates as"),
        (",1,2,0", "Line 3, date: “” is not a date"),
        ("2014-07-01,1,2,0", "Line 3, date: 2014-07-01 is on line 2 already"),
        ("2016-01-02,1,2,0", "2016-01-02 is still to come; today is 2016-01-01"),
        ("1066-10-14,1,2,0", "too long ago to be measured"),
        ("2014-07-02,9,2,0", "Line 3, tmax_c: the high, 2.0 °C, is below the low, 9.0"),
        ("2014-07-02,1,80,0", "80.0 °C is not possible.* is it in °F"),
        ("2014-07-02,-70,8,0", "Line 3, tmin_c: -70.0 °C is not possible"),
        ("2014-07-02,1,2,-1", "Line 3, rain_mm: -1.0 mm is not possible"),
        ("2014-07-02,1,2,501", "501.0 mm is not possible"),
        ("2014-07-02,1,2,wet", "Line 3, rain_mm: “wet” is not a number"),
        ("2014-07-02,1,2,1.2.3", "Line 3, rain_mm: “1.2.3” is not a number"),
        ("2014-07-02,1,inf,0", "Line 3, tmax_c: “inf” is not a number"),
    ],
)
def test_a_broken_row_is_named_and_stops_everything(row, message):
    found = parsed(f"{HEAD}2014-07-01,1,2,0\n{row}\n")
    assert len(found.problems) == 1
    with pytest.raises(SourceError, match=message):
        raise SourceError(*found.problems)
    assert len(found.days) == 1
    assert found.to_store == ()


def test_millimetres_in_a_column_of_inches_are_noticed():
    found = parsed("date,tmin,tmax,rain in\n2014-07-01,1,2,25\n")
    assert messages(found) == [
        "Line 2, rain in: 635.0 mm is not possible; the column is read as in, is it in "
        "mm?"
    ]


def test_all_mistakes_of_a_row_are_named():
    found = parsed(HEAD + "yesterday,x,y,z\n")
    assert [problem.column for problem in found.problems] == [
        "date",
        "tmin_c",
        "tmax_c",
        "rain_mm",
    ]


def test_endless_mistakes_are_counted_not_listed():
    rows = "".join(f"day {n},1,2,3\n" for n in range(MAX_PROBLEMS + 20))
    found = parsed(HEAD + rows)
    assert len(found.problems) == MAX_PROBLEMS + 1
    assert messages(found)[-1] == "And 20 more mistakes like these."


@pytest.mark.parametrize(
    ("written", "order"),
    [
        ("%Y-%m-%d", None),
        ("%Y/%m/%d", None),
        ("%Y%m%d", None),
        ("%Y-%m-%dT00:00:00Z", None),
        ("%Y-%m-%d 09:00", None),
        ("%d.%m.%Y", None),
        ("%d/%m/%Y", None),
        ("%m/%d/%Y", None),
        ("%m-%d-%Y", DateOrder.MONTH_DAY_YEAR),
        ("%d-%m-%Y", DateOrder.DAY_MONTH_YEAR),
    ],
)
def test_the_order_of_day_and_month_shows_in_the_whole_file(written, order):
    days = [date(2014, 6, 25) + timedelta(days=n) for n in range(20)]
    rows = "".join(f"{day.strftime(written)},1,2,0\n" for day in days)
    found = parsed(HEAD + rows, date_order=order)
    assert [d.day for d in found.to_store] == days


def test_a_date_that_could_be_two_days_is_refused_until_someone_says():
    text = HEAD + "03/04/2014,1,2,0\n05/05/2014,1,2,0\n"
    found = parsed(text)
    assert messages(found) == [
        "Line 2, date: “03/04/2014” can be two days; say whether day or month comes first"
    ]
    us = parsed(text, date_order=DateOrder.MONTH_DAY_YEAR)
    assert us.to_store[0].day == date(2014, 3, 4)
    other = parsed(text, date_order=DateOrder.DAY_MONTH_YEAR)
    assert other.to_store[0].day == date(2014, 4, 3)


def test_a_mapping_must_name_what_is_needed():
    table = read_table(b"date,tmin,tmax,rain\n2014-07-01,1,2,3\n")
    with pytest.raises(SourceError) as caught:
        parse_days(table, ColumnMapping({}), TODAY)
    assert [str(p) for p in caught.value.problems] == [
        "Say which column holds the date.",
        "Say which column holds the lowest temperature.",
        "Say which column holds the highest temperature.",
        "Say which column holds the rain.",
    ]


@pytest.mark.parametrize(
    ("choice", "message"),
    [
        (ColumnChoice(9, ColumnUnit.MILLIMETRES), "There is no column 10 for rain"),
        (ColumnChoice(-1, ColumnUnit.MILLIMETRES), "There is no column 0 for rain"),
        (ColumnChoice(2, ColumnUnit.INCHES), "cannot be both highest temperature and"),
        (ColumnChoice(3, ColumnUnit.PERCENT), "rain cannot be in %"),
    ],
)
def test_a_mapping_must_fit_the_table(choice, message):
    table = read_table(b"date,tmin,tmax,rain\n2014-07-01,1,2,3\n")
    columns = {**guess_mapping(table.header).columns, StationQuantity.RAIN: choice}
    with pytest.raises(SourceError, match=message):
        parse_days(table, ColumnMapping(columns), TODAY)


PIECES = [
    b"date",
    b"2014-07-01",
    b"01/02/2014",
    b"1,5",
    b"-9999",
    b'"',
    b";",
    b",",
    b"\t",
]
LINES = st.lists(st.sampled_from([*PIECES, b"\n", b"\r\n", b"#", b"tmin"]), max_size=80)


@given(st.one_of(st.binary(max_size=300), LINES.map(b"".join)))
@settings(max_examples=200)
def test_any_bytes_are_days_or_a_source_error(data):
    try:
        table = read_table(data)
        found = parse_days(table, guess_mapping(table.header), TODAY)
    except SourceError as error:
        assert_told(error.problems)
    else:
        assert not (found.problems and found.to_store)


CELLS = st.one_of(
    st.text(max_size=12), st.sampled_from(["2014-07-01", "12", "T", "1,5"])
)


@given(st.lists(st.tuples(CELLS, CELLS, CELLS, CELLS), min_size=1, max_size=6))
@settings(max_examples=150)
def test_any_cells_are_days_or_row_numbered_problems(rows):
    body = "".join(";".join(c.replace('"', "") for c in row) + "\n" for row in rows)
    try:
        found = parsed("date;tmin;tmax;rain\n" + body)
    except SourceError as error:
        assert_told(error.problems)
    else:
        assert all(problem.row >= 2 for problem in found.problems)
        assert len(found.days) <= len(rows)


def test_the_order_of_rows_does_not_matter():
    lines = DEMO.read_text(encoding="utf-8").splitlines()
    head, *body = [line for line in lines if not line.startswith("#")][:400]
    forward = parsed("\n".join([head, *body]))
    assert parsed("\n".join([head, *reversed(body)])).days == forward.days


def test_sources_are_listed_by_name():
    assert list(SOURCES) == ["station_csv", "ghcn_daily", "normals", "typed"]
    assert SOURCES["station_csv"] is parse_days
