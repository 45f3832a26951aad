"""A kind of plant by the name a person typed."""

from django import forms

from orchard.catalogue.search import Names

SUGGESTED = 3


def read_kind(text: str, names: Names) -> str:
    """Return the key of the species called so, as the orchard knows it.

    Raises
    ------
    ValidationError
        None is called so; the closest are named.
    """
    text = text.strip()
    found = names.named(text)
    if found is not None:
        return found.key
    close = [species.common_name for species in names.find(text)[:SUGGESTED]]
    if close:
        message = f"“{text}” is not in the list. Did you mean {_either(close)}?"
    else:
        message = (
            f"“{text}” is not in the list of species. Write its common or "
            "botanical name, or the closest relative."
        )
    raise forms.ValidationError(message, code="unknown")


def _either(names: list[str]) -> str:
    if len(names) == 1:
        return names[0]
    return f"{', '.join(names[:-1])} or {names[-1]}"
