"""Where the figures of a table come from: a row for each of them, and words for it."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from pathlib import Path

from orchard.catalogue.rows import TableRow, read_rows

PROVENANCE_COLUMNS = ("key", "field", "value", "basis", "source", "address", "note")

FigureValue = str | int | float | tuple[int, ...] | tuple[str, ...]


class Basis(StrEnum):
    """How far a figure can be trusted, best first; ``OWN`` is what an orchard says."""

    READ = "read"  # seen in the source, or in a transcription or copy of it
    READ_SECONDARY = "read_secondary"  # seen where another page reports the source
    PROXY = "proxy"  # borrowed from a related crop, named in the note
    MEMORY = "memory"  # remembered, not checked
    OWN = "own"  # typed in an orchard, with its source; never in a table


@dataclass(frozen=True, slots=True)
class Provenance:
    """Where one figure comes from; ``source`` is a short key, empty for memory.

    Of an orchard's own figure ``source`` is what the person typed, ``by`` who it was
    and ``on`` when.
    """

    basis: Basis
    source: str = ""
    address: str = ""
    note: str = ""
    by: str = ""
    on: date | None = None


@dataclass(frozen=True, slots=True)
class Figure:
    """One value of the catalogue together with its origin."""

    value: FigureValue
    basis: Basis
    source: str
    address: str
    note: str = ""
    by: str = ""
    on: date | None = None


def figure_of(value: FigureValue, origin: Provenance) -> Figure:
    """Return a value joined with where it comes from."""
    return Figure(
        value,
        origin.basis,
        origin.source,
        origin.address,
        origin.note,
        origin.by,
        origin.on,
    )


def read_origins(path: Path) -> dict[tuple[str, str], TableRow]:
    """Read a table of origins by key and field.

    Raises
    ------
    CatalogueError
        For a table that cannot be read, or a figure that appears twice in it.
    """
    rows: dict[tuple[str, str], TableRow] = {}
    for row in read_rows(path, PROVENANCE_COLUMNS):
        name = (row.text("key"), row.text("field"))
        if name in rows:
            row.refuse("field", f"{name[0]} {name[1]} appears twice")
        rows[name] = row
    return rows


def take_origins(
    row: TableRow,
    origins: dict[tuple[str, str], TableRow],
    columns: Collection[str],
    file: str,
) -> dict[str, Provenance]:
    """Take a row's origins out of ``origins``, one for every figure in ``columns``.

    Parameters
    ----------
    file : str
        The name of the table of origins, for the message.

    Raises
    ------
    CatalogueError
        For a figure without origin, or an origin of another value.
    """
    found: dict[str, Provenance] = {}
    for column in columns:
        value = row.optional_text(column)
        if not value:
            continue
        origin = origins.pop((row.text("key"), column), None)
        if origin is None:
            row.refuse(column, f"has no row in {file}")
        if origin.optional_text("value") != value:
            stated = origin.optional_text("value")
            origin.refuse("value", f"{stated!r}, but the table says {value!r}")
        found[column] = _provenance(origin)
    return found


def refuse_orphans(origins: dict[tuple[str, str], TableRow], table: str) -> None:
    """Refuse what is left of the origins once every figure took its own.

    Raises
    ------
    CatalogueError
        Names the first origin that belongs to no figure.
    """
    for orphan in origins.values():
        orphan.refuse("field", f"belongs to no figure of the {table} table")


def _provenance(row: TableRow) -> Provenance:
    basis = row.choice("basis", Basis)
    if basis is Basis.OWN:
        row.refuse("basis", "'own' is for figures of an orchard")
    if basis is Basis.MEMORY:
        return Provenance(basis, note=row.optional_text("note"))
    return Provenance(
        basis, row.text("source"), row.text("address"), row.optional_text("note")
    )
