"""A point of the plan as a person writes it on one line.

``A``, ``5.1 from A, 7.2 from B``, the same with ``left`` or ``right`` behind it, or
``3, 4.5``: metres (or feet) along the plan's first direction and across it.
"""

import re
from collections.abc import Mapping, Sequence

from django.utils.translation import gettext, gettext_noop

from orchard.plans.lengths import read_length
from orchard.plans.measured import Point, Side, Taped, place_by_tapes
from orchard.plans.problems import PlanError
from orchard.units import UnitError, UnitSystem

#: In every language of the program, whoever reads the line.
_FROM = re.compile(r"\s+(?:from|de|desde)\s+", re.IGNORECASE)
_SIDES = {
    "left": Side.LEFT,
    "right": Side.RIGHT,
    "izquierda": Side.LEFT,
    "derecha": Side.RIGHT,
}
#: Longer lines are no point.
MOST_LETTERS = 160
FEWEST_TAPES = 2


def read_point(
    text: str,
    corners: Mapping[str, Point],
    units: UnitSystem,
    garden_m: Point | None = None,
) -> Point:
    """Return the place [m] that one line says.

    Parameters
    ----------
    text : str
        What was typed.
    corners : mapping of str to (float, float)
        The places of the named corners [m]; the case of their letters is no matter.
    units : UnitSystem
        What bare numbers are in.
    garden_m : (float, float), optional
        The side that two distances mean where none is written [m].

    Raises
    ------
    PlanError
        It is no point; the message says what is wrong with it.
    """
    plain = " ".join(text.split())
    if not plain or len(plain) > MOST_LETTERS:
        message = gettext_noop("Write a corner's name, two distances or two numbers.")
        raise PlanError(message)
    by_name = {name.casefold(): (name, place) for name, place in corners.items()}
    if plain.casefold() in by_name:
        return by_name[plain.casefold()][1]
    if _FROM.search(plain):
        return _by_tapes(plain, by_name, units, garden_m)
    return _by_numbers(plain, units)


def read_points(
    text: str,
    corners: Mapping[str, Point],
    units: UnitSystem,
    garden_m: Point | None = None,
) -> list[Point]:
    """Return the places [m] of a text with one point a line; empty lines are skipped.

    Raises
    ------
    PlanError
        The first line that is no point, with its number.
    """
    places = []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        try:
            places.append(read_point(line, corners, units, garden_m))
        except PlanError as error:
            line_words = gettext("Line {number}").format(number=number)
            raise error.inside(line_words) from error
    return places


def _by_tapes(
    plain: str,
    by_name: Mapping[str, tuple[str, Point]],
    units: UnitSystem,
    garden_m: Point | None,
) -> Point:
    parts = [part.strip() for part in re.split(r"[,;]\s+|;", plain) if part.strip()]
    side = _SIDES.get(parts[-1].casefold())
    tapes = [_tape(part, by_name, units) for part in (parts[:-1] if side else parts)]
    if len(tapes) < FEWEST_TAPES:
        message = gettext_noop(
            "One distance leaves it open where: write two, from two corners."
        )
        raise PlanError(message)
    return place_by_tapes(tapes, side or Side.GARDEN, garden_m).place_m


def _tape(
    part: str, by_name: Mapping[str, tuple[str, Point]], units: UnitSystem
) -> Taped:
    length, *corner = _FROM.split(part, maxsplit=1)
    known = by_name.get(corner[0].strip().casefold()) if corner else None
    if known is None:
        message = gettext_noop(
            "“{part}”: write it as 5.1 from A, with a corner that is on the plan."
        )
        raise PlanError(message, part=part)
    distance_m = _length(length, units)
    if distance_m < 0:
        message = gettext_noop("“{part}”: a tape shows no negative length.")
        raise PlanError(message, part=part)
    return Taped(known[0], known[1], distance_m)


def _length(text: str, units: UnitSystem) -> float:
    try:
        return read_length(text, units)
    except UnitError as error:
        message = "{problem}"
        raise PlanError(message, problem=str(error)) from error


def _by_numbers(plain: str, units: UnitSystem) -> Point:
    for parts in _pairs(plain):
        if len(parts) == 2:  # noqa: PLR2004 - along and across
            return _length(parts[0], units), _length(parts[1], units)
    message = gettext_noop(
        "“{text}” is no point. Write a corner's name, two distances such as 5.1 from "
        "A, 7.2 from B, or two numbers: along, across."
    )
    raise PlanError(message, text=plain)


def _pairs(plain: str) -> Sequence[list[str]]:
    """Return the ways to split a line in two; a comma may be a decimal sign."""
    return [
        re.split(r"\s*;\s*", plain),
        re.split(r",\s+", plain),
        re.split(r"\s*,\s*", plain),
        plain.split(),
    ]
