"""Names as people write them, made alike: case, accents, plurals do not matter."""

import re
import unicodedata

_APOSTROPHES = dict.fromkeys(map(ord, "'`\u2018\u2019\u2032"))


def fold(text: str) -> str:
    """Return a name without case, accents, apostrophes, plural forms and marks."""
    plain = unicodedata.normalize("NFKD", text).casefold().translate(_APOSTROPHES)
    letters = "".join(c for c in plain if not unicodedata.combining(c))
    words = re.findall(r"[^\W_]+", letters)
    # The x of a hybrid ("Citrus x sinensis") is written or left out at will.
    return " ".join(_singular(word) for word in words if word not in {"x", "syn"})


def fold_cultivar(name: str) -> str:
    """Return the name of a cultivar folded, spaces left out as well."""
    return fold(name).replace(" ", "")


def cultivar_names(name: str) -> tuple[str, ...]:
    """Return the folded names a cultivar goes by: whole, and without its brackets."""
    return tuple(
        dict.fromkeys(
            (fold_cultivar(name), fold_cultivar(re.sub(r"\(.*?\)", "", name)))
        )
    )


def _singular(word: str) -> str:
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("ches", "shes")):
        return word[:-2]
    if word.endswith("s") and not word.endswith("ss"):
        return word[:-1]
    return word
