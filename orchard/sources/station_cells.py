"""One cell of a station's file as an SI value, a missing value or a mistake."""

import re

from django.utils.translation import gettext

from orchard.sources.station_columns import (
    UNITS_OF,
    ColumnUnit,
    StationQuantity,
)
from orchard.sources.station_day import value_problem
from orchard.units import Quantity, UnitSystem, to_si

#: Ways to write that there is no value; the numbers are agreed codes of archives.
MISSING = frozenset(
    {"", "-", "--", "na", "n/a", "nan", "null", "none", "m", "missing"}
    | {"-9999", "-9999.0", "-999", "-999.0", "-999.9", "-99.9", "-99", "9999"}
)
#: A trace of rain, too little to measure, counts as none.
TRACE = frozenset({"t", "tr", "trace"})
_US_QUANTITIES = {
    ColumnUnit.FAHRENHEIT: Quantity.TEMPERATURE,
    ColumnUnit.INCHES: Quantity.DEPTH,
    ColumnUnit.MILES_AN_HOUR: Quantity.SPEED,
}
#: SI per unit; a mean of 1 W m-2 all day is 0.0864 MJ m-2 d-1 (FAO-56, table 3).
_FACTORS = {ColumnUnit.KILOMETRES_AN_HOUR: 1 / 3.6, ColumnUnit.WATTS: 0.0864}
_NUMBER = re.compile(r"[-+]?(\d{1,9}(\.\d*)?|\.\d+)", re.ASCII)


class CellError(ValueError):
    """A cell that holds no value of its quantity; the message says why."""


def cell_value(
    text: str, quantity: StationQuantity, unit: ColumnUnit, *, is_count: bool = False
) -> float | None:
    """Return what a cell holds in SI; ``None`` where it says that nothing was measured.

    Parameters
    ----------
    text : str
        Without blanks around it.
    quantity : StationQuantity
        Any but the date and the time.
    unit : ColumnUnit
        Of the column.
    is_count : bool
        Whether the column keeps counting, so that only below zero is impossible.

    Raises
    ------
    CellError
        For no number, or one that nothing can be.
    """
    plain = text.casefold()
    if plain in MISSING:
        return None
    if quantity is StationQuantity.RAIN and plain in TRACE:
        return 0.0
    plain = text.replace("\N{MINUS SIGN}", "-").replace(",", ".")
    if not _NUMBER.fullmatch(plain):
        message = gettext("“{text}” is not a number").format(text=text[:30])
        raise CellError(message)
    value = _in_si(float(plain), unit)
    problem = value_problem(quantity, value)
    if problem and not (is_count and value > 0):
        raise CellError(problem + _unit_hint(unit, quantity))
    return min(value, 100.0) if quantity is StationQuantity.HUMIDITY else value


def _in_si(value: float, unit: ColumnUnit) -> float:
    if unit in _US_QUANTITIES:
        return to_si(value, _US_QUANTITIES[unit], UnitSystem.US)
    return value * _FACTORS.get(unit, 1.0)


def _unit_hint(unit: ColumnUnit, quantity: StationQuantity) -> str:
    others = [str(other) for other in UNITS_OF[quantity] if other is not unit]
    if not others:
        return ""
    return gettext("; the column is read as {unit}, is it in {units}?").format(
        unit=unit, units=gettext(" or ").join(others)
    )
