"""GHCN-Daily in commas, both ways NOAA gives it.

*One value a row*, by year or by station, mostly without headings: ``station, YYYYMMDD,
element, value, measurement, quality and source flag, time``, in tenths (readme of
``ghcnd/daily/by_year``). *One day a row* (NCEI "access" and what Climate Data Online
sends): headings, an element a column with its flags in ``…_ATTRIBUTES`` as ``M,Q,S``,
where the station lies; in tenths, or in the metric or US units that were ordered, which
the file does not say.
"""

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from enum import StrEnum

from django.utils.translation import gettext

from orchard.sources.ghcn_daily import MOST_PROBLEMS, WHOLE, in_si
from orchard.sources.ghcn_records import (
    MISSING,
    USED,
    ArchiveStation,
    ArchiveValue,
    RecordMaker,
)
from orchard.sources.problems import SourceError, SourceProblem, whole_problem
from orchard.units import Quantity, UnitSystem, to_si

STATION_ID = re.compile(r"(?:GHCND:)?(?P<id>[A-Z]{2}[A-Z0-9_-]{9})", re.ASCII)
_DAY = re.compile(r"(\d{4})(-?)(\d\d)\2(\d\d)", re.ASCII)
_NUMBER = re.compile(r"-?(\d{1,6}(\.\d{1,4})?|\.\d{1,4})", re.ASCII)
ROW_HEADINGS = ["ID", "DATE", "ELEMENT"]
MOST_CELLS, FEWEST_CELLS = 9, 4
MOST_COLUMNS = 400
#: No air is this many degrees of any kind; more must be tenths.
WARMEST = 130.0
_MISSING_TEXTS = frozenset({"", "-9999", "9999", "-9999.0", "9999.0"})


class ArchiveUnits(StrEnum):
    """What the numbers of a table with one day a row are in."""

    TENTHS = "tenths"
    METRIC = "metric"
    US = "us"


_US = {
    "TMIN": Quantity.TEMPERATURE,
    "TMAX": Quantity.TEMPERATURE,
    "PRCP": Quantity.DEPTH,
    "MDPR": Quantity.DEPTH,
    "AWND": Quantity.SPEED,
}


def is_rows(line: str) -> bool:
    """Whether a first line begins a table of one value a row."""
    cells = [cell.strip().strip('"') for cell in line.split(",")]
    if len(cells) < FEWEST_CELLS:
        return False
    if [cell.upper() for cell in cells[:3]] == ROW_HEADINGS:
        return True
    return bool(
        STATION_ID.fullmatch(cells[0])
        and _DAY.fullmatch(cells[1])
        and re.fullmatch(r"[A-Z][A-Z0-9]{3}", cells[2])
    )


def is_days(heading: str, first: str) -> bool:
    """Whether headings and a first row begin a table of one station's day a row."""
    names = _names(heading)
    if "STATION" not in names or "DATE" not in names or not USED & set(names):
        return False
    cells = next(csv.reader([first]), [])
    place = names.index("STATION")
    return len(cells) > place and bool(STATION_ID.fullmatch(cells[place].strip()))


def read_rows(text: str) -> dict[str, RecordMaker]:
    """Return the records of a table of one value a row, by station.

    Raises
    ------
    SourceError
        Naming each row that is not of the form.
    """
    found: dict[str, RecordMaker] = {}
    problems: list[SourceProblem] = []
    for number, cells in _rows(text):
        if [cell.strip().upper() for cell in cells[:3]] == ROW_HEADINGS:
            continue
        if len(problems) >= MOST_PROBLEMS:
            break
        problems += _take_row(found, number, [cell.strip() for cell in cells])
    if problems:
        raise SourceError(*problems[:MOST_PROBLEMS])
    return found


def _take_row(
    found: dict[str, RecordMaker], number: int, cells: Sequence[str]
) -> list[SourceProblem]:
    if not FEWEST_CELLS <= len(cells) <= MOST_CELLS:
        return [
            SourceProblem(
                number,
                "",
                gettext("has {number} cells instead of eight").format(
                    number=len(cells)
                ),
            )
        ]
    station = STATION_ID.fullmatch(cells[0])
    if station is None:
        return [
            SourceProblem(
                number,
                "",
                gettext("“{text}” is not a station").format(text=cells[0][:20]),
            )
        ]
    maker = found.setdefault(station["id"], RecordMaker(ArchiveStation(station["id"])))
    if cells[2] not in USED:
        return []
    try:
        day = _day(number, cells[1])
        value = _number(number, cells[2], cells[3])
    except SourceError as error:
        return list(error.problems)
    if value is None or value == MISSING:
        return []
    mark, quality, source, time = _flags(cells[4:])
    si_value = in_si(cells[2], value)
    problem = maker.take(
        ArchiveValue(day, cells[2], si_value, mark, quality, source, number, time)
    )
    return [] if problem is None else [problem]


def read_days(text: str, units: ArchiveUnits) -> dict[str, RecordMaker]:
    """Return the records of a table of one day a row, by station.

    Raises
    ------
    SourceError
        Naming each row that is not of the form.
    """
    found: dict[str, RecordMaker] = {}
    problems: list[SourceProblem] = []
    for number, row in _named_rows(text):
        if len(problems) >= MOST_PROBLEMS:
            break
        problems += _take_day(found, number, row, units)
    if problems:
        raise SourceError(*problems[:MOST_PROBLEMS])
    return found


