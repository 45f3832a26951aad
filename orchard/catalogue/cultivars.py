"""The table of cultivars: what is known of each, figure by figure, with its origin.

``cultivars.csv`` holds the figures, ``cultivar_provenance.csv`` says for every one of
them where it comes from. Nothing loads unless both are whole. What is empty is as of
the species. Months are those of the NORTHERN hemisphere; a start later than its end
wraps over New Year. Bloom counts from 1, very early, to 5, late, in halves, and orders
cultivars of one species only.
"""

import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields
from enum import StrEnum
from pathlib import Path
from types import MappingProxyType

from orchard.catalogue.names import cultivar_names, fold_cultivar
from orchard.catalogue.origins import (
    Basis,
    Figure,
    FigureValue,
    Provenance,
    figure_of,
    read_origins,
    refuse_orphans,
    take_origins,
)
from orchard.catalogue.rows import CatalogueError, TableRow, read_rows
from orchard.catalogue.species import FOLDER, SelfFruitful, species_catalogue

CULTIVARS_FILE = "cultivars.csv"
CULTIVAR_PROVENANCE_FILE = "cultivar_provenance.csv"

#: Said behind a partner that has no row of its own.
OUTSIDE = "[outside]"


class FlowerSex(StrEnum):
    """What flowers a cultivar of a kind with two sexes bears."""

    FEMALE = "female"
    MALE = "male"
    BOTH = "both"


class FlowerType(StrEnum):
    """When a cultivar sheds and takes pollen."""

    A = "A"  # avocado: takes it in the morning
    B = "B"  # avocado: takes it in the afternoon
    I = "I"  # pecan, walnut: sheds first  # noqa: E741
    II = "II"  # pecan, walnut: takes it first


class YesNo(StrEnum):
    """A plain answer; an empty cell is no answer."""

    YES = "yes"
    NO = "no"


FLOWER_TYPES = {
    "avocado": (FlowerType.A, FlowerType.B),
    "pecan": (FlowerType.I, FlowerType.II),
    "walnut": (FlowerType.I, FlowerType.II),
    "black_walnut": (FlowerType.I, FlowerType.II),
}


@dataclass(frozen=True)
class Cultivar:
    """One cultivar; ``None`` or an empty text means that nothing is known of it."""

    key: str
    species_key: str
    name: str
    chill_hours_min: int | None
    chill_hours_max: int | None
    chill_portions: float | None
    bloom: float | None
    bloom_note: str
    self_fruitful: SelfFruitful | None
    is_pollen_sterile: YesNo | None
    sex: FlowerSex | None
    flower_type: FlowerType | None
    partners: tuple[str, ...]
    not_partners: tuple[str, ...]
    partner_note: str
    harvest_start_month: int | None
    harvest_end_month: int | None
    harvest_note: str
    days_bloom_to_harvest: int | None
    provenance: Mapping[str, Provenance] = field(repr=False, compare=False)

    def figure(self, name: str) -> Figure:
        """Return one value with its origin.

        Raises
        ------
        KeyError
            When nothing of that name is known of this cultivar.
        """
        origin = self.provenance[name]
        value: FigureValue = getattr(self, name)
        return figure_of(value, origin)

    @property
    def unverified(self) -> frozenset[str]:
        """The names of all figures that rest on memory."""
        return frozenset(
            name
            for name, origin in self.provenance.items()
            if origin.basis is Basis.MEMORY
        )


_COLUMNS = tuple(f.name for f in fields(Cultivar) if f.name != "provenance")
CULTIVAR_FIGURES = _COLUMNS[3:]
#: Least and most that a figure may be, in the unit of its name.
CULTIVAR_LIMITS: dict[str, tuple[float, float]] = {
    "chill_hours_min": (0, 2000),
    "chill_hours_max": (0, 2000),
    "chill_portions": (0, 150),
    "harvest_start_month": (1, 12),
    "harvest_end_month": (1, 12),
    "days_bloom_to_harvest": (15, 500),
    "bloom": (1, 5),
}
CULTIVAR_ORDERED = (("chill_hours_min", "chill_hours_max"),)


def load_cultivars(folder: Path, species: Iterable[str]) -> dict[str, Cultivar]:
    """Read and check the two tables of cultivars in ``folder``.

    Parameters
    ----------
    species : iterable of str
        The keys of the species there are.

    Returns
    -------
    dict
        Cultivars by key, in the order of the file.

    Raises
    ------
    CatalogueError
        Names file, line and column of the first thing wrong.
    """
    origins = read_origins(folder / CULTIVAR_PROVENANCE_FILE)
    known = frozenset(species)
    rows: list[tuple[TableRow, Cultivar]] = []
    for row in read_rows(folder / CULTIVARS_FILE, _COLUMNS):
        if row.text("species_key") not in known:
            row.refuse("species_key", f"{row.text('species_key')!r} is no species")
        _refuse_second(row, rows)
        provenance = take_origins(
            row, origins, CULTIVAR_FIGURES, CULTIVAR_PROVENANCE_FILE
        )
        rows.append((row, cultivar_of_row(row, provenance)))
    refuse_orphans(origins, "cultivar")
    if not rows:
        raise CatalogueError(CULTIVARS_FILE, 1, "", "holds no cultivars")
    _check_partners(rows)
    return {cultivar.key: cultivar for _, cultivar in rows}


