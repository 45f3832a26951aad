"""What kinds are called in other languages than the table's own, which is English.

The names are common knowledge of growers, written from memory; the botanical name
beside each is what a kind is known by.
"""

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from django.utils.translation import get_language

from orchard.catalogue.rows import read_rows

FOLDER = Path(__file__).parent
#: The languages that have a table of names, and its file.
FILES = {"es": "names_es.csv"}
_COLUMNS = ("key", "name", "other_names")


@dataclass(frozen=True, slots=True)
class KindNames:
    """What a kind is called in one language; ``others`` are found, never shown."""

    name: str
    others: tuple[str, ...]

    @property
    def every(self) -> tuple[str, ...]:
        """All names, the one that is shown first."""
        return (self.name, *self.others)


@functools.cache
def names_in(language: str) -> Mapping[str, KindNames]:
    """Return the names of kinds in a language, by key; none where it has no table.

    Raises
    ------
    CatalogueError
        A row is broken, or a kind stands in the table twice.
    """
    if language not in FILES:
        return MappingProxyType({})
    found: dict[str, KindNames] = {}
    for row in read_rows(FOLDER / FILES[language], _COLUMNS):
        key = row.text("key")
        if key in found:
            row.refuse("key", f"{key!r} appears twice")
        others = row.optional_text("other_names").split(";")
        found[key] = KindNames(row.text("name"), tuple(filter(None, others)))
    return MappingProxyType(found)


def kind_name(key: str, english: str) -> str:
    """Return what a kind is called in the reader's language.

    ``english`` is its name in the table, or what an orchard calls a kind of its own.
    """
    known = names_in((get_language() or "en")[:2]).get(key)
    return known.name if known else english


def names_elsewhere(key: str) -> tuple[str, ...]:
    """Return what a kind is called in all languages but the table's own."""
    tables = (names_in(language).get(key) for language in FILES)
    return tuple(name for names in tables if names for name in names.every)
