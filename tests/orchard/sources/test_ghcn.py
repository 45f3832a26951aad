from datetime import date

import pytest

from orchard.sources.ghcn_csv import ArchiveUnits, guess_units, read_days, read_rows
from orchard.sources.ghcn_daily import read_dly, read_line
from orchard.sources.ghcn_files import MOST_STATIONS, ArchiveForm, archive_in
from orchard.sources.ghcn_stations import away_km, nearest_stations
from orchard.sources.problems import SourceError
from tests.orchard.sources.answers import fixture

TODAY = date(2026, 11, 26)
SEATAC = "USW00024233"
#: The first four days as in the notes on the format; the values are made up.
HAND = f"{SEATAC}201501TMIN  -33  X    0T X  105 IW-9999   "
NONE = "-9999   "
HEAD = '"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","PRCP",'
HEAD += '"PRCP_ATTRIBUTES","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"\n'


def dly(element, *cells, station=SEATAC, month="201502"):
    cells = [f"{cell:>5}   " if isinstance(cell, int) else cell for cell in cells]
    return f"{station}{month}{element}" + "".join(cells) + NONE * (31 - len(cells))


def record(text, read=read_dly, station=SEATAC, **more):
    return read(text)[station].record(TODAY, **more)


def day_row(day, rain, high, low, flags=",,W"):
    place = '"47.4444","-122.3139","112.5","A FIELD, WA US"'
    values = f'"{rain}","{flags}","{high}",",,W","{low}",",,W"'
    return f'"{SEATAC}","{day}",{place},{values}\n'


def test_the_line_of_the_notes():
    line = HAND.ljust(21 + 8 * 4) + NONE * 27
    assert len(line) == 269
    station, values = read_line(1, line)
    assert station == SEATAC
    assert [(each.day.day, each.value) for each in values] == [
        (1, -3.3),
        (2, 0.0),
        (3, 10.5),
    ]
    assert (values[1].mark, values[2].quality, values[2].source) == ("T", "I", "W")
    found = record(line)
    assert [(each.day.day, each.tmin_c) for each in found.days] == [(1, -3.3), (2, 0.0)]
    assert found.failed == {"I": 1}


def test_a_month_of_three_elements():
    text = "\r\n".join(
        [
            dly("TMAX", 100, 111, 122, "  133  X"),
            dly("TMIN", 10, 11, 12, "   13 SX"),
            dly("PRCP", "    0T X", "    0P X", "   25  S", "  254  X"),
            dly("SNOW", 3, 3, 3, 3),
            dly("AWND", 100),
            "",
        ]
    )
    found = record(text)
    assert [each.day.day for each in found.days] == [1, 2, 3, 4]
    assert [each.rain_mm for each in found.days] == [0.0, None, 2.5, 25.4]
    assert [each.tmin_c for each in found.days] == [1.0, 1.1, 1.2, None]
    assert found.failed == {"S": 1}
    assert (found.traces, found.presumed, found.from_reports) == (1, 1, 1)
    # FAO-56, example 14: 3.2 m/s at 10 m are 2.4 m/s at 2 m, three quarters.
    assert found.days[0].wind_ms == pytest.approx(7.5, abs=0.05)
    assert record(text, wind_height_m=2.0).days[0].wind_ms == pytest.approx(
        10, abs=0.01
    )


def test_rain_of_several_days_is_no_days_own():
    text = "\n".join(
        [
            dly("PRCP", 10, 0, 0, 0, 20),
            dly("MDPR", NONE, NONE, NONE, 300),
            dly("DAPR", NONE, NONE, NONE, 3),
            dly("TMIN", 1, 2, 3, 4, 5),
        ]
    )
    found = record(text)
    assert [each.rain_mm for each in found.days] == [1.0, None, None, None, 2.0]
    assert found.together == 3


