"""The catalogue as one orchard has it: with its own kinds, cultivars and figures.

Read anew from its rows each time; nothing is kept that could go stale. What the orchard
says goes before what comes with the program, whatever a new version of that brings.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from orchard.catalogue.cultivars import Cultivar, cultivar_catalogue
from orchard.catalogue.names import cultivar_names, fold_cultivar
from orchard.catalogue.overlay import (
    Said,
    check_cultivar,
    check_species,
    new_cultivar,
    species_like,
    with_own_cultivar,
    with_own_species,
)
from orchard.catalogue.rows import CatalogueError
from orchard.catalogue.search import Names, catalogue_names
from orchard.catalogue.species import Species, species_catalogue
from orchard.models import Orchard, OwnCultivar, OwnFigure, OwnSpecies, Tree

#: Figures by species and cultivar; no cultivar means the species itself.
Scope = tuple[str, str]
CHILL = ("chill_hours_min", "chill_hours_max")
FigureRows = Mapping[Scope, tuple[OwnFigure, ...]]


@dataclass(frozen=True, slots=True)
class FigureScope:
    """What own figures hold for: a species, one cultivar of it, or one tree."""

    species_key: str
    cultivar: str = ""
    tree: Tree | None = None


@dataclass(frozen=True)
class OrchardCatalogue:
    """Species and cultivars of one orchard; ``own_*`` are the rows it typed.

    ``plain_*`` are those that own figures changed, as they were before.
    """

    species: Mapping[str, Species]
    cultivars: Mapping[str, tuple[Cultivar, ...]]
    own_species: Mapping[str, OwnSpecies] = field(default_factory=dict)
    own_cultivars: tuple[OwnCultivar, ...] = ()
    own_figures: FigureRows = field(default_factory=dict)
    tree_figures: Mapping[int, tuple[OwnFigure, ...]] = field(default_factory=dict)
    plain_species: Mapping[str, Species] = field(default_factory=dict)
    plain_cultivars: Mapping[str, Cultivar] = field(default_factory=dict)

    @cached_property
    def names(self) -> Names:
        """All names, to be looked up."""
        is_bare = self.species is species_catalogue() and not self.own_cultivars
        if is_bare:
            return catalogue_names()
        every = (each for of_kind in self.cultivars.values() for each in of_kind)
        return Names(self.species, every)

    def cultivars_of(self, species_key: str) -> tuple[Cultivar, ...]:
        """Return the cultivars known of a species."""
        return self.cultivars.get(species_key, ())

    def cultivar(self, species_key: str, name: str) -> Cultivar | None:
        """Return a cultivar by its name, however it is spelt in case and accents."""
        return cultivar_named(self.cultivars_of(species_key), name)

    def of_tree(self, tree: Tree) -> Species | None:
        """Return a tree's species: its cultivar's chill, then what was said of it."""
        species = self.species.get(tree.species_key)
        if species is None:
            return None
        cultivar = self.cultivar(tree.species_key, tree.cultivar)
        return self.with_figures_of(_with_chill(species, cultivar), tree.pk)

    def row_of(self, scope: FigureScope) -> Species | Cultivar | None:
        """Return the row that the own figures of a scope go into, with them in it."""
        if scope.tree is not None:
            return self.of_tree(scope.tree)
        if scope.cultivar:
            return self.cultivar(scope.species_key, scope.cultivar)
        return self.species.get(scope.species_key)

    def plain_row_of(self, scope: FigureScope) -> Species | Cultivar | None:
        """Return the row of a scope as it is without the scope's own figures."""
        if scope.tree is not None:
            bare = replace(self, tree_figures={})
            return bare.of_tree(scope.tree)
        row = self.row_of(scope)
        if isinstance(row, Cultivar):
            return self.plain_cultivars.get(row.key, row)
        return self.plain_species.get(scope.species_key, row) if row else None

    def own_rows(self, scope: FigureScope) -> tuple[OwnFigure, ...]:
        """Return the own figures of exactly that scope."""
        if scope.tree is not None:
            return self.tree_figures.get(scope.tree.pk, ())
        wanted = fold_cultivar(scope.cultivar)
        return tuple(
            row
            for (key, name), rows in self.own_figures.items()
            if key == scope.species_key and fold_cultivar(name) == wanted
            for row in rows
        )

    def check(self, scope: FigureScope, said: Iterable[Said]) -> None:
        """Hold all own figures of a scope to the table's checks.

        Raises
        ------
        CatalogueError
            Names the figure that is wrong, by itself or beside another.
        """
        row = self.plain_row_of(scope)
        if isinstance(row, Cultivar):
            check_cultivar(row, said)
        elif row is not None:
            check_species(row, said)

    def chill_of(self, tree: Tree) -> str:
        """Return the cultivar whose chill a tree has, or nothing."""
        said = self.tree_figures.get(tree.pk, ())
        cultivar = self.cultivar(tree.species_key, tree.cultivar)
        if cultivar is None or cultivar.chill_hours_min is None:
            return ""
        is_own = any(each.figure in CHILL for each in said)
        return "" if is_own else cultivar.name

    def with_figures_of(self, species: Species, tree_id: int) -> Species:
        """Return a species with what was said of one tree of it."""
        figures = self.tree_figures.get(tree_id, ())
        return with_own_species(species, map(said_in, figures)) if figures else species


