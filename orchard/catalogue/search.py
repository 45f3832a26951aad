"""Finding a species by what a person wrote."""

import difflib
import functools
import re
from collections.abc import Mapping

from orchard.catalogue.names import fold
from orchard.catalogue.species import Species, species_catalogue

MAX_CLOSE = 3
CLOSENESS = 0.7
#: Longer texts are no name; comparing them letter by letter would take seconds.
MAX_LETTERS = 80


def find_species(text: str) -> list[Species]:
    """Return the species a text may mean, likeliest first.

    Case, spaces, accents and plural forms do not matter. Common names, botanical
    names, their parts ("satsuma") and keys count. First those named exactly so, then
    those whose name contains the text; only without either, those whose name the
    text contains ("early peach"), and last those spelt nearly so. An empty text
    finds nothing.
    """
    wanted = fold(text)
    if not wanted:
        return []
    catalogue = species_catalogue()
    names = _names()
    exact = names.get(wanted, ())
    containing = [
        key
        for name, keys in names.items()
        if f" {wanted}" in f" {name}"
        for key in keys
    ]
    found = [*exact, *containing] or _nearest(wanted, names)
    return [catalogue[key] for key in dict.fromkeys(found)]


def species_named(text: str) -> Species | None:
    """Return the one species that is called exactly so, or ``None``.

    As :func:`find_species`, but a name that two species share, or only a part of a
    name, is not enough.
    """
    keys = _names().get(fold(text), ())
    return species_catalogue()[keys[0]] if len(keys) == 1 else None


def _nearest(wanted: str, names: Mapping[str, tuple[str, ...]]) -> list[str]:
    contained = [name for name in names if f" {name} " in f" {wanted} "]
    longest_first = sorted(contained, key=len, reverse=True)
    close = longest_first or difflib.get_close_matches(
        wanted[:MAX_LETTERS], names, MAX_CLOSE, CLOSENESS
    )
    return [key for name in close for key in names[name]]


@functools.cache
def _names() -> Mapping[str, tuple[str, ...]]:
    """Return the keys of the species by each folded name they go by."""
    names: dict[str, list[str]] = {}
    for species in species_catalogue().values():
        whole = (species.key, species.common_name, species.botanical_name)
        parts = [p for name in whole[1:] for p in re.split(r"[(),/]| and ", name)]
        for name in dict.fromkeys(fold(each) for each in (*whole, *parts)):
            if name:
                names.setdefault(name, []).append(species.key)
    return {name: tuple(keys) for name, keys in names.items()}
