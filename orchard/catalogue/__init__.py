"""What is known of species, with sources, and where cities lie: tables in files."""

from orchard.catalogue.cultivars import (
    Cultivar,
    cultivar_catalogue,
    load_cultivars,
)
from orchard.catalogue.origins import Basis, Figure, Provenance
from orchard.catalogue.rows import CatalogueError
from orchard.catalogue.search import find_species, species_named
from orchard.catalogue.species import (
    CATALOGUE_VERSION,
    Species,
    load_species,
    species_catalogue,
)

__all__ = [
    "CATALOGUE_VERSION",
    "Basis",
    "CatalogueError",
    "Cultivar",
    "Figure",
    "Provenance",
    "Species",
    "cultivar_catalogue",
    "find_species",
    "load_cultivars",
    "load_species",
    "species_catalogue",
    "species_named",
]
