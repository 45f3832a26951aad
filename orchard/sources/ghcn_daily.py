"""GHCN-Daily in lines of fixed width: a station's month of one element a line.

The ``.dly`` form of NOAA's readme for GHCN-Daily, section III: station (columns
1-11), year, month, element, then 31 times a value of five columns with its measurement,
quality and source flag; temperatures and rain in tenths, -9999 for none. Blanks at the
end of a line may be missing, as editors cut them.
"""

import re
from calendar import monthrange
from collections.abc import Iterator
from datetime import date

from django.utils.translation import gettext

from orchard.sources.ghcn_records import (
    MISSING,
    USED,
    ArchiveStation,
    ArchiveValue,
    RecordMaker,
)
from orchard.sources.problems import SourceError, SourceProblem

LINE_LETTERS = 269
HEAD_LETTERS, DAY_LETTERS, VALUE_LETTERS = 21, 8, 5
MOST_DAYS = 31
MOST_PROBLEMS = 50

HEAD = re.compile(
    r"(?P<station>[A-Z]{2}[A-Z0-9_-]{9})(?P<year>\d{4})(?P<month>0[1-9]|1[0-2])"
    r"(?P<element>[A-Z][A-Z0-9]{3})",
    re.ASCII,
)
_VALUE = re.compile(r" *-?\d{1,5}", re.ASCII)
#: SI per unit of the archive; what is not named is in tenths.
WHOLE = frozenset({"RHAV", "DAPR"})


def in_si(element: str, value: float) -> float:
    """Return a value of the archive in degC, mm, m/s, percent or days."""
    return value if element in WHOLE else value / 10.0


def read_dly(text: str) -> dict[str, RecordMaker]:
    """Return the records in a file, by station.

    Raises
    ------
    SourceError
        Naming each line that is not of the form, such as one that was cut off.
    """
    found: dict[str, RecordMaker] = {}
    problems: list[SourceProblem] = []
    for number, line in enumerate(text.splitlines(), 1):
        if len(problems) >= MOST_PROBLEMS:
            break
        if not line.strip():
            continue
        try:
            station, values = read_line(number, line)
            maker = found.setdefault(station, RecordMaker(ArchiveStation(station)))
            told = [maker.take(value) for value in values]
        except SourceError as error:
            problems += error.problems
        else:
            problems += [problem for problem in told if problem is not None]
    if problems:
        raise SourceError(*problems[:MOST_PROBLEMS])
    return found


def read_line(number: int, line: str) -> tuple[str, list[ArchiveValue]]:
    """Return the station of one line and what it measured.

    Raises
    ------
    SourceError
        For a line of another form, or one that ends within a value.
    """
    head = HEAD.match(line)
    if head is None:
        raise _problem(
            number, gettext("does not begin with station, month and element")
        )
    if len(line.rstrip()) > LINE_LETTERS:
        raise _problem(
            number,
            gettext("has more than {most} letters").format(most=LINE_LETTERS),
        )
    if head["element"] not in USED:
        return head["station"], []
    return head["station"], list(_values(number, line.rstrip(), head))


def _values(number: int, line: str, head: re.Match[str]) -> Iterator[ArchiveValue]:
    year, month = int(head["year"]), int(head["month"])
    if year == 0:
        raise _problem(number, gettext("has no year"))
    rest = len(line) - HEAD_LETTERS
    if 0 < rest % DAY_LETTERS < VALUE_LETTERS:
        raise _problem(
            number, gettext("is cut off within a value; fetch the file again")
        )
    last = monthrange(year, month)[1]
    for place in range(min(MOST_DAYS, -(-rest // DAY_LETTERS))):
        start = HEAD_LETTERS + place * DAY_LETTERS
        cell = line[start : start + DAY_LETTERS].ljust(DAY_LETTERS)
        text = cell[:VALUE_LETTERS]
        if not _VALUE.fullmatch(text):
            raise _problem(
                number,
                gettext("“{text}” on day {day} is not a number").format(
                    text=text, day=place + 1
                ),
            )
        value = int(text)
        if value == MISSING:
            continue
        if place >= last:
            raise _problem(
                number,
                gettext("has a value for day {day} of the month").format(day=place + 1),
            )
        yield ArchiveValue(
            day=date(year, month, place + 1),
            element=head["element"],
            value=in_si(head["element"], value),
            mark=cell[5].strip(),
            quality=cell[6].strip(),
            source=cell[7].strip(),
            line=number,
        )


def _problem(number: int, message: str) -> SourceError:
    return SourceError(SourceProblem(number, "", message))
