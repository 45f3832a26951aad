"""One row of a catalogue table, read cell by cell with the place of every mistake."""

import csv
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import NoReturn, TypeVar

Choice = TypeVar("Choice", bound=StrEnum)

MONTHS_IN_A_YEAR = 12


class CatalogueError(Exception):
    """A catalogue file that must not be used, and where it is broken.

    Attributes
    ----------
    file, line, column : str, int, str
        Where to look; ``column`` is empty when the whole row is at fault.
    message : str
        What is wrong, without the place.
    """

    def __init__(self, file: str, line: int, column: str, message: str) -> None:
        super().__init__(f"{file}, line {line}, {column or 'whole row'}: {message}")
        self.file = file
        self.line = line
        self.column = column
        self.message = message


@dataclass(frozen=True, slots=True)
class TableRow:
    """The cells of one line by column name; every reader names file, line, column."""

    file: str
    line: int
    cells: dict[str, str]

    def refuse(self, column: str, message: str) -> NoReturn:
        """Raise the error that points at ``column`` of this row."""
        raise CatalogueError(self.file, self.line, column, message)

    def optional_text(self, column: str) -> str:
        """Return the cell, which may be empty."""
        return self.cells[column].strip()

    def text(self, column: str) -> str:
        """Return the cell, which must not be empty."""
        found = self.optional_text(column)
        if not found:
            self.refuse(column, "is empty")
        return found

    def optional_number(self, column: str, low: float, high: float) -> float | None:
        """Return a number from ``low`` to ``high``, or ``None`` for an empty cell."""
        found = self.optional_text(column)
        if not found:
            return None
        try:
            number = float(found)
        except ValueError:
            number = math.nan
        if math.isnan(number):
            self.refuse(column, f"{found!r} is not a number")
        if not low <= number <= high:
            self.refuse(column, f"{found} is outside {low:g} to {high:g}")
        return number

    def number(self, column: str, low: float, high: float) -> float:
        """Return a number from ``low`` to ``high``."""
        self.text(column)
        found = self.optional_number(column, low, high)
        if found is None:
            self.refuse(column, "is empty")
        return found

    def optional_count(self, column: str, low: float, high: float) -> int | None:
        """Return a whole number from ``low`` to ``high``, or ``None``."""
        found = self.optional_number(column, low, high)
        if found is None:
            return None
        if found != int(found):
            self.refuse(column, f"{found:g} is not a whole number")
        return int(found)

    def count(self, column: str, low: float, high: float) -> int:
        """Return a whole number from ``low`` to ``high``."""
        found = self.optional_count(column, low, high)
        if found is None:
            self.refuse(column, "is empty")
        return found

    def month(self, column: str) -> int:
        """Return a month, 1 to 12."""
        return self.count(column, 1, MONTHS_IN_A_YEAR)

    def months(self, column: str) -> tuple[int, ...]:
        """Return months written as ``1;2;12``, each once."""
        parts = self.text(column).split(";")
        good = [p for p in parts if re.fullmatch(r"[1-9]|1[0-2]", p, re.ASCII)]
        if len(good) != len(parts) or len(set(good)) != len(good):
            self.refuse(column, "needs months 1 to 12, each once, split by ;")
        return tuple(int(part) for part in good)

    def choice(self, column: str, kind: type[Choice]) -> Choice:
        """Return a member of ``kind``."""
        found = self.text(column)
        if found not in set(kind):
            allowed = ", ".join(kind)
            self.refuse(column, f"{found!r} is not one of {allowed}")
        return kind(found)

    def optional_choice(self, column: str, kind: type[Choice]) -> Choice | None:
        """Return a member of ``kind``, or ``None`` for an empty cell."""
        return self.choice(column, kind) if self.optional_text(column) else None

    def zone(self, column: str) -> str:
        """Return a USDA hardiness zone, such as ``7b``."""
        found = self.text(column)
        if not re.fullmatch(r"([1-9]|1[0-3])[ab]?", found, re.ASCII):
            self.refuse(column, f"{found!r} is not a hardiness zone, 1 to 13b")
        return found

    def check_order(self, lower: str, upper: str) -> None:
        """Refuse a row whose ``lower`` column exceeds its ``upper`` column."""
        low, high = self.optional_text(lower), self.optional_text(upper)
        if low and high and float(low) > float(high):
            self.refuse(lower, f"{low} is above {upper} {high}")


def read_rows(path: Path, columns: tuple[str, ...]) -> Iterator[TableRow]:
    """Yield the rows of a UTF-8 CSV file that has exactly ``columns``.

    Raises
    ------
    CatalogueError
        For a missing file, a missing or unknown column, or a row of another length.
    """
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise CatalogueError(path.name, 0, "", f"cannot be read: {error}") from error
    reader = csv.reader(text.splitlines(keepends=True), strict=True)
    try:
        header = next(reader, [])
        _check_header(path.name, header, columns)
        for cells in reader:
            if len(cells) != len(header):
                message = f"has {len(cells)} cells, not {len(header)}"
                raise CatalogueError(path.name, reader.line_num, "", message)
            yield TableRow(
                path.name, reader.line_num, dict(zip(header, cells, strict=True))
            )
    except csv.Error as error:
        raise CatalogueError(path.name, reader.line_num, "", str(error)) from error


def _check_header(file: str, header: list[str], columns: tuple[str, ...]) -> None:
    for column in columns:
        if column not in header:
            raise CatalogueError(file, 1, column, "this column is missing")
    for position, column in enumerate(header):
        if column not in columns or column in header[:position]:
            raise CatalogueError(file, 1, column, "this column is not expected here")
