"""The kinds an orchard grows or may grow: the catalogue, with what it knows better."""

from dataclasses import dataclass, field, replace

from care.facts import CultivarFacts, SpeciesFacts
from care.planning.cultivar_facts import cultivar_facts
from care.planning.species_facts import facts_of, species_facts
from orchard.catalogue.of_orchard import OrchardCatalogue, catalogue_of
from orchard.catalogue.species import Species, species_catalogue
from orchard.models import Orchard, Tree


@dataclass(frozen=True, slots=True)
class Kinds:
    """Species and cultivars as facts."""

    all_species: tuple[SpeciesFacts, ...]
    catalogue: OrchardCatalogue
    _of_trees: dict[tuple[str, str, int | None], SpeciesFacts] = field(
        default_factory=dict, repr=False, compare=False
    )

    def species(self, key: str, tree_id: int | None = None) -> SpeciesFacts:
        """Return a species, with the figures of one tree of it where one is named.

        Raises
        ------
        KeyError
            Neither the catalogue nor the orchard has such a species.
        """
        species = self.catalogue.species[key]
        if tree_id is not None:
            species = self.catalogue.with_figures_of(species, tree_id)
        return _facts(species)

    def of_tree(self, tree: Tree) -> SpeciesFacts:
        """Return a tree's species, with its cultivar's chill and its own figures.

        Raises
        ------
        KeyError
            Neither the catalogue nor the orchard has such a species.
        """
        has_own = tree.pk in self.catalogue.tree_figures
        alike = (tree.species_key, tree.cultivar, tree.pk if has_own else None)
        if alike not in self._of_trees:
            species = self.catalogue.of_tree(tree)
            if species is None:
                raise KeyError(tree.species_key)
            chill_of = self.catalogue.chill_of(tree)
            facts = _facts(species)
            self._of_trees[alike] = (
                replace(facts, chill_of=chill_of) if chill_of else facts
            )
        return self._of_trees[alike]

    def cultivar(self, species_key: str, name: str) -> CultivarFacts | None:
        """Return a cultivar by its name, however it is spelt in case and accents."""
        found = self.catalogue.cultivar(species_key, name)
        return None if found is None else cultivar_facts(found)

    def cultivars_of(self, species_key: str) -> tuple[CultivarFacts, ...]:
        """Return the cultivars known of a species."""
        return tuple(map(cultivar_facts, self.catalogue.cultivars_of(species_key)))


def kinds_of(orchard: Orchard) -> Kinds:
    """Return the kinds of an orchard, in three queries."""
    catalogue = catalogue_of(orchard)
    return Kinds(tuple(map(_facts, catalogue.species.values())), catalogue)


def _facts(species: Species) -> SpeciesFacts:
    """Return a species as facts; those of the bare catalogue are reckoned once."""
    if species is species_catalogue().get(species.key):
        return species_facts(species.key)
    return facts_of(species)
