"""A box for each figure of the catalogue: what may be typed, and what it is stored as.

A figure is stored as a text as in the catalogue's table: SI units, northern months.
"""

from collections.abc import Callable

from django import forms
from django.utils.translation import gettext

from orchard.catalogue.cultivars import FLOWER_TYPES
from orchard.catalogue.figure_labels import (
    BLOOM_WORDS,
    CHOICES,
    MONTHS,
    bloom_words,
    choice_words,
)
from orchard.catalogue.figure_words import (
    ALL_LIMITS,
    UNITS,
    Reader,
    limits_words,
    quantity_of,
    shifted,
)
from orchard.forms.fields import MONTH_CHOICES, NumberField, QuantityField
from orchard.languages import Words
from orchard.units import Quantity

MAX_TEXT = 200
NAMES = ("partners", "not_partners")


def figure_field(
    figure: str, label: Words, reader: Reader, *, species_key: str, required: bool
) -> forms.Field:
    """Return the box for one figure, named ``label``."""
    kind = _kind(figure)
    field = _MAKERS[kind](figure, reader, species_key)
    field.label = label
    field.required = required
    if kind == "choice" and isinstance(field, forms.ChoiceField) and not required:
        field.choices = [("", gettext("Nothing known")), *_choices(figure, species_key)]
    if isinstance(field, QuantityField):
        field.system = reader.units
    return field


def stored_text(figure: str, value: object, reader: Reader) -> str:
    """Return a cleaned value as the table writes it; nothing as an empty text."""
    if value in (None, "", []):
        return ""
    if figure in MONTHS:
        return str(shifted(int(str(value)), reader))
    if isinstance(value, list):
        return ";".join(map(str, sorted(shifted(int(each), reader) for each in value)))
    if isinstance(value, float):
        return f"{round(value, 4):.10g}"
    if figure in NAMES:
        return ";".join(part.strip() for part in str(value).split(",") if part.strip())
    return str(value).strip()


def box_value(figure: str, text: str, reader: Reader) -> object:
    """Return what the box shows of a stored text."""
    if not text:
        return ""
    if figure in MONTHS:
        return str(shifted(int(text), reader))
    if figure == "prune_months":
        return [str(shifted(int(each), reader)) for each in text.split(";")]
    if figure in NAMES:
        return ", ".join(text.split(";"))
    return float(text) if figure in ALL_LIMITS and figure != "bloom" else text


def _kind(figure: str) -> str:
    if figure in CHOICES or figure in MONTHS or figure == "bloom":
        return "choice"
    if figure == "prune_months":
        return "months"
    if quantity_of(figure) is not None:
        return "quantity"
    return "number" if figure in ALL_LIMITS else "text"


def _choices(figure: str, species_key: str) -> list[tuple[str, str]]:
    if figure in MONTHS:
        return [(str(number), str(name)) for number, name in MONTH_CHOICES]
    if figure == "bloom":
        halves = sorted({each + half for each in BLOOM_WORDS for half in (0.0, 0.5)})
        return [
            (f"{each:g}", bloom_words(each))
            for each in halves
            if each <= max(BLOOM_WORDS)
        ]
    words = CHOICES[figure]
    fitting = FLOWER_TYPES.get(species_key, ()) if figure == "flower_type" else words
    return [
        (str(value), choice_words(figure, value)) for value in words if value in fitting
    ]


def _choice(figure: str, reader: Reader, species_key: str) -> forms.Field:
    del reader
    return forms.ChoiceField(choices=_choices(figure, species_key))


def _months(figure: str, reader: Reader, species_key: str) -> forms.Field:
    del figure, reader, species_key
    return forms.MultipleChoiceField(
        choices=[(str(number), str(name)) for number, name in MONTH_CHOICES],
        widget=forms.CheckboxSelectMultiple,
    )


def _quantity(figure: str, reader: Reader, species_key: str) -> forms.Field:
    del species_key
    quantity = quantity_of(figure)
    low, high = ALL_LIMITS[figure]
    return QuantityField(
        quantity or Quantity.LENGTH,
        low=low,
        high=high,
        label="",
        help_text=limits_words(figure, reader),
    )


def _number(figure: str, reader: Reader, species_key: str) -> forms.Field:
    del species_key
    low, high = ALL_LIMITS[figure]
    return NumberField(
        low=low,
        high=high,
        label="",
        unit=gettext(UNITS[figure]) if figure in UNITS else "",
        help_text=limits_words(figure, reader),
    )


def _text(figure: str, reader: Reader, species_key: str) -> forms.Field:
    del reader, species_key
    hints = {
        "usda_zone_min": gettext("Such as 7b."),
        "usda_zone_max": gettext("Such as 10a."),
    }
    hints |= dict.fromkeys(NAMES, gettext("Names of cultivars, split by commas."))
    return forms.CharField(max_length=MAX_TEXT, help_text=hints.get(figure, ""))


_MAKERS: dict[str, Callable[[str, Reader, str], forms.Field]] = {
    "choice": _choice,
    "months": _months,
    "quantity": _quantity,
    "number": _number,
    "text": _text,
}
