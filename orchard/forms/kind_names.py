"""A kind of plant by the name a person typed."""

from django import forms
from django.utils.translation import gettext

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
    close = [species.shown_name for species in names.find(text)[:SUGGESTED]]
    if close:
        message = gettext("“{text}” is not in the list. Did you mean {names}?").format(
            text=text, names=either(close)
        )
    else:
        message = gettext(
            "“{text}” is not in the list of species. Write its common or "
            "botanical name, or the closest relative."
        ).format(text=text)
    raise forms.ValidationError(message, code="unknown")


def either(names: list[str]) -> str:
    """Return names to choose from, such as ``apple, pear or plum``."""
    if len(names) == 1:
        return names[0]
    return gettext("{names} or {last}").format(
        names=", ".join(names[:-1]), last=names[-1]
    )
