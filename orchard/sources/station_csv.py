"""Days of weather from a station's file: read, map its columns, check every row.

The three steps are :func:`read_table`, :func:`guess_mapping` (which the person
confirms) and :func:`parse_days`. A value that is not there stays missing; it never
becomes zero. One mistake anywhere means that nothing is stored.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from django.utils.translation import gettext, gettext_noop

from orchard.sources.problems import SourceError, SourceProblem
from orchard.sources.station_cells import CellError, cell_value
from orchard.sources.station_columns import (
    UNITS_OF,
    ColumnChoice,
    ColumnMapping,
    DateOrder,
    RainMode,
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
from orchard.sources.station_hours import fold
from orchard.sources.station_rows import RowReader
from orchard.sources.station_table import StationRow, StationTable, read_table
from orchard.sources.wind_height import at_two_metres

__all__ = [
    "ParsedDays",
    "StationDay",
    "guess_mapping",
    "parse_days",
    "read_table",
]

MAX_PROBLEMS = 100
FAO_WIND_M = 2.0
_UTC = ZoneInfo("UTC")
_RAIN = StationQuantity.RAIN
#: What the rows of single days are not asked.
_HOURLY = frozenset({StationQuantity.TIME, StationQuantity.TEMPERATURE})

_NAMES: dict[StationQuantity, str] = {
    StationQuantity.DATE: gettext_noop("date"),
    StationQuantity.TIME: gettext_noop("time of day"),
    StationQuantity.TEMPERATURE: gettext_noop("temperature"),
    StationQuantity.TMIN: gettext_noop("lowest temperature"),
    StationQuantity.TMAX: gettext_noop("highest temperature"),
    StationQuantity.RAIN: gettext_noop("rain"),
    StationQuantity.HUMIDITY: gettext_noop("humidity"),
    StationQuantity.WIND: gettext_noop("wind"),
    StationQuantity.RADIATION: gettext_noop("sunshine energy"),
    StationQuantity.ET0: gettext_noop("reference evapotranspiration"),
}


@dataclass(frozen=True, slots=True)
class ParsedDays:
    """What a file holds: its good days in order, and every mistake.

    ``days`` are for the preview. Only ``to_store`` may be kept: all of them, or none
    when there is a problem. ``gaps`` are worth a note but no mistake, and
    ``missing_values`` counts the empty cells of the days that are there. Of a file
    with several rows a day, ``doubted`` temperatures stood alone and are left out, and
    ``thin_days`` had too few rows.
    """

    days: tuple[StationDay, ...]
    problems: tuple[SourceProblem, ...]
    gaps: tuple[Gap, ...]
    missing_values: int
    doubted: int = 0
    thin_days: int = 0

    @property
    def to_store(self) -> tuple[StationDay, ...]:
        """The days to keep: none unless the whole file is right."""
        return () if self.problems else self.days

    @property
    def missing_days(self) -> int:
        """How many days the file skips between its first and its last."""
        return sum(gap.days for gap in self.gaps)


def parse_days(
    table: StationTable,
    mapping: ColumnMapping,
    today: date,
    zone: ZoneInfo = _UTC,
) -> ParsedDays:
    """Read every row of a station's table by a confirmed mapping.

    Parameters
    ----------
    table : StationTable
        As :func:`read_table` returns it.
    mapping : ColumnMapping
        Columns and units; what is required is :meth:`ColumnMapping.needed`.
    today : date
        The site's own day; later days are mistakes.
    zone : ZoneInfo
        Of the site, for files with several rows a day.

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
    if mapping.is_several:
        return _folded_days(table, mapping, order, zone, today)
    reader = _Reader(table, mapping, order, today)
    for row in table.rows:
        reader.read(row)
    days = tuple(sorted(reader.days.values(), key=lambda day: day.day))
    if mapping.rain_mode is RainMode.TOTAL:
        days = tuple(_taken_apart(days))
        reader.problems += _too_wet(days)
    return ParsedDays(
        days, _capped(reader.problems), tuple(gaps_between(days)), reader.missing_values
    )


def _folded_days(
    table: StationTable,
    mapping: ColumnMapping,
    order: DateOrder | None,
    zone: ZoneInfo,
    today: date,
) -> ParsedDays:
    reader = RowReader(table, mapping, order, zone, today)
    readings = reader.readings()
    folded = fold(readings, mapping, zone, today)
    missing = sum(
        value is None
        for day in folded.days
        for value in (day.tmin_c, day.tmax_c, day.rain_mm)
    )
    return ParsedDays(
        days=folded.days,
        problems=_capped([*reader.problems, *_too_wet(folded.days)]),
        gaps=tuple(gaps_between(folded.days)),
        missing_values=missing,
        doubted=folded.doubted,
        thin_days=folded.thin_days,
    )


