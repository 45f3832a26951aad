"""Twelve monthly means from pasted text: a page's climate table, or typed lines.

Two layouts are read: one line a month (name or number, then low, high, rain) and one
line a variable (its name, then twelve values, perhaps the year's). Columns may be
split by tabs, semicolons, commas or spaces; a comma may be the decimal sign.
"""

import re
from dataclasses import dataclass

from django.utils.translation import gettext, gettext_noop

from orchard.languages import month_name
from orchard.sources.normals import (
    MONTH_NAMES,
    MONTHS,
    MonthProblem,
    NormalsTable,
    normals_problems,
)
from orchard.sources.problems import SourceError, SourceProblem, whole_problem
from orchard.units import Quantity, UnitError, UnitSystem, parse_number, to_si

MAX_LETTERS = 20_000
MAX_LETTERS_IN_NUMBER = 30
VARIABLES = ("tmin", "tmax", "rain")
_WORDS = {
    "tmin": gettext_noop("low"),
    "tmax": gettext_noop("high"),
    "rain": gettext_noop("rain"),
}
_QUANTITIES = {
    "tmin": Quantity.TEMPERATURE,
    "tmax": Quantity.TEMPERATURE,
    "rain": Quantity.DEPTH,
}
_EXPECTED = gettext_noop(
    "Paste twelve lines of month, low, high, rain, or three lines (low, high, "
    "rain) of twelve numbers."
)
#: Rows of published climate tables that look like lows, highs or rain but are not:
#: extremes of all years or of one month, counts of days, and snow.
_OTHER_ROWS = re.compile(
    r"record|extreme|days|snow|humid|sun|^mean (max|min)imum", re.IGNORECASE
)
_UNIT_NAMES = re.compile(
    r"(?P<metric>°\s*C\b|\bC\b|celsius|\bmm\b)|"
    r"(?P<us>°\s*F\b|\bF\b|fahrenheit|\bin\b|\binch(?:es)?\b)",
    re.IGNORECASE,
)
_SPANISH_MONTHS = (
    *("enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto"),
    *("septiembre", "octubre", "noviembre", "diciembre"),
)
_MONTH_WORD = re.compile(
    "|".join(
        rf"{name[:3]}(?:{name[3:]}|t)?" for name in (*MONTH_NAMES, *_SPANISH_MONTHS)
    ),
    re.IGNORECASE,
)
_STARTS = {
    name[:3].casefold(): number
    for names in (MONTH_NAMES, _SPANISH_MONTHS)
    for number, name in enumerate(names, 1)
}
_NUMBER_CELL = re.compile(
    r"[-+]?[\d.,]*\d[\d.,]*\s*(°\s*[CF]?|mm|in|\")?", re.IGNORECASE | re.ASCII
)
_BRACKETS = re.compile(r"\([^()]{1,30}\)")
_YEAR_ROW = re.compile(r"\b(year|annual|total|mean|average)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of text: what precedes its first number, and its numbers' texts."""

    number: int
    label: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Column:
    """Values of one variable by month, and the line each was written on."""

    values: tuple[float, ...]
    lines: tuple[int, ...]


def parse_pasted_normals(text: str, system: UnitSystem) -> NormalsTable:
    """Return the twelve months that a pasted text holds.

    Parameters
    ----------
    text : str
        As pasted. A heading may name the columns and their units (``High °F``);
        where two units stand, the first counts and what is in brackets is skipped.
    system : UnitSystem
        The units of columns whose heading names none.

    Raises
    ------
    SourceError
        With the line of each mistake and what to type instead.

    Notes
    -----
    Where nothing says which is which, lows come before highs, unless the first are
    the larger ones in every month.
    """
    if len(text) > MAX_LETTERS:
        message = gettext("This is too long for twelve months. {expected}").format(
            expected=gettext(_EXPECTED)
        )
        raise whole_problem(message)
    headings, data = _split(text)
    if not data:
        raise whole_problem(_EXPECTED)
    if all(len(line.cells) in {MONTHS, MONTHS + 1} for line in data):
        columns = _columns_by_variable(data, system)
    else:
        columns = _columns_by_month(headings, data, system)
    return _table(columns)


def _split(text: str) -> tuple[list[_Line], list[_Line]]:
    headings: list[_Line] = []
    data: list[_Line] = []
    for number, raw in enumerate(text.splitlines(), 1):
        cells = _cells(raw.replace("\N{MINUS SIGN}", "-").replace("\xa0", " "))
        first = next((i for i, c in enumerate(cells) if _is_number(c)), None)
        if first is None:
            if any(cells):
                headings.append(_Line(number, "", tuple(cells)))
            continue
        label = " ".join(cells[:first]).strip()
        data.append(_Line(number, label, tuple(cells[first:])))
    return headings, data


def _cells(line: str) -> list[str]:
    separator = next((mark for mark in "\t;" if mark in line), "")
    if separator:
        parts = line.split(separator)
    elif "," in line and not _has_decimal_commas(line):
        parts = line.split(",")
    else:
        parts = _without_brackets(line).split()
    while parts and not parts[-1].strip():
        parts.pop()
    return [part.strip() for part in parts]


def _has_decimal_commas(line: str) -> bool:
    """Whether spaces split the numbers, so that a comma must be a decimal sign."""
    numbers = [word for word in line.split() if re.search(r"\d", word)]
    whole = [word for word in numbers if re.fullmatch(r"[-+]?\d+(,\d+)?", word)]
    return len(numbers) > 1 and len(whole) == len(numbers)


def _is_number(cell: str) -> bool:
    plain = _without_brackets(cell)
    return len(plain) <= MAX_LETTERS_IN_NUMBER and bool(_NUMBER_CELL.fullmatch(plain))


def _without_brackets(text: str) -> str:
    """Drop a value in other units, such as ``(39.4)``, but not ``(mm)``."""
    return _BRACKETS.sub(_bracket_to_keep, text).strip()


def _bracket_to_keep(bracket: re.Match[str]) -> str:
    return "" if re.search(r"\d", bracket[0]) else bracket[0]


def _variable(label: str) -> str:
    """Return which variable a heading names, or an empty text."""
    if _OTHER_ROWS.search(label.strip()):
        return ""
    for variable, pattern in (
        ("rain", r"rain|precip"),
        ("tmin", r"\blows?\b|min|coldest"),
        ("tmax", r"\bhighs?\b|max|warmest"),
    ):
        if re.search(pattern, label, re.IGNORECASE):
            return variable
    return ""


def _system_of(label: str, default: UnitSystem) -> UnitSystem:
    found = _UNIT_NAMES.search(label)
    if not found:
        return default
    return UnitSystem.US if found["us"] else UnitSystem.METRIC


def _value(line: _Line, position: int, variable: str, system: UnitSystem) -> float:
    cell = _without_brackets(line.cells[position])
    try:
        number = parse_number(re.sub(r"[^-+\d.,]+$", "", cell))
    except UnitError:
        message = (
            gettext("“{cell}” is not a number").format(cell=cell[:20])
            if cell
            else gettext("is missing")
        )
        problem = SourceProblem(line.number, gettext(_WORDS[variable]), message)
        raise SourceError(problem) from None
    return to_si(number, _QUANTITIES[variable], _system_of(cell, system))


def _columns_by_variable(data: list[_Line], system: UnitSystem) -> dict[str, _Column]:
    named = [(line, _variable(line.label)) for line in data]
    if not any(name for _, name in named):
        return _unnamed_rows(data, system)
    columns: dict[str, _Column] = {}
    for line, name in named:
        if name in columns:
            message = gettext("this is a second line for {name}; leave one").format(
                name=gettext(_WORDS[name])
            )
            raise SourceError(SourceProblem(line.number, "", message))
        if name:
            columns[name] = _row_column(line, name, _system_of(line.label, system))
    return columns


def _unnamed_rows(data: list[_Line], system: UnitSystem) -> dict[str, _Column]:
    if len(data) != len(VARIABLES):
        message = gettext("Found {number} lines of twelve numbers. {expected}").format(
            number=len(data), expected=gettext(_EXPECTED)
        )
        raise whole_problem(message)
    rows = zip(VARIABLES, data, strict=True)
    return _lows_first({name: _row_column(line, name, system) for name, line in rows})


def _row_column(line: _Line, variable: str, system: UnitSystem) -> _Column:
    values = [_value(line, month, variable, system) for month in range(MONTHS)]
    return _Column(tuple(values), (line.number,) * MONTHS)


def _columns_by_month(
    headings: list[_Line], data: list[_Line], system: UnitSystem
) -> dict[str, _Column]:
    by_month = _months(data)
    titles = _titles(headings)
    order = titles or dict.fromkeys(VARIABLES, "")
    columns: dict[str, _Column] = {}
    for position, (variable, title) in enumerate(order.items()):
        unit = _system_of(title, system)
        values = []
        for line in by_month:
            _check_length(line, len(order), has_titles=bool(titles))
            if variable in VARIABLES:
                values.append(_value(line, position, variable, unit))
        if values:
            numbers = tuple(line.number for line in by_month)
            columns[variable] = _Column(tuple(values), numbers)
    return columns if titles else _lows_first(columns)


def _check_length(line: _Line, wanted: int, *, has_titles: bool) -> None:
    found = len(line.cells)
    if found < wanted or (found > wanted and not has_titles):
        message = gettext("needs low, high and rain, but holds {found} numbers").format(
            found=found
        )
        raise SourceError(SourceProblem(line.number, "", message))


def _titles(headings: list[_Line]) -> dict[str, str]:
    """Return the headings of the value columns by variable, in their order.

    Columns that are neither low, high nor rain keep their place under a name of
    their own. Empty when no heading names all three.
    """
    for line in headings:
        cells = _with_units(line.cells)
        first = next((i for i, cell in enumerate(cells) if _variable(cell)), None)
        if first is None:
            continue
        start = first if first == 0 else 1
        order = {
            _variable(cell) or f"other {place}": cell
            for place, cell in enumerate(cells[start:])
        }
        if set(VARIABLES) <= set(order):
            return order
    return {}


def _months(data: list[_Line]) -> list[_Line]:
    """Return the twelve lines in calendar order, without the month's number."""
    found: dict[int, _Line] = {}
    unnamed = all(not line.label for line in data)
    numbered = unnamed and all(len(line.cells) > len(VARIABLES) for line in data)
    for position, line in enumerate(data, 1):
        month, rest = position, line
        if numbered:
            month = _month_number(line)
            rest = _Line(line.number, line.cells[0], line.cells[1:])
        elif not unnamed:
            month = _named_month(line)
        if month in found:
            message = gettext("{month} appears a second time").format(
                month=month_name(month)
            )
            raise SourceError(SourceProblem(line.number, "", message))
        if month:
            found[month] = rest
    missing = [month_name(m) for m in range(1, MONTHS + 1) if m not in found]
    if missing or len(found) > MONTHS:
        raise whole_problem(_missing_message(missing, len(found)))
    return [found[month] for month in range(1, MONTHS + 1)]


def _missing_message(missing: list[str], found: int) -> str:
    if not missing:
        return gettext("Found {found} lines for twelve months. {expected}").format(
            found=found, expected=gettext(_EXPECTED)
        )
    return gettext("There is no line for {months}. {expected}").format(
        months=", ".join(missing), expected=gettext(_EXPECTED)
    )


def _with_units(cells: tuple[str, ...]) -> list[str]:
    """Join a unit that spaces split from its heading (``High °F``) to it again."""
    joined: list[str] = []
    for cell in cells:
        if joined and _UNIT_NAMES.fullmatch(cell.strip("()[] ")):
            joined[-1] = f"{joined[-1]} {cell}"
        else:
            joined.append(cell)
    return joined


def _month_number(line: _Line) -> int:
    cell = line.cells[0]
    if re.fullmatch(r"0?[1-9]|1[0-2]", cell, re.ASCII):
        return int(cell)
    message = gettext("must begin with a month, 1 to 12, not “{cell}”").format(
        cell=cell[:20]
    )
    raise SourceError(SourceProblem(line.number, "", message))


def _named_month(line: _Line) -> int:
    """Return the month a line's label names; 0 for the year's own line."""
    word = _MONTH_WORD.fullmatch(line.label.strip(" .:-"))
    if word:
        return _STARTS[word.group()[:3].casefold()]
    if _YEAR_ROW.search(line.label):
        return 0
    message = gettext("“{name}” is not a month; write January or Jan").format(
        name=line.label[:20]
    )
    raise SourceError(SourceProblem(line.number, "", message))


def _cell_words(problem: MonthProblem) -> str:
    """Return which number of the table it is about, such as ``January low``."""
    words = gettext("{month} {what}")
    what = gettext(_WORDS[problem.field])
    return words.format(month=month_name(problem.month), what=what)


def _lows_first(columns: dict[str, _Column]) -> dict[str, _Column]:
    """Swap unnamed lows and highs when the lows are the larger in every month."""
    low, high = columns["tmin"], columns["tmax"]
    if all(a > b for a, b in zip(low.values, high.values, strict=True)):
        return {**columns, "tmin": high, "tmax": low}
    return columns


def _table(columns: dict[str, _Column]) -> NormalsTable:
    absent = [gettext(_WORDS[name]) for name in VARIABLES if name not in columns]
    if absent:
        message = gettext("There is no {values}. {expected}").format(
            values=gettext(" and no ").join(absent), expected=gettext(_EXPECTED)
        )
        raise whole_problem(message)
    values = {name: columns[name].values for name in VARIABLES}
    problems = normals_problems(values["tmin"], values["tmax"], values["rain"])
    if problems:
        raise SourceError(
            *(
                SourceProblem(
                    columns[problem.field].lines[problem.month - 1],
                    _cell_words(problem),
                    problem.message,
                )
                if problem.month
                else SourceProblem(0, "", problem.message)
                for problem in problems
            )
        )
    return NormalsTable(values["tmin"], values["tmax"], values["rain"])
