"""What an orchard says of its kinds: figures, kinds and cultivars of its own."""

from collections.abc import Mapping
from datetime import date

from django.db import transaction
from django.db.models import F
from django.utils.text import slugify

from orchard.actions.audit import note
from orchard.catalogue.figure_labels import LABELS
from orchard.catalogue.names import fold_cultivar
from orchard.catalogue.of_orchard import (
    FigureScope,
    OrchardCatalogue,
    catalogue_of,
    said_in,
)
from orchard.catalogue.overlay import Said, new_cultivar
from orchard.catalogue.search import OWN_KEY
from orchard.models import (
    Graft,
    NeighbourTree,
    Orchard,
    OwnCultivar,
    OwnFigure,
    OwnSpecies,
    Person,
    Site,
    Tree,
    WantedTree,
)

KEY_LENGTH = 40


class InUseError(Exception):
    """Something that trees are of cannot be removed; ``names`` are theirs."""

    def __init__(self, names: list[str]) -> None:
        super().__init__(", ".join(names))
        self.names = names


@transaction.atomic
def set_figure(
    *,
    orchard: Orchard,
    scope: FigureScope,
    figure: str,
    value: str,
    source: str,
    person: Person,
    today: date,
) -> OwnFigure:
    """Write a figure that goes before the catalogue's.

    Raises
    ------
    CatalogueError
        The table would not take it, by itself or beside the others.
    """
    catalogue = catalogue_of(_locked(orchard))
    others = _others(catalogue, scope, figure)
    catalogue.check(scope, (*others, Said(figure, value, source)))
    before = _stored(orchard, scope, figure)
    row = before or OwnFigure(
        orchard=orchard,
        species_key=scope.species_key,
        cultivar=scope.cultivar,
        tree=scope.tree,
        figure=figure,
    )
    was = {"value": row.value, "source": row.source} if before else {}
    row.value, row.source = value, source
    row.changed_by, row.changed_on = person, today
    row.save()
    _raise_revisions(orchard)
    note(
        orchard=orchard,
        person=person,
        what="own_figure_set",
        subject=_subject(catalogue, scope, figure),
        before=was,
        after={"value": value, "source": source},
    )
    return row


@transaction.atomic
def take_back_figure(
    *, orchard: Orchard, scope: FigureScope, figure: str, person: Person
) -> None:
    """Let the catalogue's figure hold again; nothing happens where it does already.

    Raises
    ------
    CatalogueError
        Another own figure would then contradict the catalogue's.
    """
    catalogue = catalogue_of(_locked(orchard))
    row = _stored(orchard, scope, figure)
    if row is None:
        return
    catalogue.check(scope, _others(catalogue, scope, figure))
    was = {"value": row.value, "source": row.source}
    row.delete()
    _raise_revisions(orchard)
    note(
        orchard=orchard,
        person=person,
        what="own_figure_taken_back",
        subject=_subject(catalogue, scope, figure),
        before=was,
    )


@transaction.atomic
def add_species(
    *, orchard: Orchard, values: Mapping[str, str], person: Person
) -> OwnSpecies:
    """Add a kind the catalogue does not have; ``values`` are the model's fields."""
    row = OwnSpecies.objects.create(
        orchard=orchard, key=_free_key(orchard, values["common_name"]), **values
    )
    _raise_revisions(orchard)
    note(
        orchard=orchard,
        person=person,
        what="own_kind_added",
        subject=row.common_name,
        after=dict(values),
    )
    return row


@transaction.atomic
def remove_species(*, orchard: Orchard, row: OwnSpecies, person: Person) -> None:
    """Remove a kind of one's own, with what was said of it.

    Raises
    ------
    InUseError
        Trees, wanted ones, grafts or neighbours' trees are of it.
    """
    used = trees_of(_locked(orchard), row.key)
    if used:
        raise InUseError(used)
    orchard.own_figures.filter(species_key=row.key).delete()
    orchard.own_cultivars.filter(species_key=row.key).delete()
    row.delete()
    _raise_revisions(orchard)
    note(
        orchard=orchard,
        person=person,
        what="own_kind_removed",
        subject=row.common_name,
        before={"botanical_name": row.botanical_name, "like": row.like_key},
    )