def _take_day(
    found: dict[str, RecordMaker],
    number: int,
    row: Mapping[str, str],
    units: ArchiveUnits,
) -> list[SourceProblem]:
    try:
        station = _station(number, row)
        maker = found.setdefault(station.station_id, RecordMaker(station))
        values = list(_values(number, row, units))
    except SourceError as error:
        return list(error.problems)
    return [problem for value in values if (problem := maker.take(value)) is not None]


def _values(
    number: int, row: Mapping[str, str], units: ArchiveUnits
) -> Iterator[ArchiveValue]:
    day = _day(number, row["DATE"])
    for element in sorted(USED & row.keys()):
        value = _number(number, element, row[element])
        if value is None:
            continue
        mark, quality, source, time = _flags(
            row.get(f"{element}_ATTRIBUTES", "").split(",")
        )
        si_value = _as_ordered(element, value, units)
        yield ArchiveValue(day, element, si_value, mark, quality, source, number, time)


def _flags(cells: Sequence[str]) -> tuple[str, str, str, str]:
    """Return the flags of measurement, quality and source, and the time it was read."""
    filled = [*(cell.strip() for cell in cells), "", "", "", ""]
    mark, quality, source, time = filled[:4]
    return mark, quality, source, time.zfill(4) if time.isdecimal() else ""


def _as_ordered(element: str, value: float, units: ArchiveUnits) -> float:
    if units is ArchiveUnits.TENTHS:
        return in_si(element, value)
    if units is ArchiveUnits.METRIC or element in WHOLE:
        return value
    return to_si(value, _US[element], UnitSystem.US)


def guess_units(text: str) -> ArchiveUnits | None:
    """Return the units of a table of one day a row, or ``None`` where nobody can tell.

    Tenths are whole numbers; ordered metric temperatures have a decimal and US ones
    none, while US rain has two.
    """
    temperatures: list[str] = []
    rain: list[str] = []
    for _, row in _named_rows(text):
        temperatures += [row.get("TMAX", "").strip(), row.get("TMIN", "").strip()]
        rain.append(row.get("PRCP", "").strip())
    known = [cell for cell in temperatures if _NUMBER.fullmatch(cell)]
    if any("." in cell for cell in known):
        return ArchiveUnits.METRIC
    if any(re.fullmatch(r"\d*\.\d\d", cell) for cell in rain):
        return ArchiveUnits.US
    if any(abs(float(cell)) > WARMEST for cell in known if cell != str(MISSING)):
        return ArchiveUnits.TENTHS
    return None


def first_numbers(text: str) -> str:
    """Return the low, high and rain of the first day that has them, as they stand."""
    for _, row in _named_rows(text):
        cells = ((name, row.get(name, "").strip()) for name in ("TMIN", "TMAX", "PRCP"))
        found = [f"{name} {cell[:10]}" for name, cell in cells if cell]
        if found:
            return ", ".join(found)
    return ""


def _names(heading: str) -> list[str]:
    return [name.strip() for name in next(csv.reader([heading]), [])]


def _rows(text: str) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(text.splitlines())
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield reader.line_num, cells
    except csv.Error:
        raise SourceError(
            SourceProblem(
                reader.line_num, "", gettext("cannot be read as a row of a table")
            )
        ) from None


def _named_rows(text: str) -> Iterator[tuple[int, dict[str, str]]]:
    names: list[str] = []
    for number, cells in _rows(text):
        if not names:
            names = [name.strip() for name in cells]
            if len(names) > MOST_COLUMNS or len(set(names)) < len(names):
                message = gettext(
                    "The headings of the file are too many or the same twice."
                )
                raise whole_problem(message)
            continue
        # A row may end early where its last columns are empty.
        padded = [*cells, *[""] * (len(names) - len(cells))]
        if len(padded) > len(names):
            message = gettext("has {number} cells; the headings are {headings}").format(
                number=len(cells), headings=len(names)
            )
            raise SourceError(SourceProblem(number, "", message))
        yield number, dict(zip(names, padded, strict=True))


def _station(number: int, row: Mapping[str, str]) -> ArchiveStation:
    match = STATION_ID.fullmatch(row["STATION"].strip())
    if match is None:
        message = gettext("“{text}” is not a station").format(text=row["STATION"][:20])
        raise SourceError(SourceProblem(number, "STATION", message))
    name = row.get("NAME", "") or row.get("STATION_NAME", "")
    latitude = _place(row, "LATITUDE", 90.0)
    longitude = _place(row, "LONGITUDE", 180.0)
    elevation = _place(row, "ELEVATION", 9000.0)
    return ArchiveStation(
        match["id"], name.strip()[:60], latitude, longitude, elevation
    )


def _place(row: Mapping[str, str], name: str, most: float) -> float | None:
    """Return a coordinate, or ``None`` where it is missing or none."""
    text = row.get(name, "").strip()
    value = float(text) if _NUMBER.fullmatch(text) else None
    return value if value is not None and abs(value) <= most else None


def _day(number: int, text: str) -> date:
    match = _DAY.fullmatch(text.strip())
    try:
        if match is not None:
            return date(int(match[1]), int(match[3]), int(match[4]))
    except ValueError:
        pass
    message = gettext("“{text}” is not a day of the calendar").format(text=text[:20])
    raise SourceError(SourceProblem(number, "DATE", message))


def _number(number: int, element: str, text: str) -> float | None:
    plain = text.strip()
    if plain in _MISSING_TEXTS:
        return None
    if not _NUMBER.fullmatch(plain):
        message = gettext("“{text}” is not a number").format(text=plain[:20])
        raise SourceError(SourceProblem(number, element, message))
    return float(plain)
