"""Whatever a file of weather holds, it is days or told to be none, and nothing else."""

from datetime import date
from zoneinfo import ZoneInfo

from hypothesis import given, settings, strategies as st

from orchard.sources.ghcn_csv import ArchiveUnits
from orchard.sources.ghcn_files import ArchiveForm, archive_in
from orchard.sources.ghcn_stations import nearest_stations
from orchard.sources.problems import SourceError
from orchard.sources.station_columns import (
    Clock,
    ColumnMapping,
    RainMode,
    guess_mapping,
)
from orchard.sources.station_csv import parse_days, read_table

TODAY = date(2026, 11, 26)
DLY = "USW00024233201501PRCP" + "   12 TW" * 31
LIST = "USW00000001  47.4600 -122.3100  110.0 WA NEAR FIELD"
SEEDS = [
    DLY,
    DLY.replace("201501PRCP", "000101MDPR"),
    "USW00024233,20150101,PRCP,51,,,W,2400",
    'STATION,DATE,LATITUDE,PRCP,PRCP_ATTRIBUTES\n"USW00024233","2015-01-01","47","5",",,W"',
    LIST,
]
PIECES = [
    "\n",
    ",",
    '"',
    "\r",
    "-9999",
    "T",
    "99",
    "9999",
    "é",
    "\x1c",
    " " * 8,
    "0001",
]


def assert_told(error):
    assert error.problems
    assert all(problem.message for problem in error.problems)


@st.composite
def spoiled(draw):
    text = draw(st.sampled_from(SEEDS))
    for _ in range(draw(st.integers(0, 4))):
        at = draw(st.integers(0, len(text)))
        cut = draw(st.integers(0, 12))
        text = text[:at] + draw(st.sampled_from(PIECES)) + text[at + cut :]
    return text


@given(spoiled(), st.sampled_from(ArchiveUnits))
@settings(max_examples=150)
def test_a_spoiled_file_of_the_archive(text, units):
    try:
        archive = archive_in(text.encode())
        if archive is None:
            return
        if archive.form is ArchiveForm.STATIONS:
            assert len(nearest_stations(archive.text, 47.0, -122.0, 0.0)) >= 1
            return
        archive.guess_units()
        makers = archive.records(units)
    except SourceError as error:
        assert_told(error)
        return
    for maker in makers.values():
        for day in maker.record(TODAY).days:
            assert day.day <= TODAY
            assert day.rain_mm is None or 0 <= day.rain_mm <= 500


CELLS = st.sampled_from(
    [
        "2026-06-01",
        "01:00",
        "02:00",
        "24:00",
        "12:00 am",
        "0001-01-01",
        "9999-12-31",
        "2026-10-25",
        "02:30",
        "-1",
        "7",
        "T",
        "",
        "Z",
        "01:00+14:00",
        "x",
        "1e9",
    ]
)


@given(
    st.lists(st.tuples(CELLS, CELLS, CELLS, CELLS), min_size=1, max_size=8),
    st.sampled_from(Clock),
    st.sampled_from(RainMode),
)
@settings(max_examples=150)
def test_any_rows_of_hours(rows, clock, rain_mode):
    text = "date,time,temp_c,rain_mm\n" + "\n".join(",".join(row) for row in rows)
    try:
        table = read_table(text.encode())
        mapping = ColumnMapping(
            guess_mapping(table.header).columns,
            is_several=True,
            clock=clock,
            rain_mode=rain_mode,
        )
        found = parse_days(table, mapping, TODAY, ZoneInfo("Europe/Berlin"))
    except SourceError as error:
        assert_told(error)
        return
    assert not (found.problems and found.to_store)
    assert all(day.rain_mm is None or day.rain_mm >= 0 for day in found.days)
