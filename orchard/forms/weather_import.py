"""A station's file: sent once, then carried along signed until it is imported."""

import base64
import zlib
from dataclasses import dataclass

from django import forms
from django.core import signing
from django.core.files.uploadedfile import UploadedFile

from orchard.sources.station_columns import (
    REQUIRED,
    UNITS_OF,
    ColumnChoice,
    ColumnMapping,
    ColumnUnit,
    DateOrder,
    StationQuantity,
)
from orchard.sources.station_table import MAX_BYTES, StationTable

#: What is sent back with each step must stay below what a form may hold (6 MB).
MAX_CARRIED = 5_500_000
CARRIED_SECONDS = 24 * 60 * 60

LABELS = {
    StationQuantity.DATE: "Date",
    StationQuantity.TMIN: "Lowest temperature",
    StationQuantity.TMAX: "Highest temperature",
    StationQuantity.RAIN: "Rain",
    StationQuantity.HUMIDITY: "Humidity",
    StationQuantity.WIND: "Wind",
    StationQuantity.RADIATION: "Sunshine energy",
    StationQuantity.ET0: "Reference evapotranspiration",
}
DATE_ORDERS = [
    ("", "As the dates show"),
    (DateOrder.YEAR_MONTH_DAY.value, "Year, month, day"),
    (DateOrder.DAY_MONTH_YEAR.value, "Day, month, year"),
    (DateOrder.MONTH_DAY_YEAR.value, "Month, day, year"),
]


@dataclass(frozen=True, slots=True)
class CarriedFile:
    """A file's name and bytes between two steps."""

    name: str
    data: bytes

    def signed(self, owner: str) -> str:
        """Return the file as text that only we can have made, for ``owner`` alone."""
        packed = zlib.compress(self.name.encode() + b"\0" + self.data)
        text = base64.urlsafe_b64encode(packed).decode("ascii")
        return _signer(owner).sign(text)

    @classmethod
    def unsigned(cls, text: str, owner: str) -> "CarriedFile":
        """Return the file that :meth:`signed` packed.

        Raises
        ------
        django.core.signing.BadSignature
            It was changed, is another's, or is more than a day old.
        """
        packed = _signer(owner).unsign(text, max_age=CARRIED_SECONDS)
        name, _, data = zlib.decompress(base64.urlsafe_b64decode(packed)).partition(
            b"\0"
        )
        return cls(name.decode(), data)


def _signer(owner: str) -> signing.TimestampSigner:
    return signing.TimestampSigner(salt=f"orchard.weather_import:{owner}")


class UploadForm(forms.Form):
    """The file."""

    file = forms.FileField(
        label="Daily weather file (CSV)",
        allow_empty_file=True,
        help_text=(
            "One row a day with date, lowest and highest temperature and rain; up to "
            f"{MAX_BYTES // 1_000_000} MB. Commas, semicolons or tabs."
        ),
        widget=forms.FileInput(attrs={"accept": ".csv,.txt,.tsv,text/csv,text/plain"}),
        error_messages={"required": "Choose a file first."},
    )

    def clean_file(self) -> "UploadedFile[bytes]":
        """Refuse what cannot be daily weather by its size alone."""
        file: UploadedFile[bytes] = self.cleaned_data["file"]
        if not file.size:
            message = "This file is empty."
            raise forms.ValidationError(message, code="empty")
        if file.size > MAX_BYTES:
            raise forms.ValidationError(too_large(file.size), code="too_large")
        return file


def too_large(size: int) -> str:
    """Return what to tell about a file of ``size`` bytes."""
    return (
        f"This file has {size / 1e6:.0f} MB; daily weather of a hundred years has "
        f"less than {MAX_BYTES // 1_000_000} MB. Send one row a day."
    )


class MappingForm(forms.Form):
    """Which column holds what, in which unit."""

    date_order = forms.ChoiceField(
        label="Dates are written", choices=DATE_ORDERS, required=False
    )

    def __init__(self, *args: object, table: StationTable, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own arguments
        first = table.rows[0].cells
        columns = [
            (str(index), f"{heading} (first: {first[index][:20] or 'empty'})")
            for index, heading in enumerate(table.header)
        ]
        for quantity in StationQuantity:
            needs = quantity in REQUIRED
            none = [("", "Choose a column" if needs else "Not in this file")]
            self.fields[f"column_{quantity}"] = forms.ChoiceField(
                label=LABELS[quantity],
                choices=none + columns,
                required=needs,
                error_messages={"required": "Which column is it?"},
            )
            if len(UNITS_OF[quantity]) > 1:
                self.fields[f"unit_{quantity}"] = forms.ChoiceField(
                    label=f"{LABELS[quantity]} is in",
                    choices=[(unit.value, unit.value) for unit in UNITS_OF[quantity]],
                    required=False,
                )

    @property
    def pairs(self) -> list[tuple[forms.BoundField, forms.BoundField | None]]:
        """Return the boxes of each quantity: its column and, if any, its unit."""
        return [
            (
                self[f"column_{quantity}"],
                self[f"unit_{quantity}"] if f"unit_{quantity}" in self.fields else None,
            )
            for quantity in StationQuantity
        ]

    @property
    def needed_pairs(self) -> list[tuple[forms.BoundField, forms.BoundField | None]]:
        """Return the boxes that every file must fill."""
        return self.pairs[: len(REQUIRED)]

    @property
    def other_pairs(self) -> list[tuple[forms.BoundField, forms.BoundField | None]]:
        """Return the boxes of what some stations measure besides."""
        return self.pairs[len(REQUIRED) :]

    def clean(self) -> dict[str, object]:
        """Refuse one column for two things."""
        cleaned = super().clean() or {}
        used: dict[object, str] = {}
        for quantity in StationQuantity:
            column = cleaned.get(f"column_{quantity}")
            if column and column in used:
                message = f"This column is already {used[column].lower()}."
                self.add_error(f"column_{quantity}", message)
            elif column:
                used[column] = LABELS[quantity]
        return cleaned

    def mapping(self) -> ColumnMapping:
        """Return the choice."""
        columns = {}
        for quantity in StationQuantity:
            column = self.cleaned_data[f"column_{quantity}"]
            if column:
                unit = self.cleaned_data.get(f"unit_{quantity}")
                default = UNITS_OF[quantity][0]
                columns[quantity] = ColumnChoice(
                    int(column), ColumnUnit(unit) if unit else default
                )
        order = self.cleaned_data["date_order"]
        return ColumnMapping(columns, DateOrder(order) if order else None)


def mapping_values(mapping: ColumnMapping) -> dict[str, str]:
    """Return what the boxes show of a mapping, as a browser would send it."""
    values = {"date_order": mapping.date_order.value if mapping.date_order else ""}
    for quantity, choice in mapping.columns.items():
        values[f"column_{quantity}"] = str(choice.index)
        values[f"unit_{quantity}"] = choice.unit.value
    return values
