"""A file of a weather station as rows of text, whatever program wrote it."""

import codecs
import csv
import re
from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.translation import gettext

from orchard.sources.problems import SourceError, SourceProblem, whole_problem

MAX_BYTES = 5_000_000
#: More than a hundred years of days, or five years of hours; more take too long.
MAX_ROWS = 45_000
MAX_COLUMNS = 60
LINES_TO_SNIFF = 30
COMMENT = "#"

MAX_LETTERS_IN_LINE = 4_000
MAX_PROBLEMS = 50

#: A number, a day or a time, but no heading such as ``2m temperature``.
_VALUE = re.compile(r"[-+\d.,/:TZ ]*\d[-+\d.,/:TZ ]*", re.ASCII)
_LINE_END = re.compile(r"\r\n|\n|\r")


@dataclass(frozen=True, slots=True)
class StationRow:
    """One line of the file; ``line`` counts as an editor does, from 1."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StationTable:
    """Headings and rows, every row as long as the headings.

    Without a line of headings in the file they are ``column 1``, ``column 2``, ….
    """

    header: tuple[str, ...]
    rows: tuple[StationRow, ...]


def read_table(data: bytes) -> StationTable:
    """Return the table in a file's bytes.

    UTF-8 and UTF-16 (with their marks), Windows-1252 and Latin-1 are read; cells may
    be split by commas, semicolons or tabs; lines that begin with ``#`` are skipped.

    Raises
    ------
    SourceError
        For an empty, too large or binary file, too many rows, rows of differing
        length, or a single column.
    """
    lines = list(_lines(decoded(data)))
    if not lines:
        message = gettext("The file is empty: it holds no line of data.")
        raise whole_problem(message)
    if len(lines) > MAX_ROWS + 1:
        message = gettext(
            "The file has more than {most} rows; send fewer years at once."
        ).format(most=MAX_ROWS)
        raise whole_problem(message)
    delimiter = _delimiter([text for _, text in lines[:LINES_TO_SNIFF]])
    rows = [
        StationRow(number, _cells(number, text, delimiter)) for number, text in lines
    ]
    header, body = _header(rows)
    if not body:
        message = gettext("The file has headings but no rows below them.")
        raise whole_problem(message)
    _check_lengths(body, len(header))
    return StationTable(header, tuple(body))


def decoded(data: bytes) -> str:
    """Return a file's text.

    Raises
    ------
    SourceError
        For a too large or a binary file.
    """
    if len(data) > MAX_BYTES:
        limit = MAX_BYTES // 1_000_000
        message = gettext(
            "The file is larger than {limit} MB; send fewer years at once."
        ).format(limit=limit)
        raise whole_problem(message)
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        text = data.decode("utf-16", errors="replace")
    else:
        text = _decoded_bytes(data)
    if "\0" in text or data.startswith(b"PK\x03\x04"):
        message = gettext(
            "This is not a text file. Save the table as CSV and send that."
        )
        raise whole_problem(message)
    return text.removeprefix("\ufeff")


def _decoded_bytes(data: bytes) -> str:
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return data.decode("latin-1")


def _lines(text: str) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(_LINE_END.split(text), 1):
        if line.strip(" ,;\t") and not line.lstrip().startswith(COMMENT):
            yield number, line


def _delimiter(lines: list[str]) -> str:
    """Return the mark that splits the first lines; commas may be decimal signs."""
    for mark in "\t;,":
        if all(mark in line for line in lines):
            return mark
    for mark in "\t;,":
        if mark in lines[0]:
            return mark
    message = gettext(
        "The first line is not split by commas, semicolons or tabs. Save the "
        "table as CSV; remove lines above its headings or begin them with #."
    )
    raise whole_problem(message)


def _cells(number: int, line: str, delimiter: str) -> tuple[str, ...]:
    if len(line) > MAX_LETTERS_IN_LINE:
        message = gettext("is too long for one day")
        raise SourceError(SourceProblem(number, "", message))
    try:
        cells = next(csv.reader([line], delimiter=delimiter, strict=True))
    except csv.Error:
        message = gettext("has a quotation mark that is not closed")
        raise SourceError(SourceProblem(number, "", message)) from None
    if len(cells) > MAX_COLUMNS:
        message = gettext("has more than {most} columns").format(most=MAX_COLUMNS)
        raise SourceError(SourceProblem(number, "", message))
    return tuple(cell.strip() for cell in cells)


def _check_lengths(rows: list[StationRow], width: int) -> None:
    problems = [
        SourceProblem(
            row.line,
            "",
            gettext("has {number} columns; the first line has {width}").format(
                number=len(row.cells), width=width
            ),
        )
        for row in rows
        if len(row.cells) != width
    ]
    if problems:
        raise SourceError(*problems[:MAX_PROBLEMS])


def _header(rows: list[StationRow]) -> tuple[tuple[str, ...], list[StationRow]]:
    """Split off the headings; a first line that holds a day or number is data."""
    first = rows[0].cells
    if any(_VALUE.fullmatch(cell) for cell in first):
        return tuple(
            gettext("column {number}").format(number=n)
            for n in range(1, len(first) + 1)
        ), rows
    names: list[str] = []
    for position, cell in enumerate(first, 1):
        name = cell or gettext("column {number}").format(number=position)
        names.append(f"{name} ({position})" if name in names else name)
    return tuple(names), rows[1:]
