"""Rows of a station's file that tell of hours or minutes, read one by one."""

import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from django.utils.translation import gettext

from orchard.sources.problems import SourceProblem
from orchard.sources.station_cells import CellError, cell_value
from orchard.sources.station_columns import (
    Clock,
    ColumnMapping,
    DateOrder,
    RainMode,
    StationQuantity,
)
from orchard.sources.station_dates import DateError
from orchard.sources.station_day import OLDEST, swing_problem
from orchard.sources.station_hours import LONGEST_STEP, Reading, usual_step
from orchard.sources.station_table import StationRow, StationTable
from orchard.sources.station_times import read_moment, second_time

_NO_VALUES = frozenset({StationQuantity.DATE, StationQuantity.TIME})
#: Rows that show whether days come more than once.
ROWS_TO_LOOK_AT = 50
_HAS_TIME = re.compile(r"\S+[T ]\d{1,2}:?\d\d.*", re.ASCII)
_IS_UTC = re.compile(r"\b(date)?(utc|gmt|zulu)\b", re.IGNORECASE)


def with_rows_guessed(table: StationTable, mapping: ColumnMapping) -> ColumnMapping:
    """Return a guessed mapping that says whether a day has several rows.

    It has where rows tell the time and days come again; the same day twice without any
    time is a mistake.
    """
    choice = mapping.columns.get(StationQuantity.DATE)
    if choice is None:
        return mapping
    cells = [row.cells[choice.index] for row in table.rows[:ROWS_TO_LOOK_AT]]
    days = {re.split("[T ]", cell, maxsplit=1)[0] for cell in cells}
    has_times = StationQuantity.TIME in mapping.columns or all(
        _HAS_TIME.fullmatch(cell) for cell in cells
    )
    if not has_times or len(days) == len(cells):
        return mapping
    headings = (
        table.header[mapping.columns[name].index]
        for name in (StationQuantity.DATE, StationQuantity.TIME)
        if name in mapping.columns
    )
    is_utc = any(_IS_UTC.search(heading) for heading in headings)
    clock = Clock.UTC if is_utc else Clock.LOCAL
    return replace(mapping, is_several=True, clock=clock)


class RowReader:
    """Rows in, readings in order and problems out.

    Parameters
    ----------
    table : StationTable
        As it was read.
    mapping : ColumnMapping
        Confirmed, with ``is_several``.
    order : DateOrder or None
        Of the dates.
    zone : ZoneInfo
        Of the site.
    now : date
        The site's day; rows after it are mistakes.
    """

    def __init__(
        self,
        table: StationTable,
        mapping: ColumnMapping,
        order: DateOrder | None,
        zone: ZoneInfo,
        today: date,
    ) -> None:
        self._table = table
        self._mapping = mapping
        self._order = order
        self._zone = zone
        self._today = today
        self._lines: dict[datetime, int] = {}
        self.problems: list[SourceProblem] = []

    def readings(self) -> list[Reading]:
        """Return what the rows hold, in order of time."""
        rows = list(self._table.rows)
        if self._runs_backwards(rows):
            rows.reverse()
        found: list[Reading] = []
        before: datetime | None = None
        for row in rows:
            at = self._moment(row, before)
            values = self._values(row)
            if at is None or values is None:
                continue
            before = at
            found.append(Reading(at, values))
        found.sort(key=lambda reading: reading.at)
        if len(found) > 1 and usual_step(found) > LONGEST_STEP and not self.problems:
            hours = LONGEST_STEP // timedelta(hours=1)
            message = gettext(
                "The rows are more than {hours} hours apart, too far for the "
                "lowest and highest of a day. Is it one row a day?"
            ).format(hours=hours)
            self.problems.append(SourceProblem(0, "", message))
        return found

    def _runs_backwards(self, rows: list[StationRow]) -> bool:
        """Whether the newest row is the first; an hour that comes twice hangs on it."""
        ends = []
        for row in (rows[0], rows[-1]):
            try:
                ends.append(self._read(row))
            except DateError:
                return False
        return ends[0] > ends[1]

    def _read(self, row: StationRow) -> datetime:
        columns = self._mapping.columns
        time = columns.get(StationQuantity.TIME)
        return read_moment(
            row.cells[columns[StationQuantity.DATE].index],
            None if time is None else row.cells[time.index],
            self._order,
            self._mapping.clock,
            self._zone,
        )

    def _moment(self, row: StationRow, before: datetime | None) -> datetime | None:
        column = self._mapping.columns[StationQuantity.DATE].index
        try:
            at = self._read(row)
        except DateError as error:
            self._refuse(row, column, str(error))
            return None
        if before is not None and at <= before:
            at = second_time(at, self._zone) or at
        line = self._lines.setdefault(at, row.line)
        local = at.astimezone(self._zone)
        if line != row.line:
            message = gettext("{day} is on line {line} already").format(
                day=f"{local:%Y-%m-%d %H:%M}", line=line
            )
            self._refuse(row, column, message)
            return None
        if local.date() > self._today + timedelta(days=1):
            message = gettext("{day} is still to come; today is {today}").format(
                day=f"{local:%Y-%m-%d %H:%M}", today=self._today
            )
            self._refuse(row, column, message)
            return None
        if local.date() < OLDEST:
            self._refuse(
                row,
                column,
                gettext("{day} is too long ago to be measured").format(
                    day=local.date()
                ),
            )
            return None
        return at

    def _values(self, row: StationRow) -> Mapping[StationQuantity, float | None] | None:
        found = len(self.problems)
        values: dict[StationQuantity, float | None] = {}
        is_count = self._mapping.rain_mode is not RainMode.ROW
        for quantity, choice in self._mapping.columns.items():
            if quantity in _NO_VALUES:
                continue
            counts = is_count and quantity is StationQuantity.RAIN
            try:
                values[quantity] = cell_value(
                    row.cells[choice.index], quantity, choice.unit, is_count=counts
                )
            except CellError as error:
                self._refuse(row, choice.index, str(error))
        low, high = values.get(StationQuantity.TMIN), values.get(StationQuantity.TMAX)
        problem = swing_problem(low, high)
        if problem:
            column = self._mapping.columns[StationQuantity.TMAX].index
            self._refuse(row, column, problem)
        return values if len(self.problems) == found else None

    def _refuse(self, row: StationRow, column: int, message: str) -> None:
        name = self._table.header[column]
        self.problems.append(SourceProblem(row.line, name, message))
