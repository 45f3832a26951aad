"""Texts in other languages: ``python -m deploy.translations update|compile|missing``.

``update`` collects every marked text and keeps what is translated; ``compile`` makes
what the program reads; ``missing`` lists what still has no translation.
"""

import re
import string
import sys
from collections.abc import Iterator
from functools import cache
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).resolve().parent.parent
LANGUAGES = ("es",)
FOLDERS = ("orchard", "care", "deploy")
LINE_WIDTH = 88
KEYWORDS: dict[str, tuple[int | tuple[int, str], ...] | None] = {
    "gettext": None,
    "gettext_lazy": None,
    "gettext_noop": None,
    "_": None,
    "ngettext": (1, 2),
    "ngettext_lazy": (1, 2),
    "pgettext": ((1, "c"), 2),
    "pgettext_lazy": ((1, "c"), 2),
    "npgettext": ((1, "c"), 2, 3),
}


def po_file(language: str) -> Path:
    """Return the file that people translate in."""
    return ROOT / "locale" / language / "LC_MESSAGES" / "django.po"


def sources() -> Iterator[tuple[Path, str]]:
    """Return every file that may hold marked texts, and it as Python reads it."""
    from django.utils.translation.template import templatize

    for folder in FOLDERS:
        for path in sorted((ROOT / folder).rglob("*.py")):
            if "migrations" not in path.parts:
                yield path, path.read_text()
    for path in sorted((ROOT / "templates").rglob("*.[ht]*")):
        code = templatize(path.read_text(), origin=str(path))
        # What is left of the page's own indentation means nothing to Python.
        yield path, "\n".join(line.lstrip() for line in code.splitlines())


@cache
def collected() -> Catalog:
    """Return every marked text of the program, untranslated."""
    catalog = Catalog(charset="utf-8")
    for _, code in sources():
        for _, texts, _, context in extract(
            "python", BytesIO(code.encode()), keywords=KEYWORDS
        ):
            if texts:
                catalog.add(texts, context=context)
    return catalog


def stored(language: str) -> Catalog:
    """Return what is translated into a language so far."""
    with po_file(language).open("rb") as file:
        return read_po(file, locale=language, domain="django")


def update(language: str) -> None:
    """Collect the marked texts anew; what is no longer used goes."""
    catalog = stored(language)
    catalog.update(collected(), no_fuzzy_matching=True, update_header_comment=False)
    catalog.obsolete.clear()
    with po_file(language).open("wb") as file:
        write_po(
            file,
            catalog,
            width=LINE_WIDTH,
            no_location=True,
            omit_header=False,
            sort_output=True,
        )


def compile_language(language: str) -> None:
    """Make the file that the program reads."""
    made = po_file(language).with_suffix(".mo")
    with made.open("wb") as file:
        write_mo(file, stored(language))


def translations(message: Message) -> tuple[str, ...]:
    """Return a text's translations: one, or one a plural form."""
    said = message.string
    return (said,) if isinstance(said, str) else tuple(said or ("",))


def originals(message: Message) -> tuple[str, ...]:
    """Return a text as it is written: once, or as singular and plural."""
    return (message.id,) if isinstance(message.id, str) else tuple(message.id)


def placeholders(text: str) -> set[str]:
    """Return the names a text leaves open, in either way of writing them."""
    named = set(re.findall(r"%\((\w+)\)s", text))
    if named:
        return named
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


def missing(language: str) -> list[str]:
    """Return the marked texts that have no translation."""
    known = stored(language)
    found = []
    for message in collected():
        if not message.id:
            continue
        kept = known.get(originals(message)[0], message.context)
        if kept is None or kept.fuzzy or not all(translations(kept)):
            found.append(originals(message)[0])
    return sorted(found)


def main(command: str) -> int:
    """Do what the command line asks; return its exit code."""
    known = {"update": update, "compile": compile_language}
    if command == "missing":
        found = [text for language in LANGUAGES for text in missing(language)]
        sys.stdout.write("".join(f"{text!r}\n" for text in found))
        return 1 if found else 0
    for language in LANGUAGES:
        known[command](language)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
