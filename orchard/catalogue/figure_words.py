"""The value of a figure as a person reads it: their units, their half of the world."""

from dataclasses import dataclass

from django.utils.translation import gettext, gettext_noop

from orchard.catalogue.cultivars import CULTIVAR_LIMITS
from orchard.catalogue.figure_labels import MONTHS, bloom_words, choice_words
from orchard.catalogue.note_words import note_words
from orchard.catalogue.origins import FigureValue
from orchard.catalogue.species import LIMITS
from orchard.languages import localised, month_name, whole
from orchard.units import Quantity, UnitSystem, format_quantity, unit_label

HALF_YEAR = 6
ALL_LIMITS = LIMITS | CULTIVAR_LIMITS
#: What a figure measures, by the end of its name.
QUANTITIES = {
    "_c": Quantity.TEMPERATURE,
    "_m": Quantity.LENGTH,
    "_l": Quantity.VOLUME,
    "_kg": Quantity.MASS,
    "_g": Quantity.SMALL_MASS,
}
#: What stands behind a plain number.
UNITS = {
    "chill_hours_min": "h",
    "chill_hours_max": "h",
    "days_bloom_to_harvest": gettext_noop("days"),
    "years_to_first_crop": gettext_noop("years"),
}


@dataclass(frozen=True, slots=True)
class Reader:
    """Who reads and types figures: in which units, in which half of the world."""

    units: UnitSystem
    is_southern: bool


def quantity_of(figure: str) -> Quantity | None:
    """Return what a figure measures, or ``None`` for a plain number or a word."""
    if figure not in LIMITS:
        return None
    return QUANTITIES.get(figure[figure.rindex("_") :])


def shifted(month: int, reader: Reader) -> int:
    """Return a northern month as the reader has it, or a reader's as northern."""
    step = HALF_YEAR if reader.is_southern else 0
    return (month + step - 1) % 12 + 1


def month_words(month: int, reader: Reader) -> str:
    """Return the name of a northern month, as the reader has it."""
    return month_name(shifted(month, reader))


def value_words(figure: str, value: FigureValue, reader: Reader) -> str:
    """Return one value of a figure in words, with its unit."""
    if isinstance(value, tuple):
        is_months = figure == "prune_months"
        words = [
            month_words(int(each), reader) if is_months else str(each) for each in value
        ]
        return ", ".join(words)
    if isinstance(value, str):
        return note_words(choice_words(figure, value))
    if figure in MONTHS:
        return month_words(int(value), reader)
    if figure == "bloom":
        return bloom_words(float(value))
    return _number_words(figure, float(value), reader)


def _number_words(figure: str, value: float, reader: Reader) -> str:
    quantity = quantity_of(figure)
    if quantity is None:
        unit = UNITS.get(figure)
        return f"{_plain(value)} {gettext(unit)}" if unit else _plain(value)
    return format_quantity(value, unit_label(quantity, UnitSystem.METRIC), reader.units)


def _plain(value: float) -> str:
    return whole(value) if value == int(value) else localised(f"{value:g}")


def limits_words(figure: str, reader: Reader) -> str:
    """Return the range a number must lie in, in the reader's units, or nothing."""
    limits = ALL_LIMITS.get(figure)
    if limits is None or figure in MONTHS or figure == "bloom":
        return ""
    low, high = (value_words(figure, each, reader) for each in limits)
    return gettext("From {low} to {high}.").format(low=low, high=high)
