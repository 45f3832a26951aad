"""A service's JSON, read with suspicion: only what the standard allows, and finite.

RFC 8259 leaves doubled names and the size of numbers open, and Python's reader lets
``NaN`` and ``1e400`` through; here each is refused, in words, as is anything else
that is not what was expected. Nothing but ``strange_answer`` is ever raised.
"""

import json
import math
from collections.abc import Mapping
from datetime import UTC, datetime

from orchard.sources.arriving import strange_answer

Fields = Mapping[str, object]

MOST_BYTES = 2_000_000
MOST_DIGITS = 25
SHOWN = 40
#: The years in which a forecast can have been issued.
FIRST_YEAR, LAST_YEAR = 2000, 2200


def read_fields(body: bytes) -> Fields:
    """Return the object that a whole answer must be.

    Raises
    ------
    SourceError
        For a web page, a broken text, doubled names, numbers that are none or too
        large, nesting without end, or anything but an object.
    """
    if len(body) > MOST_BYTES:
        message = f"it has more than {MOST_BYTES // 1_000_000} MB"
        raise strange_answer(message)
    try:
        text = body.decode("utf-8-sig")
    except UnicodeDecodeError:
        message = "it is not text"
        raise strange_answer(message) from None
    if text.lstrip().startswith("<"):
        message = "it is a web page instead of data"
        raise strange_answer(message)
    try:
        answer = json.loads(
            text,
            parse_float=_finite,
            parse_int=_whole,
            parse_constant=_refuse_constant,
            object_pairs_hook=_once_each,
        )
    except RecursionError:
        message = "its parts are nested without end"
        raise strange_answer(message) from None
    except json.JSONDecodeError as error:
        message = f"it breaks off or is garbled at letter {error.pos + 1}"
        raise strange_answer(message) from None
    return as_fields(answer, "the whole of it")


def _finite(text: str) -> float:
    number = float(text)
    if not math.isfinite(number):
        message = f"the number {text[:SHOWN]} is too large"
        raise strange_answer(message)
    return number


def _whole(text: str) -> int:
    if len(text) > MOST_DIGITS:
        message = f"a number has {len(text)} digits"
        raise strange_answer(message)
    return int(text)


def _refuse_constant(text: str) -> object:
    message = f"it holds {text}, which is no number"
    raise strange_answer(message)


def _once_each(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        message = f"“{shown(twice)}” is in it twice"
        raise strange_answer(message)
    return found


def shown(value: object) -> str:
    """Return the beginning of a value as it may stand in a message."""
    text = "".join(letter if letter.isprintable() else "?" for letter in str(value))
    return text[:SHOWN]


def as_fields(value: object, what: str) -> Fields:
    """Return ``value`` if it is an object; ``what`` names it where it is none."""
    if not isinstance(value, dict):
        message = f"{what} is not an object"
        raise strange_answer(message)
    return value


def as_list(value: object, what: str) -> list[object]:
    """Return ``value`` if it is a list."""
    if not isinstance(value, list):
        message = f"{what} is not a list"
        raise strange_answer(message)
    return value


def fields_of(fields: Fields, name: str) -> Fields:
    """Return the object that a field holds; it must be there."""
    return as_fields(_needed(fields, name), f"“{name}”")


def list_of(fields: Fields, name: str) -> list[object]:
    """Return the list that a field holds; it must be there."""
    return as_list(_needed(fields, name), f"“{name}”")


def text_of(fields: Fields, name: str) -> str:
    """Return a field's text; empty where it is missing or null."""
    value = fields.get(name)
    if value is None:
        return ""
    if not isinstance(value, str):
        message = f"“{name}” is not a text"
        raise strange_answer(message)
    return value


def as_number(value: object, what: str) -> float | None:
    """Return a number, or ``None`` for null; a text or a yes is refused."""
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float):
        message = f"{what} is “{shown(value)}” instead of a number"
        raise strange_answer(message)
    return float(value)


def number_of(fields: Fields, name: str) -> float | None:
    """Return a field's number, ``None`` where it is missing or null."""
    return as_number(fields.get(name), f"“{name}”")


def moment(text: str, what: str) -> datetime:
    """Return a time with its zone, in UTC.

    Raises
    ------
    SourceError
        For no time, one without a zone, or one of another century.
    """
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        at = None
    is_usable = at is not None and at.tzinfo is not None
    if at is None or not is_usable or not FIRST_YEAR <= at.year <= LAST_YEAR:
        message = f"{what} is “{shown(text)}” instead of a time with its zone"
        raise strange_answer(message)
    return at.astimezone(UTC)


def _needed(fields: Fields, name: str) -> object:
    if name not in fields:
        message = f"“{name}” is missing"
        raise strange_answer(message)
    return fields[name]
