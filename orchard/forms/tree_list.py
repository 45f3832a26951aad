"""Many trees at once from a pasted list, one a line.

A line is ``name, species, ground or pot with its size, planted``, split by commas,
semicolons or tabs: ``Old Tom, apple, ground, 1998`` or ``Lemon 1; lemon; pot 60 L;
unknown``. A line of headings may come first. Nothing here touches the database.
"""

import re
from dataclasses import dataclass
from datetime import date
from typing import NoReturn

from django.utils.translation import gettext, gettext_noop

from orchard.catalogue.search import Names, catalogue_names
from orchard.forms.planting_days import OLDEST_YEAR, last_planned_day
from orchard.languages import localised
from orchard.sources.problems import SourceProblem
from orchard.units import Quantity, UnitError, UnitSystem, parse_quantity

MAX_LINES = 2_000
MAX_LETTERS = 200_000
MAX_PART_LETTERS = 80
#: No pot that a person tends is larger; a 5000 L planter is a raised bed.
LARGEST_POT_L = 5_000.0

_PARTS = (3, 4)
_HOW = gettext_noop(
    "write name, species, ground or pot with its size, and when planted"
)
# English and Spanish side by side: a list may be written in either.
_GROUND = re.compile(
    r"(?:in )?(?:the )?(?:ground|soil|earth)|(?:en )?(?:el |la )?(?:suelo|tierra)",
    re.IGNORECASE,
)
_POT_WORD = (
    r"(?:in |en )?(?:an? |una? )?"
    r"(?:pot|container|tub|planter|maceta|contenedor|macetero)(?: de)?"
)
_POT = re.compile(rf"{_POT_WORD}\b[\s:]*(?P<size>.*)", re.IGNORECASE)
_SIZE_FIRST = re.compile(rf"(?P<size>\S.*?)\s*{_POT_WORD}", re.IGNORECASE)
_PLANTED = re.compile(r"(\d{4})(?:-(\d{1,2})(?:-(\d{1,2}))?)?", re.ASCII)
_UNKNOWN = frozenset(
    {"", "?", "-", "unknown", "not known", "desconocido", "no se sabe"}
)


class _LineError(Exception):
    """What is wrong with one part of a line."""

    def __init__(self, part: str, message: str) -> None:
        super().__init__(message)
        self.part = part


@dataclass(frozen=True, slots=True)
class TreeRow:
    """One tree of the list; a year or month stands for its first day.

    ``container_litres`` is ``None`` in the ground, ``planted_on`` when not known.
    """

    name: str
    species_key: str
    in_container: bool
    container_litres: float | None
    planted_on: date | None


@dataclass(frozen=True, slots=True)
class ParsedTrees:
    """The good rows for a preview, and every mistake with its line.

    Only ``to_store`` may be kept: all rows, or none when there is a problem.
    """

    rows: tuple[TreeRow, ...]
    problems: tuple[SourceProblem, ...]

    @property
    def to_store(self) -> tuple[TreeRow, ...]:
        """The rows to keep: none unless the whole list is right."""
        return () if self.problems else self.rows


def parse_tree_list(
    text: str,
    today: date,
    system: UnitSystem = UnitSystem.METRIC,
    kinds: Names | None = None,
) -> ParsedTrees:
    """Read a pasted list of trees.

    Parameters
    ----------
    text : str
        As pasted.
    today : date
        The site's own day; later planting dates are plans, far later ones mistakes.
    system : UnitSystem
        The unit of pot sizes that name none: litres or US gallons.
    kinds : Names, optional
        The kinds the orchard knows; without them those of the catalogue.

    Returns
    -------
    ParsedTrees
        Never raises; an empty or endless text is one problem.
    """
    lines = text.splitlines()
    if len(text) > MAX_LETTERS or len(lines) > MAX_LINES:
        message = gettext(
            "This list is too long; paste at most {most} trees at a time."
        ).format(most=MAX_LINES)
        return ParsedTrees((), (SourceProblem(0, "", message),))
    rows: list[TreeRow] = []
    problems: list[SourceProblem] = []
    names: dict[str, int] = {}
    kinds = kinds or catalogue_names()
    for number, parts in _split(lines):
        try:
            row = _tree_row(parts, today, system, kinds)
            _check_name(row.name, number, names)
        except _LineError as error:
            problems.append(SourceProblem(number, error.part, str(error)))
        else:
            rows.append(row)
    if not rows and not problems:
        problems.append(
            SourceProblem(
                0, "", gettext("The list is empty: {how}.").format(how=gettext(_HOW))
            )
        )
    return ParsedTrees(tuple(rows), tuple(problems))