def _taken_apart(days: Sequence[StationDay]) -> Iterator[StationDay]:
    """Yield the days with their own rain instead of a number that keeps growing.

    A smaller number is a gauge set back. What fell since a day that is not known is
    no day's own.
    """
    before: StationDay | None = None
    for day in days:
        count = None if before is None else before.rain_mm
        is_next = before is not None and day.day - before.day == timedelta(days=1)
        rain_mm = None
        if is_next and count is not None and day.rain_mm is not None:
            rain_mm = day.rain_mm - (count if day.rain_mm >= count else 0.0)
        before = day
        yield replace(day, rain_mm=rain_mm)


def _too_wet(days: Sequence[StationDay]) -> list[SourceProblem]:
    """Return the days whose rain, made of several numbers, cannot be."""
    return [
        SourceProblem(0, "", f"{day.day}: {problem}")
        for day in days
        if day.rain_mm is not None and (problem := value_problem(_RAIN, day.rain_mm))
    ]


def _check_mapping(table: StationTable, mapping: ColumnMapping) -> None:
    problems = [
        SourceProblem(
            0,
            "",
            gettext("Say which column holds the {quantity}.").format(
                quantity=gettext(_NAMES[quantity])
            ),
        )
        for quantity in mapping.needed()
        if quantity not in mapping.columns
    ]
    used: dict[int, StationQuantity] = {}
    for quantity, choice in mapping.columns.items():
        if not 0 <= choice.index < len(table.header):
            message = gettext("There is no column {number} for {quantity}.").format(
                number=choice.index + 1, quantity=gettext(_NAMES[quantity])
            )
            problems.append(SourceProblem(0, "", message))
        elif choice.index in used:
            name = table.header[choice.index]
            both = gettext("{first} and {last}").format(
                first=gettext(_NAMES[used[choice.index]]),
                last=gettext(_NAMES[quantity]),
            )
            message = gettext("Column “{name}” cannot be both {both}.").format(
                name=name, both=both
            )
            problems.append(SourceProblem(0, "", message))
        if choice.unit not in UNITS_OF[quantity]:
            message = gettext("{quantity} cannot be in {unit}.").format(
                quantity=gettext(_NAMES[quantity]),
                unit=choice.unit or gettext("no unit"),
            )
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
        self._columns = {
            quantity: choice
            for quantity, choice in mapping.columns.items()
            if quantity not in _HOURLY
        }
        self._date_column = self._columns.pop(StationQuantity.DATE).index
        self._is_total = mapping.rain_mode is RainMode.TOTAL
        self._wind_height_m = mapping.wind_height_m
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
            self.days[day] = _station_day(day, values, self._wind_height_m)
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
            self._refuse(
                row,
                column,
                gettext("{day} is on line {line} already").format(
                    day=day, line=earlier_line
                ),
            )
            return day
        problem = day_problem(day, self._today)
        if problem:
            self._refuse(row, column, problem)
        return day

    def _value(
        self, row: StationRow, quantity: StationQuantity, choice: ColumnChoice
    ) -> float | None:
        is_count = self._is_total and quantity is _RAIN
        try:
            return cell_value(
                row.cells[choice.index], quantity, choice.unit, is_count=is_count
            )
        except CellError as error:
            self._refuse(row, choice.index, str(error))
            return None


def _station_day(
    day: date, values: Mapping[StationQuantity, float | None], wind_height_m: float
) -> StationDay:
    wind = values.get(StationQuantity.WIND)
    if wind is not None and wind_height_m != FAO_WIND_M:
        wind = at_two_metres(wind, wind_height_m)
    return StationDay(
        day=day,
        tmin_c=values[StationQuantity.TMIN],
        tmax_c=values[StationQuantity.TMAX],
        rain_mm=values[StationQuantity.RAIN],
        humidity_percent=values.get(StationQuantity.HUMIDITY),
        wind_ms=wind,
        radiation_mj=values.get(StationQuantity.RADIATION),
        et0_mm=values.get(StationQuantity.ET0),
    )


def _capped(problems: list[SourceProblem]) -> tuple[SourceProblem, ...]:
    more = len(problems) - MAX_PROBLEMS
    if more <= 0:
        return tuple(problems)
    rest = SourceProblem(
        0, "", gettext("And {more} more mistakes like these.").format(more=more)
    )
    return (*problems[:MAX_PROBLEMS], rest)
