"""Finding a species, or a cultivar, by what a person wrote."""

import functools
import re
from collections.abc import Iterable, Mapping
from typing import TypeVar

from rapidfuzz import fuzz, process

from orchard.catalogue.common_names import kind_name, names_elsewhere
from orchard.catalogue.cultivars import Cultivar, cultivar_catalogue
from orchard.catalogue.names import cultivar_names, fold, fold_cultivar
from orchard.catalogue.species import Species, species_catalogue

MAX_CLOSE = 3
CLOSENESS = 70.0  # of 100
BEHIND = 10.0  # what is so much less like it than the nearest is not meant
WORD = 4  # letters; a shorter word is like too many
#: Longer texts are no name; comparing them letter by letter takes long.
MAX_LETTERS = 80

#: Keys of an orchard's own kinds begin so; no key of the table has a dash.
OWN_KEY = "own-"

Found = TypeVar("Found")


class Names:
    """The names of species and cultivars, made alike once, to be looked up often."""

    def __init__(
        self, species: Mapping[str, Species], cultivars: Iterable[Cultivar]
    ) -> None:
        self.species = species
        self._names = _names_of(species.values())
        self._cultivars: dict[str, list[Cultivar]] = {}
        for cultivar in cultivars:
            for name in (fold(cultivar.name), *cultivar_names(cultivar.name)):
                known = self._cultivars.setdefault(name, [])
                if cultivar not in known:
                    known.append(cultivar)

    def find(self, text: str) -> list[Species]:
        """Return the species a text may mean; see :func:`find_species`."""
        wanted = fold(text)
        if not wanted:
            return []
        found = _containing(wanted, self._names) or _nearest(wanted, self._names)
        return [self.species[key] for key in dict.fromkeys(found)]

    def named(self, text: str) -> Species | None:
        """Return the one species called so; see :func:`species_named`."""
        keys = self._names.get(fold(text), ())
        own = [key for key in keys if key.startswith(OWN_KEY)]
        named = own if len(own) == 1 else keys
        return self.species[named[0]] if len(named) == 1 else None

    def find_cultivars(self, text: str) -> list[Cultivar]:
        """Return the cultivars a text may mean, likeliest first, as of species."""
        wanted = fold(text)
        if not wanted:
            return []
        found = [
            *self._cultivars.get(fold_cultivar(text), ()),
            *_containing(wanted, self._cultivars),
        ] or _close(wanted, self._cultivars)
        return list({cultivar.key: cultivar for cultivar in found}.values())


def find_species(text: str) -> list[Species]:
    """Return the species a text may mean, likeliest first.

    Case, spaces, accents and plural forms do not matter. Common names, botanical
    names, their parts ("satsuma") and keys count. First those named exactly so, then
    those whose name contains the text; only without either, those whose name the
    text contains ("early peach"), and last those spelt nearly so. An empty text
    finds nothing.
    """
    return catalogue_names().find(text)


def species_named(text: str) -> Species | None:
    """Return the one species that is called exactly so, or ``None``.

    As :func:`find_species`, but a name that two species share, or only a part of a
    name, is not enough.
    """
    return catalogue_names().named(text)


def called(english: str) -> str:
    """Return what a kind of the table is called in the reader's language.

    ``english`` is its name in the table; the name of an orchard's own kind stays.
    """
    return kind_name(_keys().get(english, ""), english)


@functools.cache
def _keys() -> Mapping[str, str]:
    return {each.common_name: each.key for each in species_catalogue().values()}


@functools.cache
def catalogue_names() -> Names:
    """Return the names of the catalogue that comes with the program."""
    return Names(species_catalogue(), cultivar_catalogue().values())


def _containing(wanted: str, names: Mapping[str, Iterable[Found]]) -> list[Found]:
    """Return what is called so, then what holds the text at the start of a word."""
    containing = [
        each
        for name, found in names.items()
        if f" {wanted}" in f" {name}"
        for each in found
    ]
    return [*names.get(wanted, ()), *containing]


def _nearest(wanted: str, names: Mapping[str, tuple[str, ...]]) -> list[str]:
    contained = [name for name in names if f" {name} " in f" {wanted} "]
    longest_first = sorted(contained, key=len, reverse=True)
    return [key for name in longest_first for key in names[name]] or _close(
        wanted, names
    )


def _close(wanted: str, names: Mapping[str, Iterable[Found]]) -> list[Found]:
    """Return what is spelt nearly so, the nearest first: whole names, or their words."""
    words = {word for name in names for word in name.split() if len(word) >= WORD}
    close = process.extract(
        wanted[:MAX_LETTERS],
        sorted(words.union(names)),
        scorer=fuzz.ratio,
        limit=MAX_CLOSE,
        score_cutoff=CLOSENESS,
    )
    nearest = max((score for _near, score, _place in close), default=0.0)
    return [
        each
        for near, score, _place in close
        if score >= nearest - BEHIND
        for name in ([near] if near in names else _holding(near, names))
        for each in names[name]
    ]


def _holding(word: str, names: Iterable[str]) -> list[str]:
    return [name for name in names if word in name.split()]


def _names_of(all_species: Iterable[Species]) -> Mapping[str, tuple[str, ...]]:
    """Return the keys of the species by each folded name they go by."""
    names: dict[str, list[str]] = {}
    for species in all_species:
        whole = (species.key, species.common_name, species.botanical_name)
        parts = [p for name in whole[1:] for p in re.split(r"[(),/]| and ", name)]
        elsewhere = names_elsewhere(species.key)
        for name in dict.fromkeys(fold(each) for each in (*whole, *parts, *elsewhere)):
            if name:
                names.setdefault(name, []).append(species.key)
    return {name: tuple(keys) for name, keys in names.items()}
