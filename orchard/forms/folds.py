"""Boxes of a form offered together, folded away, with why they matter."""

from collections.abc import Sequence
from dataclasses import dataclass

from django import forms
from django.forms import BoundField
from django.utils.text import slugify

from orchard.languages import Words, in_language

FoldNames = tuple[Words, Words, tuple[str, ...]]  # title, why, fields


@dataclass(frozen=True, slots=True)
class Fold:
    """Fields offered together; what holds an error is unfolded."""

    title: Words
    why: Words
    fields: tuple[BoundField, ...]
    is_open: bool

    @property
    def key(self) -> str:
        """What a link to it ends in."""
        return _key(self.title)


def _key(title: Words) -> str:
    # Links are the same in every language.
    with in_language("en"):
        return slugify(str(title))


def folds_of(
    form: forms.Form, folds: Sequence[FoldNames], *, opened: str = ""
) -> tuple[Fold, ...]:
    """Return the folds of a form; fields that it lacks are left out.

    ``opened`` is the key of one that is unfolded at first.
    """
    return tuple(
        Fold(
            title,
            why,
            tuple(form[name] for name in names if name in form.fields),
            _key(title) == opened
            or (form.is_bound and any(name in form.errors for name in names)),
        )
        for title, why, names in folds
    )