def cultivar_named(cultivars: Iterable[Cultivar], name: str) -> Cultivar | None:
    """Return the one of some cultivars that goes by a name."""
    wanted = fold_cultivar(name)
    if not wanted:
        return None
    for cultivar in cultivars:
        if wanted in cultivar_names(cultivar.name):
            return cultivar
    return None


def bare_catalogue() -> OrchardCatalogue:
    """Return the catalogue as it comes with the program."""
    return OrchardCatalogue(
        species_catalogue(), _by_kind(cultivar_catalogue().values())
    )


def catalogue_of(orchard: Orchard) -> OrchardCatalogue:
    """Return the catalogue of an orchard, in three queries."""
    own_species = {row.key: row for row in orchard.own_species.all()}
    own_cultivars = tuple(orchard.own_cultivars.all())
    of_kinds, of_trees = _figures(orchard.own_figures.select_related("changed_by"))
    plain_species: dict[str, Species] = {}
    plain_cultivars: dict[str, Cultivar] = {}
    return OrchardCatalogue(
        _all_species(own_species.values(), of_kinds, plain_species),
        _all_cultivars(own_cultivars, of_kinds, plain_cultivars),
        own_species,
        own_cultivars,
        of_kinds,
        of_trees,
        plain_species,
        plain_cultivars,
    )


def said_in(row: OwnFigure) -> Said:
    """Return what a row of an own figure says."""
    by = row.changed_by.shown_name if row.changed_by else ""
    return Said(row.figure, row.value, row.source, by, row.changed_on)


def own_key(row: OwnCultivar) -> str:
    """Return the key of an orchard's own cultivar; no key of the table has a dash."""
    return f"own-{row.pk}"


def _figures(
    rows: Iterable[OwnFigure],
) -> tuple[FigureRows, Mapping[int, tuple[OwnFigure, ...]]]:
    kinds: dict[Scope, list[OwnFigure]] = defaultdict(list)
    trees: dict[int, list[OwnFigure]] = defaultdict(list)
    for row in rows:
        if row.tree_id is not None:
            trees[row.tree_id].append(row)
        else:
            kinds[row.species_key, row.cultivar].append(row)
    return (
        {scope: tuple(each) for scope, each in kinds.items()},
        {tree_id: tuple(each) for tree_id, each in trees.items()},
    )


def _all_species(
    own: Iterable[OwnSpecies], figures: FigureRows, plain: dict[str, Species]
) -> Mapping[str, Species]:
    catalogue = species_catalogue()
    kinds = {
        row.key: species_like(
            catalogue[row.like_key],
            (row.key, row.common_name, row.botanical_name),
            row.source,
        )
        for row in own
        if row.like_key in catalogue
    }
    said = {key: rows for (key, cultivar), rows in figures.items() if not cultivar}
    if not kinds and not said:
        return catalogue
    found = {**catalogue, **kinds}
    for key, rows in said.items():
        if key in found:
            plain[key] = found[key]
            found[key] = with_own_species(found[key], map(said_in, rows))
    return found


def _all_cultivars(
    own: Iterable[OwnCultivar], figures: FigureRows, plain: dict[str, Cultivar]
) -> Mapping[str, tuple[Cultivar, ...]]:
    rows = [*filter(None, map(_own_cultivar, own)), *cultivar_catalogue().values()]
    found: dict[str, list[Cultivar]] = defaultdict(list)
    for cultivar in rows:
        before = found[cultivar.species_key]
        if cultivar_named(before, cultivar.name) is None:
            before.append(_with_figures(cultivar, figures, plain))
    return {key: tuple(each) for key, each in found.items()}


def _own_cultivar(row: OwnCultivar) -> Cultivar | None:
    """Return a row as a cultivar; what the table takes no more is left out of it."""
    values = dict(row.values)
    while True:
        try:
            return new_cultivar(
                own_key(row),
                row.species_key,
                row.name,
                values=values,
                source=row.source,
            )
        except CatalogueError as error:
            if values.pop(error.column, None) is None:
                return None


def _with_figures(
    cultivar: Cultivar, figures: FigureRows, plain: dict[str, Cultivar]
) -> Cultivar:
    names = cultivar_names(cultivar.name)
    said = [
        said_in(row)
        for (key, name), rows in figures.items()
        if key == cultivar.species_key and fold_cultivar(name) in names
        for row in rows
        if name
    ]
    if not said:
        return cultivar
    plain[cultivar.key] = cultivar
    return with_own_cultivar(cultivar, said)


def _with_chill(species: Species, cultivar: Cultivar | None) -> Species:
    """Return a species with the chill its cultivar needs, where that is known."""
    if cultivar is None or cultivar.chill_hours_min is None:
        return species
    least, most = cultivar.chill_hours_min, cultivar.chill_hours_max
    origins = cultivar.provenance
    own = {name: origins[name] for name in CHILL if name in origins}
    return replace(
        species,
        chill_hours_min=least,
        chill_hours_max=least if most is None else most,
        provenance={CHILL[1]: origins[CHILL[0]], **species.provenance, **own},
    )


def _by_kind(cultivars: Iterable[Cultivar]) -> Mapping[str, tuple[Cultivar, ...]]:
    found: dict[str, list[Cultivar]] = defaultdict(list)
    for cultivar in cultivars:
        found[cultivar.species_key].append(cultivar)
    return {key: tuple(each) for key, each in found.items()}