@transaction.atomic
def add_cultivar(
    *,
    orchard: Orchard,
    species_key: str,
    name: str,
    values: Mapping[str, str],
    source: str,
    person: Person,
) -> OwnCultivar:
    """Add a cultivar the catalogue does not have; ``values`` are texts of its table.

    Raises
    ------
    CatalogueError
        The table would not take them.
    """
    new_cultivar("own", species_key, name, values=values, source=source)
    row = OwnCultivar.objects.create(
        orchard=orchard,
        species_key=species_key,
        name=name,
        values=dict(values),
        source=source,
    )
    _raise_revisions(orchard)
    note(
        orchard=orchard,
        person=person,
        what="own_cultivar_added",
        subject=name,
        after={**values, "source": source},
    )
    return row


@transaction.atomic
def remove_cultivar(*, orchard: Orchard, row: OwnCultivar, person: Person) -> None:
    """Remove a cultivar of one's own, with what was said of it.

    Raises
    ------
    InUseError
        Trees, wanted ones, grafts or neighbours' trees are of it.
    """
    used = trees_of(_locked(orchard), row.species_key, row.name)
    if used:
        raise InUseError(used)
    for figure in orchard.own_figures.filter(species_key=row.species_key, tree=None):
        if fold_cultivar(figure.cultivar) == fold_cultivar(row.name):
            figure.delete()
    row.delete()
    _raise_revisions(orchard)
    note(
        orchard=orchard,
        person=person,
        what="own_cultivar_removed",
        subject=row.name,
        before=dict(row.values),
    )


def trees_of(orchard: Orchard, species_key: str, cultivar: str = "") -> list[str]:
    """Return the names of all trees of a kind or cultivar, gone ones too."""
    of_kind = {"species_key": species_key}
    rows: list[tuple[str, str]] = [
        *Tree.objects.filter(site__orchard=orchard, **of_kind).values_list(
            "name", "cultivar"
        ),
        *WantedTree.objects.filter(
            planting__site__orchard=orchard, tree=None, **of_kind
        ).values_list("name", "cultivar"),
        *Graft.objects.filter(tree__site__orchard=orchard, **of_kind).values_list(
            "tree__name", "cultivar"
        ),
        *(
            (str(tree), tree.cultivar)
            for tree in NeighbourTree.objects.filter(site__orchard=orchard, **of_kind)
        ),
    ]
    wanted = fold_cultivar(cultivar)
    names = (name for name, its in rows if not wanted or fold_cultivar(its) == wanted)
    return list(dict.fromkeys(names))


def _locked(orchard: Orchard) -> Orchard:
    """Return the orchard's row, so that two figures of a pair are not typed at once."""
    return Orchard.objects.select_for_update().get(pk=orchard.pk)


def _raise_revisions(orchard: Orchard) -> None:
    """Say of every place that its plan may rest on another figure now."""
    Site.objects.filter(orchard=orchard).update(revision=F("revision") + 1)


def _stored(orchard: Orchard, scope: FigureScope, figure: str) -> OwnFigure | None:
    rows = orchard.own_figures.filter(figure=figure)
    if scope.tree is not None:
        return rows.filter(tree=scope.tree).first()
    return rows.filter(
        tree=None, species_key=scope.species_key, cultivar=scope.cultivar
    ).first()


def _others(
    catalogue: OrchardCatalogue, scope: FigureScope, figure: str
) -> tuple[Said, ...]:
    rows = catalogue.own_rows(scope)
    return tuple(said_in(row) for row in rows if row.figure != figure)


def _subject(catalogue: OrchardCatalogue, scope: FigureScope, figure: str) -> str:
    species = catalogue.species.get(scope.species_key)
    kind = species.common_name if species else scope.species_key
    whose = (
        scope.tree.name
        if scope.tree
        else " ".join(filter(None, (kind, scope.cultivar)))
    )
    return f"{whose}: {LABELS[figure]}"


def _free_key(orchard: Orchard, name: str) -> str:
    """Return a key that no kind has; those of the table have no dash."""
    taken = set(orchard.own_species.values_list("key", flat=True))
    stem = f"{OWN_KEY}{slugify(name) or 'kind'}"[: KEY_LENGTH - 4].rstrip("-")
    key, number = stem, 2
    while key in taken:
        key, number = f"{stem}-{number}", number + 1
    return key
