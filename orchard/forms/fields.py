"""Form fields that speak the reader's units and accept what people type."""

import calendar
import re
from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from django import forms
from django.core.exceptions import ValidationError
from django.utils.dates import MONTHS
from django.utils.text import format_lazy
from django.utils.translation import gettext, gettext_lazy

from orchard.languages import Words, localised
from orchard.units import (
    Quantity,
    UnitError,
    UnitSystem,
    format_quantity,
    from_si,
    parse_number,
    parse_quantity,
    unit_label,
)

MONTH_CHOICES = list(MONTHS.items())
LEAP_YEAR = 2000
_MOST_LETTERS = 30
_YEAR = re.compile(r"\d{4}", re.ASCII)
_YEAR_MONTH = re.compile(r"(\d{4})[-./ ](\d{1,2})", re.ASCII)
_YEAR_MONTH_DAY = re.compile(r"(\d{4})[-./ ](\d{1,2})[-./ ](\d{1,2})", re.ASCII)
#: A month's name in English or in the reader's language, as in "marzo de 2024".
_MONTH_NAME_YEAR = re.compile(r"([A-Za-z]{3,10})\.?(?: de)? (\d{4})", re.ASCII)


def _number_box(low: float) -> forms.TextInput:
    """Return a box for a number; keypads of some phones have no minus sign."""
    box = forms.TextInput(attrs={"autocomplete": "off"})
    if low >= 0:
        box.attrs["inputmode"] = "decimal"
    return box


class QuantityField(forms.CharField):
    """An amount, typed and shown in the reader's units and cleaned to SI.

    ``low`` and ``high`` are SI bounds. ``10 gal`` is understood by a metric reader
    too: a unit that is written always counts.
    """

    def __init__(
        self,
        quantity: Quantity,
        *,
        low: float,
        high: float,
        label: Words,
        help_text: Words = "",
        required: bool = False,
    ) -> None:
        super().__init__(
            label=label,
            help_text=help_text,
            required=required,
            widget=_number_box(low),
            max_length=_MOST_LETTERS,
        )
        self.quantity = quantity
        self.low, self.high = low, high
        self.system = UnitSystem.METRIC

    @property
    def unit(self) -> str:
        """The sign of the unit that a bare number is read in."""
        return unit_label(self.quantity, self.system)

    def to_python(self, value: object) -> float | None:  # type: ignore[override]  # cleans to a number
        """Return the typed text in SI units."""
        text = str(value or "").strip()
        if not text:
            return None
        try:
            return parse_quantity(text, self.quantity, self.system)
        except UnitError as error:
            raise ValidationError(str(error), code="invalid") from error

    def run_validators(self, value: object) -> None:
        """Check the bounds; the letters were checked by reading the number."""
        if not isinstance(value, float) or self.low <= value <= self.high:
            return
        low, high = self._shown(self.low), self._shown(self.high)
        message = gettext(
            "{value} cannot be right: it must be from {low} to {high}. If you "
            "measured in another unit, write it behind the number."
        ).format(value=self._shown(value), low=low, high=high)
        raise ValidationError(message, code="bounds")

    def _shown(self, value: float) -> str:
        si_unit = unit_label(self.quantity, UnitSystem.METRIC)
        if self.quantity is Quantity.TEMPERATURE_STEP:
            return f"{self.prepare_value(value)} {self.unit}"
        return format_quantity(value, si_unit, self.system)

    def prepare_value(self, value: object) -> object:
        """Return a stored amount as the text of the box; typed text stays as it is."""
        if not isinstance(value, int | float):
            return value
        shown = f"{from_si(value, self.quantity, self.system):.2f}"
        return localised(shown.rstrip("0").rstrip("."))

    def has_changed(self, initial: object, data: object) -> bool:
        """Whether the text differs from what the box showed at first."""
        return str(self.prepare_value(initial) or "") != str(data or "").strip()


class NumberField(forms.CharField):
    """A plain number; a comma may be the decimal sign."""

    def __init__(
        self,
        *,
        low: float,
        high: float,
        label: Words,
        unit: Words = "",
        help_text: Words = "",
        required: bool = True,
    ) -> None:
        super().__init__(
            label=label,
            help_text=help_text,
            required=required,
            widget=_number_box(low),
            max_length=_MOST_LETTERS,
        )
        self.unit = unit
        self.low, self.high = low, high

    def to_python(self, value: object) -> float | None:  # type: ignore[override]  # cleans to a number
        """Return the typed number."""
        text = str(value or "").strip().removesuffix(str(self.unit) or "\0").strip()
        if not text:
            return None
        try:
            return parse_number(text, largest=self.high)
        except UnitError as error:
            raise ValidationError(str(error), code="invalid") from error

    def run_validators(self, value: object) -> None:
        """Check the bounds."""
        if isinstance(value, float) and not self.low <= value <= self.high:
            message = gettext("Write a number from {low} to {high}.").format(
                low=localised(f"{self.low:g}"), high=localised(f"{self.high:g}")
            )
            raise ValidationError(message, code="bounds")

    def prepare_value(self, value: object) -> object:
        """Return a stored number without needless zeros."""
        is_number = isinstance(value, int | float)
        if not is_number:
            return value
        # Whoever writes a number into a box writes no powers of ten.
        return localised(f"{Decimal(f'{value:.10g}'):f}")


