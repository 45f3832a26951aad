"""What is known of species, with sources, and where cities lie: tables in files."""

from orchard.catalogue.rows import CatalogueError
from orchard.catalogue.search import find_species, species_named
from orchard.catalogue.species import (
    CATALOGUE_VERSION,
    Basis,
    Figure,
    Species,
    load_species,
    species_catalogue,
)

__all__ = [
    "CATALOGUE_VERSION",
    "Basis",
    "CatalogueError",
    "Figure",
    "Species",
    "find_species",
    "load_species",
    "species_catalogue",
    "species_named",
]