def _split(lines: list[str]) -> list[tuple[int, list[str]]]:
    """Return the parts of each line that is neither empty nor headings."""
    found: list[tuple[int, list[str]]] = []
    for number, line in enumerate(lines, 1):
        mark = next((mark for mark in "\t;," if mark in line), ",")
        parts = [part.strip() for part in line.split(mark)]
        is_heading = not found and any(part.casefold() == "species" for part in parts)
        if any(parts) and not is_heading:
            found.append((number, parts))
    return found


def _tree_row(
    parts: list[str], today: date, system: UnitSystem, kinds: Names
) -> TreeRow:
    while len(parts) > _PARTS[1] and not parts[-1]:
        parts = parts[:-1]
    if len(parts) not in _PARTS:
        message = gettext("has {number} parts; {how}, split by commas").format(
            number=len(parts), how=gettext(_HOW)
        )
        _refuse("", message)
    if max(map(len, parts)) > MAX_PART_LETTERS:
        _refuse("", gettext("is too long; {how}").format(how=gettext(_HOW)))
    name, species, place, planted = [*parts, ""][: _PARTS[1]]
    litres = _container_litres(place, system)
    return TreeRow(
        name=name,
        species_key=_species_key(species, kinds),
        in_container=litres is not None,
        container_litres=litres,
        planted_on=_planted_on(planted, today),
    )


def _refuse(part: str, message: str) -> NoReturn:
    raise _LineError(part, message)


def _check_name(name: str, line: int, names: dict[str, int]) -> None:
    if not name:
        message = gettext("is missing; every tree needs one, such as Apple 1")
        _refuse("name", message)
    earlier = names.setdefault(name.casefold(), line)
    if earlier != line:
        message = gettext(
            "“{name}” is on line {earlier} already; give each tree its own"
        ).format(name=name, earlier=earlier)
        _refuse("name", message)


def _species_key(text: str, kinds: Names) -> str:
    species = kinds.named(text)
    if species:
        return species.key
    if not text:
        message = gettext("is missing; write one such as apple")
        _refuse("species", message)
    nearest = gettext(" or ").join(found.shown_name for found in kinds.find(text)[:3])
    hint = (
        gettext("; write {nearest}").format(nearest=nearest)
        if nearest
        else gettext("; see the species list for names")
    )
    message = gettext("“{text}” is not in the catalogue{hint}").format(
        text=text, hint=hint
    )
    _refuse("species", message)


def _container_litres(text: str, system: UnitSystem) -> float | None:
    """Return the pot's volume [L], or ``None`` for the ground."""
    if _GROUND.fullmatch(text):
        return None
    pot = _POT.fullmatch(text) or _SIZE_FIRST.fullmatch(text)
    if not pot:
        message = gettext("“{text}” is no place; write ground, or pot 60 L").format(
            text=text
        )
        _refuse("place", message)
    if not pot["size"]:
        message = gettext("the pot's size is missing; write pot 60 L or pot 15 gal")
        _refuse("place", message)
    try:
        litres = parse_quantity(pot["size"], Quantity.VOLUME, system)
    except UnitError:
        message = gettext(
            "“{size}” is no pot size; write pot 60 L or pot 15 gal"
        ).format(size=pot["size"])
        _refuse("place", message)
    if not 0 < litres <= LARGEST_POT_L:
        message = gettext(
            "a pot of {litres} L holds no tree; write pot 60 L or pot 15 gal"
        ).format(litres=localised(f"{litres:g}"))
        _refuse("place", message)
    return litres


def _planted_on(text: str, today: date) -> date | None:
    if text.casefold() in _UNKNOWN:
        return None
    match = _PLANTED.fullmatch(text)
    try:
        numbers = [int(part or 1) for part in match.groups()] if match else [0, 0, 0]
        planted = date(*numbers)
    except ValueError:
        planted = None
    if planted is None or planted.year < OLDEST_YEAR:
        message = gettext(
            "“{text}” is no planting date; write 2014-03-15, 2014-03, 2014 or unknown"
        ).format(text=text)
        _refuse("planted", message)
    if planted > last_planned_day(today):
        message = gettext("{text} is too far ahead to plan; today is {today}").format(
            text=text, today=today
        )
        _refuse("planted", message)
    return planted
