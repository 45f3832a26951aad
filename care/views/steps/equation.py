"""An equation as it is set on a page: letters slanted, indices below the line."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

_SYMBOL = re.compile(r"[A-Za-z][A-Za-z0-9_]*")
_FUNCTIONS = frozenset({"min", "max"})
_MINUS = "\N{MINUS SIGN}"


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch of an equation; ``is_symbol`` letters are slanted."""

    text: str
    below: str = ""
    is_symbol: bool = False


def equation_parts(formula: str) -> tuple[Part, ...]:
    """Return a formula such as ``U = A · K_c · ET_0`` in parts.

    What follows the first underscore of a symbol stands below the line.
    """
    parts: list[Part] = []
    end = 0
    for match in _SYMBOL.finditer(formula):
        parts.append(Part(_signs(formula[end : match.start()])))
        parts.append(_symbol(match.group()))
        end = match.end()
    parts.append(Part(_signs(formula[end:])))
    return tuple(part for part in parts if part.text)


def with_numbers(formula: str, numbers: Mapping[str, str]) -> str:
    """Return the right side of a formula with numbers for its symbols.

    Raises
    ------
    KeyError
        If a symbol has no number.
    """
    right = formula.partition("=")[2].strip()
    return _SYMBOL.sub(lambda match: _number(match.group(), numbers), _signs(right))


def _number(name: str, numbers: Mapping[str, str]) -> str:
    if name in _FUNCTIONS:
        return name
    number = _signs(numbers[name])
    return f"({number})" if number.startswith(_MINUS) else number


def _symbol(name: str) -> Part:
    if name in _FUNCTIONS:
        return Part(name)
    letter, _, below = name.partition("_")
    return Part(letter, below.replace("_", " "), is_symbol=True)


def _signs(text: str) -> str:
    return text.replace("-", _MINUS)