def test_blanks_cut_off_and_months_of_28_days_do_no_harm():
    line = dly("PRCP", 1, 2, 3)
    assert record(line.rstrip()).days == record(line).days
    assert len(record(line[: 21 + 8 * 2].rstrip()).days) == 2
    leap = dly("TMAX", *[NONE] * 28, 99, month="202402")
    assert record(leap).days[0].day == date(2024, 2, 29)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (dly("PRCP", 1, 12345)[: 21 + 8 + 3], "cut off within a value"),
        (dly("PRCP", *[NONE] * 29, 7), "a value for day 30 of the month"),
        (dly("PRCP", " 1x2    "), "“ 1x2 ” on day 1 is not a number"),
        (dly("PRCP", 1) + "more", "more than 269 letters"),
        (dly("PRCP", 1, month="201513"), "does not begin with station"),
        (dly("PRCP", 1, month="000001"), "has no year"),
        (dly("PRCP", 1) + "\n" + dly("PRCP", 2), "is on line 1 already, with another"),
    ],
)
def test_a_broken_line_is_named(line, words):
    with pytest.raises(SourceError, match=words):
        read_dly(line)


def test_the_same_line_twice_is_one():
    assert (
        record(dly("PRCP", 1) + "\n" + dly("PRCP", 1)).days
        == record(dly("PRCP", 1)).days
    )


def test_what_no_day_can_have_is_left_out_and_counted():
    text = "\n".join(
        [dly("TMAX", 50, 999, 200), dly("TMIN", 60, 10, 100), dly("PRCP", 1, 9000)]
    )
    found = record(text)
    # A high below its low, 99.9 degC, 900 mm: four values.
    assert found.impossible == 4
    assert [(each.tmin_c, each.tmax_c) for each in found.days] == [
        (None, None),
        (1.0, None),
        (10.0, 20.0),
    ]
    assert record(dly("TMAX", 100, month="202612")).days == ()


def test_gaps_and_missing_values_are_counted():
    text = dly("TMAX", 100, NONE, NONE, 100) + "\n" + dly("TMIN", 10, NONE, NONE, 10)
    found = record(text)
    assert (found.missing_days, found.missing_values) == (2, 2)
    assert [(gap.first.day, gap.last.day) for gap in found.gaps] == [(2, 3)]


def test_one_value_a_row():
    # A line of NOAA's own by-year file: 14.0 degC in Sharjah on 1 January 2019.
    sharjah = record("AE000041196,20190101,TMIN,140,,,S,\n", read_rows, "AE000041196")
    assert sharjah.days[0].tmin_c == 14.0
    found = record(fixture("ghcn_rows.csv").decode(), read_rows)
    assert [(each.day.day, each.rain_mm) for each in found.days] == [
        (1, 5.1),
        (2, 0.0),
        (3, None),
    ]
    assert [each.tmax_c for each in found.days] == [11.7, 12.2, None]
    assert (found.failed, found.traces) == ({"X": 1}, 1)


def test_highs_read_in_the_morning_are_counted():
    rows = "".join(
        f"{SEATAC},2015010{day},TMAX,100,,,0,{time}\n"
        for day, time in ((1, "0700"), (2, "700"), (3, "1700"), (4, ""))
    )
    assert record(rows, read_rows).mornings == 2
    day = HEAD + day_row("2015-01-01", 1, 144, 33).replace(
        '144",",,W"', '144",",,0,0800"'
    )
    assert read_days(day, ArchiveUnits.TENTHS)[SEATAC].record(TODAY).mornings == 1


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("USW1,20150101,TMIN,1,,,W,", "“USW1” is not a station"),
        (f"{SEATAC},20150230,TMIN,1,,,W,", "“20150230” is not a day"),
        (f"{SEATAC},2015-01,TMIN,1,,,W,", "“2015-01” is not a day"),
        (f"{SEATAC},20150101,TMIN,cold,,,W,", "Line 1, TMIN: “cold” is not a number"),
        (f"{SEATAC},20150101", "has 2 cells instead of eight"),
    ],
)
def test_a_broken_row_is_named(row, words):
    with pytest.raises(SourceError, match=words):
        read_rows(row)


