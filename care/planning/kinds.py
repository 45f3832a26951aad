"""The kinds an orchard grows or may grow: the catalogue, with what it knows better."""

from dataclasses import dataclass, field

from care.facts import CultivarFacts, SpeciesFacts
from care.planning.cultivar_facts import cultivar_facts
from care.planning.species_facts import species_facts
from orchard.catalogue import species_catalogue
from orchard.catalogue.cultivars import cultivar_catalogue
from orchard.catalogue.names import cultivar_names, fold_cultivar
from orchard.models import Orchard


@dataclass(frozen=True, slots=True)
class Kinds:
    """Species and cultivars as facts."""

    all_species: tuple[SpeciesFacts, ...]
    _cultivars: dict[str, tuple[CultivarFacts, ...]] = field(
        default_factory=dict, repr=False
    )

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
        wanted = fold_cultivar(name)
        return next(
            (
                cultivar
                for cultivar in self.cultivars_of(species_key)
                if wanted in cultivar_names(cultivar.name)
            ),
            None,
        )

    def cultivars_of(self, species_key: str) -> tuple[CultivarFacts, ...]:
        """Return the cultivars known of a species."""
        return self._cultivars.get(species_key, ())


def kinds_of(orchard: Orchard) -> Kinds:
    """Return the kinds of an orchard, in a constant number of queries."""
    del orchard
    cultivars: dict[str, tuple[CultivarFacts, ...]] = {}
    for row in cultivar_catalogue().values():
        facts = cultivar_facts(row)
        cultivars[row.species_key] = (*cultivars.get(row.species_key, ()), facts)
    return Kinds(tuple(species_facts(key) for key in species_catalogue()), cultivars)
