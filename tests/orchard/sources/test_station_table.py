import pytest

from orchard.sources.problems import SourceError
from orchard.sources.station_table import MAX_BYTES, MAX_ROWS, read_table

HEAD = "date,tmin_c,tmax_c,rain_mm\n"


def test_a_file_without_headings_numbers_its_columns():
    table = read_table(b"2014-07-01,10,20,0\n2014-07-02,11,21,0\n")
    assert table.header == ("column 1", "column 2", "column 3", "column 4")
    assert len(table.rows) == 2


def test_headings_that_repeat_or_are_empty_stay_apart():
    table = read_table(b"date,t,t,\n2014-07-01,10,20,0\n")
    assert table.header == ("date", "t", "t (3)", "column 4")


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "is empty"),
        (b"\n\n # only a note\n", "is empty"),
        (HEAD.encode(), "no rows below"),
        (b"x" * (MAX_BYTES + 1), "larger than 5 MB"),
        (HEAD.encode() + b"a,1,2,3\n" * (MAX_ROWS + 1), f"more than {MAX_ROWS} rows"),
        (b"PK\x03\x04 a spreadsheet", "not a text file"),
        (b"date,tmin\0,tmax\n1,2,3", "not a text file"),
        (b"hello\nworld\n", "not split by commas"),
        (b"date,tmin\n2014-07-01,1,2\n", "Line 2: has 3 columns; the first line has 2"),
        (b'date,tmin\n"2014-07-01,1\n', "Line 2: has a quotation mark"),
        (b"a," * 61 + b"\n1,2\n", "Line 1: has more than 60 columns"),
        (b"a,b\n1," + b"2" * 5000, "Line 2: is too long"),
    ],
)
def test_a_file_that_is_no_table_is_refused(data, message):
    with pytest.raises(SourceError, match=message):
        read_table(data)