class UnitsForm(forms.Form):
    """A form whose quantities are in one person's units.

    A quantity that was not touched keeps its stored value exactly, however it was
    rounded for showing.
    """

    def __init__(self, *args: object, units: UnitSystem, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own arguments
        self.units = units
        for field in self.fields.values():
            if isinstance(field, QuantityField):
                field.system = units

    def clean(self) -> dict[str, object]:
        """Put back the exact amounts of quantities that nobody changed."""
        cleaned = super().clean() or {}
        for name, field in self.fields.items():
            is_kept = name in self.initial and name not in self.changed_data
            if isinstance(field, QuantityField) and name in cleaned and is_kept:
                cleaned[name] = self.initial[name]
        return cleaned


def day_field(
    *, label: Words, help_text: Words = "", required: bool = False
) -> forms.DateField:
    """Return a field for one day, picked from a calendar where a browser has one."""
    return forms.DateField(
        label=label,
        help_text=help_text,
        required=required,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        input_formats=["%Y-%m-%d"],
        error_messages={
            "invalid": gettext_lazy("Write the day as year-month-day: 2024-03-15.")
        },
    )


def read_past_day(text: str) -> date:
    """Return the day a person means by a day, a month or a year.

    ``2024-03-15``, ``2024-03``, ``March 2024`` and ``2024`` are read; a month or a
    year counts from its first day.

    Raises
    ------
    ValueError
        When the text is none of these, or no such day exists.
    """
    plain = " ".join(text.split())
    if _YEAR.fullmatch(plain):
        return date(int(plain), 1, 1)
    if found := _YEAR_MONTH_DAY.fullmatch(plain):
        return date(int(found[1]), int(found[2]), int(found[3]))
    if found := _YEAR_MONTH.fullmatch(plain):
        return date(int(found[1]), int(found[2]), 1)
    if found := _MONTH_NAME_YEAR.fullmatch(plain):
        return date(int(found[2]), _month_named(found[1]), 1)
    message = gettext("“{plain}” is not a day, a month or a year").format(
        plain=plain[:_MOST_LETTERS]
    )
    raise ValueError(message)


def _month_named(word: str) -> int:
    for number, name in MONTH_CHOICES:
        names = (str(name), calendar.month_name[number])
        if any(each.casefold().startswith(word.casefold()) for each in names):
            return number
    message = gettext("“{word}” is not a month").format(word=word)
    raise ValueError(message)


class DayOfYearWidget(forms.MultiWidget):
    """A month to choose and a day to type, side by side."""

    def __init__(self, label: Words) -> None:
        months: list[tuple[object, Words]] = [
            ("", gettext_lazy("Month")),
            *MONTH_CHOICES,
        ]
        super().__init__(
            widgets=[
                forms.Select(
                    choices=months,
                    attrs={
                        "aria-label": format_lazy(
                            gettext_lazy("{label}: month"), label=label
                        )
                    },
                ),
                forms.TextInput(
                    attrs={
                        "inputmode": "numeric",
                        "placeholder": gettext_lazy("Day"),
                        "aria-label": format_lazy(
                            gettext_lazy("{label}: day"), label=label
                        ),
                        "maxlength": "2",
                    }
                ),
            ]
        )

    def decompress(self, value: object) -> list[object]:
        """Split (month, day) onto the two boxes."""
        return list(value) if isinstance(value, tuple) else [None, None]


class DayOfYearField(forms.MultiValueField):
    """A day of any year, cleaned to (month, day), or ``None`` where left empty."""

    is_row = True  # its two boxes stand side by side

    def __init__(self, *, label: Words, help_text: Words = "") -> None:
        super().__init__(
            fields=(
                forms.TypedChoiceField(coerce=int, choices=MONTH_CHOICES),
                forms.IntegerField(),
            ),
            widget=DayOfYearWidget(label),
            label=label,
            help_text=help_text,
            required=False,
            require_all_fields=False,
        )

    def clean(self, value: object) -> tuple[int, int] | None:
        """Return the month and day, if both are there and such a day exists."""
        parts = list(value) if isinstance(value, list | tuple) else []
        month, day = (str(part or "").strip() for part in (*parts, "", "")[:2])
        if not month and not day:
            return None
        if not (month.isdecimal() and day.isdecimal()):
            message = gettext("Choose the month and write the day as a number.")
            raise ValidationError(message, code="invalid")
        try:
            date(LEAP_YEAR, int(month), int(day))
        except ValueError:
            message = gettext("There is no such day in that month.")
            raise ValidationError(message, code="invalid") from None
        return int(month), int(day)

    def compress(self, data_list: Sequence[object]) -> object:
        """Not used: :meth:`clean` reads both boxes itself."""
        return tuple(data_list)
