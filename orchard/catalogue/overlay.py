"""A row of the catalogue with what an orchard says instead: its own figures.

An own figure is a text as in the table and passes the table's own checks when it is
typed. It stays when the catalogue changes under it: where the two then disagree about
which of a pair is the larger, the catalogue's figure gives way; and what the table no
longer takes at all is left out, never shown as if it held.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields, replace
from datetime import date
from typing import TypeVar

from orchard.catalogue.cultivars import (
    CULTIVAR_FIGURES,
    CULTIVAR_ORDERED,
    Cultivar,
    cultivar_of_row,
)
from orchard.catalogue.origins import Basis, Provenance
from orchard.catalogue.rows import CatalogueError, TableRow
from orchard.catalogue.species import FIGURES, ORDERED, Species, species_of_row

#: Figures that are a kind's name, or a warning nobody may take away.
FIXED = frozenset({"botanical_name", "family", "toxicity_note", "invasive_note"})
SPECIES_FIGURES = tuple(name for name in FIGURES if name not in FIXED)
MADE_ROOM = "moved to fit the orchard's own figure"

_ZONES = (("usda_zone_min", "usda_zone_max"),)
_OWN = "own figure"
Row = TypeVar("Row", Species, Cultivar)


@dataclass(frozen=True, slots=True)
class Said:
    """One figure as somebody typed it: the text, its source, who and when."""

    figure: str
    value: str
    source: str
    by: str = ""
    on: date | None = None

    @property
    def origin(self) -> Provenance:
        """Where the figure comes from."""
        return Provenance(Basis.OWN, source=self.source, by=self.by, on=self.on)


def cells_of(row: Species | Cultivar) -> dict[str, str]:
    """Return a row's cells as they are written in its table."""
    names = (each.name for each in fields(row) if each.name != "provenance")
    return {name: _text(getattr(row, name)) for name in names}


def with_own_species(species: Species, said: Iterable[Said]) -> Species:
    """Return a species with own figures in place of its own."""
    return _overlaid(species, said, (*ORDERED, *_ZONES), species_of_row)


def with_own_cultivar(cultivar: Cultivar, said: Iterable[Said]) -> Cultivar:
    """Return a cultivar with own figures in place of its own."""
    return _overlaid(cultivar, said, CULTIVAR_ORDERED, cultivar_of_row)


def check_species(species: Species, said: Iterable[Said]) -> Species:
    """Return a species with own figures, all of them held to the table's checks.

    Raises
    ------
    CatalogueError
        Names the figure that is wrong, by itself or beside another.
    """
    return _checked(species, said, SPECIES_FIGURES, species_of_row)


def check_cultivar(cultivar: Cultivar, said: Iterable[Said]) -> Cultivar:
    """Return a cultivar with own figures, all of them held to the table's checks.

    Raises
    ------
    CatalogueError
        Names the figure that is wrong, by itself or beside another.
    """
    return _checked(cultivar, said, CULTIVAR_FIGURES, cultivar_of_row)


def species_like(species: Species, names: tuple[str, str, str], source: str) -> Species:
    """Return a kind of another name with the figures of ``species``.

    They are borrowed, which their origins say; what rests on memory still does.

    Parameters
    ----------
    names : tuple of str
        Key, common and botanical name.
    source : str
        Where the orchard has the names from.
    """
    key, common, botanical = names
    note = f"as of {species.common_name}"
    origins = {
        name: replace(
            origin,
            basis=Basis.MEMORY if origin.basis is Basis.MEMORY else Basis.PROXY,
            note=f"{note}; {origin.note}" if origin.note else note,
        )
        for name, origin in species.provenance.items()
    }
    origins["botanical_name"] = Provenance(Basis.OWN, source=source)
    return replace(
        species,
        key=key,
        common_name=common,
        botanical_name=botanical,
        provenance=origins,
    )


def new_cultivar(
    key: str, species_key: str, name: str, *, values: Mapping[str, str], source: str
) -> Cultivar:
    """Return a cultivar of an orchard's own from texts as in the table.

    Raises
    ------
    CatalogueError
        Names the figure that is wrong.
    """
    empty = {"key": key, "species_key": species_key, "name": name}
    given = {name: text for name, text in values.items() if text}
    for figure in given:
        if figure not in CULTIVAR_FIGURES:
            raise CatalogueError(_OWN, 0, figure, "is no figure of a cultivar")
    cells = dict.fromkeys(CULTIVAR_FIGURES, "") | empty | given
    origin = Provenance(Basis.OWN, source=source)
    return cultivar_of_row(TableRow(_OWN, 0, cells), dict.fromkeys(given, origin))


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, tuple):
        return ";".join(map(str, value))
    return str(value)


def _checked(
    row: Row,
    said: Iterable[Said],
    figures: tuple[str, ...],
    build: Callable[[TableRow, Mapping[str, Provenance]], Row],
) -> Row:
    said = tuple(said)
    for each in said:
        if each.figure not in figures:
            message = "is no figure that can be changed"
            raise CatalogueError(_OWN, 0, each.figure, message)
        if not each.value:
            raise CatalogueError(_OWN, 0, each.figure, "is empty")
    return _built(row, said, {}, build)


def _overlaid(
    row: Row,
    said: Iterable[Said],
    pairs: tuple[tuple[str, str], ...],
    build: Callable[[TableRow, Mapping[str, Provenance]], Row],
) -> Row:
    partners = dict(pairs) | {upper: lower for lower, upper in pairs}
    kept: dict[str, Said] = {}
    moved: dict[str, str] = {}
    found = row
    for each in said:
        room = _room(row, each, kept, partners.get(each.figure))
        for making in ({}, room):
            try:
                found = _built(row, (*kept.values(), each), moved | making, build)
            except CatalogueError:
                continue
            kept[each.figure] = each
            moved |= making
            break
    return found


def _room(
    row: Row, said: Said, kept: Mapping[str, Said], partner: str | None
) -> dict[str, str]:
    """Return the cell that would give way to an own figure, if one may."""
    if partner is None or partner in kept or not cells_of(row).get(partner):
        return {}
    return {partner: said.value}


def _built(
    row: Row,
    said: tuple[Said, ...],
    moved: Mapping[str, str],
    build: Callable[[TableRow, Mapping[str, Provenance]], Row],
) -> Row:
    own = {each.figure: each.value for each in said}
    origins = dict(row.provenance)
    origins |= {name: Provenance(Basis.PROXY, note=MADE_ROOM) for name in moved}
    origins |= {each.figure: each.origin for each in said}
    return build(TableRow(_OWN, 0, cells_of(row) | dict(moved) | own), origins)
