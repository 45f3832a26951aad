"""Days of weather from a station's file: read, map its columns, check every row.

The three steps are :func:`read_table`, :func:`guess_mapping` (which the person
confirms) and :func:`parse_days`. A value that is not there stays missing; it never
becomes zero. One mistake anywhere means that nothing is stored.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from orchard.sources.problems import SourceError, SourceProblem
from orchard.sources.station_columns import (
    REQUIRED,
    UNITS_OF,
    ColumnChoice,
    ColumnMapping,
    ColumnUnit,
    DateOrder,
    StationQuantity,
    guess_mapping,
)
from orchard.sources.station_dates import DateError, guess_date_order, read_date
from orchard.sources.station_day import (
    Gap,
    StationDay,
    day_problem,
    gaps_between,
    swing_problem,
    value_problem,
)
from orchard.sources.station_table import StationRow, StationTable, read_table
from orchard.units import Quantity, UnitSystem, to_si

__all__ = [
    "ParsedDays",
    "StationDay",
    "guess_mapping",
    "parse_days",
    "read_table",
]

MAX_PROBLEMS = 100

#: Ways to write that there is no value; the numbers are agreed codes of archives.
_MISSING = frozenset(
    {"", "-", "--", "na", "n/a", "nan", "null", "none", "m", "missing"}
    | {"-9999", "-9999.0", "-999", "-999.0", "-999.9", "-99.9", "-99", "9999"}
)
#: A trace of rain, too little to measure, counts as none.
_TRACE = frozenset({"t", "tr", "trace"})

_NAMES: dict[StationQuantity, str] = {
    StationQuantity.DATE: "date",
    StationQuantity.TMIN: "lowest temperature",
    StationQuantity.TMAX: "highest temperature",
    StationQuantity.RAIN: "rain",
    StationQuantity.HUMIDITY: "humidity",
    StationQuantity.WIND: "wind",
    StationQuantity.RADIATION: "sunshine energy",
    StationQuantity.ET0: "reference evapotranspiration",
}
_US_QUANTITIES = {
    ColumnUnit.FAHRENHEIT: Quantity.TEMPERATURE,
    ColumnUnit.INCHES: Quantity.DEPTH,
    ColumnUnit.MILES_AN_HOUR: Quantity.SPEED,
}
#: SI per unit; a mean of 1 W m-2 all day is 0.0864 MJ m-2 d-1 (FAO-56, table 3).
_FACTORS = {ColumnUnit.KILOMETRES_AN_HOUR: 1 / 3.6, ColumnUnit.WATTS: 0.0864}
_NUMBER = re.compile(r"[-+]?(\d{1,9}(\.\d*)?|\.\d+)", re.ASCII)


@dataclass(frozen=True, slots=True)
class ParsedDays:
    """What a file holds: its good days in order, and every mistake.

    ``days`` are for the preview. Only ``to_store`` may be kept: all of them, or none
    when there is a problem. ``gaps`` are worth a note but no mistake, and
    ``missing_values`` counts the empty cells of the days that are there.
    """

    days: tuple[StationDay, ...]
    problems: tuple[SourceProblem, ...]
    gaps: tuple[Gap, ...]
    missing_values: int

    @property
    def to_store(self) -> tuple[StationDay, ...]:
        """The days to keep: none unless the whole file is right."""
        return () if self.problems else self.days

    @property
    def missing_days(self) -> int:
        """How many days the file skips between its first and its last."""
        return sum(gap.days for gap in self.gaps)


def parse_days(table: StationTable, mapping: ColumnMapping, today: date) -> ParsedDays:
    """Read every row of a station's table by a confirmed mapping.

    Parameters
    ----------
    table : StationTable
        As :func:`read_table` returns it.
    mapping : ColumnMapping
        Columns and units; date, low, high and rain are required.
    today : date
        The site's own day; later days are mistakes.

    Returns
    -------
    ParsedDays
        Days in order, whatever the order of the rows.

    Raises
    ------
    SourceError
        When the mapping lacks a required column or does not fit the table.
    """
    _check_mapping(table, mapping)
    date_column = mapping.columns[StationQuantity.DATE].index
    order = mapping.date_order or guess_date_order(
        row.cells[date_column] for row in table.rows
    )
    reader = _Reader(table, mapping, order, today)
    for row in table.rows:
        reader.read(row)
    days = tuple(sorted(reader.days.values(), key=lambda day: day.day))
    return ParsedDays(
        days, _capped(reader.problems), tuple(gaps_between(days)), reader.missing_values
    )


def _check_mapping(table: StationTable, mapping: ColumnMapping) -> None:
    problems = [
        SourceProblem(0, "", f"Say which column holds the {_NAMES[quantity]}.")
        for quantity in REQUIRED
        if quantity not in mapping.columns
    ]
    used: dict[int, StationQuantity] = {}
    for quantity, choice in mapping.columns.items():
        if not 0 <= choice.index < len(table.header):
            message = f"There is no column {choice.index + 1} for {_NAMES[quantity]}."
            problems.append(SourceProblem(0, "", message))
        elif choice.index in used:
            name = table.header[choice.index]
            both = f"{_NAMES[used[choice.index]]} and {_NAMES[quantity]}"
            message = f"Column “{name}” cannot be both {both}."
            problems.append(SourceProblem(0, "", message))
        if choice.unit not in UNITS_OF[quantity]:
            message = f"{_NAMES[quantity]} cannot be in {choice.unit or 'no unit'}."
            problems.append(SourceProblem(0, "", message))
        used[choice.index] = quantity
    if problems:
        raise SourceError(*problems)


class _Reader:
    """Rows in, days and problems out; remembers the line of every day."""

    def __init__(
        self,
        table: StationTable,
        mapping: ColumnMapping,
        order: DateOrder | None,
        today: date,
    ) -> None:
        self._header = table.header
        self._columns = dict(mapping.columns)
        self._date_column = self._columns.pop(StationQuantity.DATE).index
        self._order = order
        self._today = today
        self._lines: dict[date, int] = {}
        self.days: dict[date, StationDay] = {}
        self.problems: list[SourceProblem] = []
        self.missing_values = 0

    def read(self, row: StationRow) -> None:
        """Take in one row."""
        found = len(self.problems)
        day = self._day(row)
        values = {
            quantity: self._value(row, quantity, choice)
            for quantity, choice in self._columns.items()
        }
        low, high = values[StationQuantity.TMIN], values[StationQuantity.TMAX]
        problem = swing_problem(low, high)
        if problem:
            self._refuse(row, self._columns[StationQuantity.TMAX].index, problem)
        if day is None or len(self.problems) > found:
            return
        if any(value is not None for value in values.values()):
            self.days[day] = _station_day(day, values)
            self.missing_values += sum(value is None for value in values.values())

    def _refuse(self, row: StationRow, column: int, message: str) -> None:
        self.problems.append(SourceProblem(row.line, self._header[column], message))

    def _day(self, row: StationRow) -> date | None:
        column = self._date_column
        try:
            day = read_date(row.cells[column], self._order)
        except DateError as error:
            self._refuse(row, column, str(error))
            return None
        earlier_line = self._lines.setdefault(day, row.line)
        if earlier_line != row.line:
            self._refuse(row, column, f"{day} is on line {earlier_line} already")
            return day
        problem = day_problem(day, self._today)
        if problem:
            self._refuse(row, column, problem)
        return day

    def _value(
        self, row: StationRow, quantity: StationQuantity, choice: ColumnChoice
    ) -> float | None:
        text = row.cells[choice.index]
        if text.casefold() in _MISSING:
            return None
        if quantity is StationQuantity.RAIN and text.casefold() in _TRACE:
            return 0.0
        plain = text.replace("\N{MINUS SIGN}", "-").replace(",", ".")
        if not _NUMBER.fullmatch(plain):
            self._refuse(row, choice.index, f"“{text[:30]}” is not a number")
            return None
        value = _in_si(float(plain), choice.unit)
        problem = value_problem(quantity, value)
        if problem:
            message = problem + _unit_hint(choice.unit, quantity)
            self._refuse(row, choice.index, message)
            return None
        return min(value, 100.0) if quantity is StationQuantity.HUMIDITY else value


def _in_si(value: float, unit: ColumnUnit) -> float:
    if unit in _US_QUANTITIES:
        return to_si(value, _US_QUANTITIES[unit], UnitSystem.US)
    return value * _FACTORS.get(unit, 1.0)


def _unit_hint(unit: ColumnUnit, quantity: StationQuantity) -> str:
    others = [str(other) for other in UNITS_OF[quantity] if other is not unit]
    if not others:
        return ""
    return f"; the column is read as {unit}, is it in {' or '.join(others)}?"


def _station_day(
    day: date, values: Mapping[StationQuantity, float | None]
) -> StationDay:
    return StationDay(
        day=day,
        tmin_c=values[StationQuantity.TMIN],
        tmax_c=values[StationQuantity.TMAX],
        rain_mm=values[StationQuantity.RAIN],
        humidity_percent=values.get(StationQuantity.HUMIDITY),
        wind_ms=values.get(StationQuantity.WIND),
        radiation_mj=values.get(StationQuantity.RADIATION),
        et0_mm=values.get(StationQuantity.ET0),
    )


def _capped(problems: list[SourceProblem]) -> tuple[SourceProblem, ...]:
    more = len(problems) - MAX_PROBLEMS
    if more <= 0:
        return tuple(problems)
    rest = SourceProblem(0, "", f"And {more} more mistakes like these.")
    return (*problems[:MAX_PROBLEMS], rest)