@functools.cache
def cultivar_catalogue() -> Mapping[str, Cultivar]:
    """Return the cultivars that come with the program, read once and read-only."""
    return MappingProxyType(load_cultivars(FOLDER, species_catalogue()))


def cultivar_of_row(row: TableRow, provenance: Mapping[str, Provenance]) -> Cultivar:
    """Return one row of the table as a cultivar, every cell checked.

    Whether its partners exist is not looked at.

    Raises
    ------
    CatalogueError
        Names the column of the first thing wrong.
    """
    cultivar = Cultivar(
        key=row.text("key"),
        species_key=row.text("species_key"),
        name=row.text("name"),
        chill_hours_min=row.optional_count(
            "chill_hours_min", *CULTIVAR_LIMITS["chill_hours_min"]
        ),
        chill_hours_max=row.optional_count(
            "chill_hours_max", *CULTIVAR_LIMITS["chill_hours_max"]
        ),
        chill_portions=row.optional_number(
            "chill_portions", *CULTIVAR_LIMITS["chill_portions"]
        ),
        bloom=_bloom(row),
        bloom_note=row.optional_text("bloom_note"),
        self_fruitful=row.optional_choice("self_fruitful", SelfFruitful),
        is_pollen_sterile=row.optional_choice("is_pollen_sterile", YesNo),
        sex=row.optional_choice("sex", FlowerSex),
        flower_type=_flower_type(row),
        partners=_names(row, "partners"),
        not_partners=_names(row, "not_partners"),
        partner_note=row.optional_text("partner_note"),
        harvest_start_month=row.optional_count(
            "harvest_start_month", *CULTIVAR_LIMITS["harvest_start_month"]
        ),
        harvest_end_month=row.optional_count(
            "harvest_end_month", *CULTIVAR_LIMITS["harvest_end_month"]
        ),
        harvest_note=row.optional_text("harvest_note"),
        days_bloom_to_harvest=row.optional_count(
            "days_bloom_to_harvest", *CULTIVAR_LIMITS["days_bloom_to_harvest"]
        ),
        provenance=MappingProxyType(dict(provenance)),
    )
    _check_row(row, cultivar)
    return cultivar


def _bloom(row: TableRow) -> float | None:
    bloom = row.optional_number("bloom", *CULTIVAR_LIMITS["bloom"])
    if bloom is not None and bloom * 2 != int(bloom * 2):
        row.refuse("bloom", f"{bloom:g} is not a whole or a half class")
    return bloom


def _flower_type(row: TableRow) -> FlowerType | None:
    found = row.optional_choice("flower_type", FlowerType)
    fitting = FLOWER_TYPES.get(row.text("species_key"), ())
    if found is not None and found not in fitting:
        row.refuse("flower_type", f"{found} is not a type of this species")
    return found


def _names(row: TableRow, column: str) -> tuple[str, ...]:
    text = row.optional_text(column)
    if not text:
        return ()
    found = tuple(plain_name(part) for part in text.split(";"))
    folded = [fold_cultivar(name) for name in found]
    if not all(folded) or len(set(folded)) != len(folded):
        row.refuse(column, "needs names, each once, split by ;")
    return found


def plain_name(name: str) -> str:
    """Return a partner's name without the remark that it has no row."""
    return name.strip().removesuffix(OUTSIDE).strip()


def _check_row(row: TableRow, cultivar: Cultivar) -> None:
    for lower, upper in CULTIVAR_ORDERED:
        row.check_order(lower, upper)
    if (cultivar.harvest_start_month is None) != (cultivar.harvest_end_month is None):
        row.refuse("harvest_start_month", "needs a first and a last month, or neither")
    own = set(cultivar_names(cultivar.name))
    good = {fold_cultivar(name) for name in cultivar.partners}
    bad = {fold_cultivar(name) for name in cultivar.not_partners}
    if own & (good | bad):
        column = "partners" if own & good else "not_partners"
        row.refuse(column, f"{cultivar.name} is no partner of itself")
    if good & bad:
        row.refuse("not_partners", "names a partner as well")


def _refuse_second(row: TableRow, rows: list[tuple[TableRow, Cultivar]]) -> None:
    folded = set(cultivar_names(row.text("name")))
    for _, other in rows:
        if other.key == row.text("key"):
            row.refuse("key", f"{other.key!r} appears twice")
        if other.species_key != row.text("species_key"):
            continue
        if folded & set(cultivar_names(other.name)):
            row.refuse("name", f"{other.name!r} appears twice")


def _check_partners(rows: list[tuple[TableRow, Cultivar]]) -> None:
    named = {
        (cultivar.species_key, name)
        for _, cultivar in rows
        for name in cultivar_names(cultivar.name)
    }
    for row, cultivar in rows:
        for column in ("partners", "not_partners"):
            for name in filter(None, row.optional_text(column).split(";")):
                is_outside = name.strip().endswith(OUTSIDE)
                folded = fold_cultivar(plain_name(name))
                if ((cultivar.species_key, folded) in named) == is_outside:
                    said = "has a row" if is_outside else "has no row here"
                    row.refuse(column, f"{plain_name(name)!r} {said}")