@pytest.mark.parametrize(
    ("rows", "units", "expected"),
    [
        (day_row("2015-01-01", "   25", "  128", "  -33"), "tenths", (-3.3, 12.8, 2.5)),
        (day_row("2015-01-01", "   25", "  144", "  -33"), "tenths", (-3.3, 14.4, 2.5)),
        (day_row("2015-01-01", "2.5", "12.8", "-3.3"), "metric", (-3.3, 12.8, 2.5)),
        (day_row("2015-01-01", "0.10", "55", "26"), "us", (-10 / 3, 115 / 9, 2.54)),
    ],
)
def test_one_day_a_row_in_whatever_was_ordered(rows, units, expected):
    guess = guess_units(HEAD + rows)
    # Whole numbers below 130 could be anything; the person is asked.
    assert guess == units or ("128" in rows and guess is None)
    maker = read_days(HEAD + rows, ArchiveUnits(units))[SEATAC]
    (day,) = maker.record(TODAY).days
    assert (day.tmin_c, day.tmax_c, day.rain_mm) == pytest.approx(expected)
    station = maker.station
    assert (station.latitude_deg, station.elevation_m) == (47.4444, 112.5)
    assert station.name == "A FIELD, WA US"


def test_flags_and_holes_of_one_day_a_row():
    rows = day_row("2015-01-01", "  900", "", "  -33", flags=",O,W") + day_row(
        "2015-01-02", "    0", " 9999", "  -33", flags="T,,W,2400"
    )
    found = read_days(HEAD + rows, ArchiveUnits.TENTHS)[SEATAC].record(TODAY)
    assert [each.rain_mm for each in found.days] == [None, 0.0]
    assert [each.tmax_c for each in found.days] == [None, None]
    assert (found.failed, found.traces) == ({"O": 1}, 1)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (HEAD + day_row("2015-02-30", 1, 2, 3), "Line 2, DATE: “2015-02-30”"),
        (HEAD + day_row("2015-02-03", 1, "warm", 3), "Line 2, TMAX: “warm”"),
        (
            HEAD + day_row("2015-02-03", 1, 2, 3).replace('",,W"\n', '",,W",7\n'),
            "has 13",
        ),
        (HEAD + 'x,"2015-02-03"\n', "“x” is not a station"),
        (HEAD.replace("TMAX", "TMIN") + day_row("2015-02-03", 1, 2, 3), "same twice"),
    ],
)
def test_a_broken_day_is_named(text, words):
    with pytest.raises(SourceError, match=words):
        read_days(text, ArchiveUnits.TENTHS)


@pytest.mark.parametrize(
    ("data", "form"),
    [
        (HAND, ArchiveForm.FIXED),
        ("\n" + dly("SNOW", 1) + "\n", ArchiveForm.FIXED),
        ("AE000041196,20190101,TMIN,140,,,S,", ArchiveForm.ROWS),
        ("ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME", ArchiveForm.ROWS),
        (HEAD + day_row("2015-01-01", 1, 2, 3), ArchiveForm.DAYS),
        ("STATION,DATE,PRCP\nGHCND:USW00024233,20150101,0.1\n", ArchiveForm.DAYS),
        ("date,tmin,tmax,rain\n2015-01-01,1,2,3\n", None),
        ("STATION,DATE,PRCP\nmy garden,2015-01-01,0.1\n", None),
        ("", None),
    ],
)
def test_a_file_is_known_by_its_content(data, form):
    found = archive_in(data.encode())
    assert (found and found.form) == form


def test_the_archive_that_is_mistaken_for_it_is_named():
    head = '"STATION","DATE","TEMP","DEWP","MAX","MIN","PRCP","FRSHTT"\n'
    with pytest.raises(SourceError, match="Global Summary of the Day"):
        archive_in((head + '"72793024233","2015-01-01","40.1"\n').encode())


def test_a_whole_years_stations_are_too_many():
    rows = "\n".join(
        f"USW{number:08},20150101,PRCP,0,,,W," for number in range(MOST_STATIONS + 1)
    )
    with pytest.raises(SourceError, match="holds 61 stations"):
        archive_in(rows.encode()).records()


def test_the_nearest_stations_of_a_list():
    text = fixture("ghcnd_stations.txt").decode()
    assert archive_in(text.encode()).form is ArchiveForm.STATIONS
    near = nearest_stations(text, 47.45, -122.31, 130.0)
    # By hand: a hundredth of a degree of latitude is 1.11 km.
    assert [each.station.name for each in near] == [
        "NEAR FIELD WA",
        "HILL WA",
        "SOUTHERN STATION",
    ]
    assert near[0].away_km == pytest.approx(1.11, abs=0.01)
    assert (near[0].above_m, near[1].above_m, near[2].above_m) == (-20.0, 870.0, None)
    assert away_km(read_dly(HAND)[SEATAC].station, 47.0, -122.0) is None
