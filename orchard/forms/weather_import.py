"""A station's file: sent once, then carried along signed until it is imported."""

import base64
import zlib
from dataclasses import dataclass, replace

from django import forms
from django.core import signing
from django.core.files.uploadedfile import UploadedFile
from django.utils.text import format_lazy
from django.utils.translation import gettext, gettext_lazy

from orchard.forms.fields import QuantityField
from orchard.languages import Words
from orchard.sources.station_columns import (
    UNITS_OF,
    Clock,
    ColumnChoice,
    ColumnMapping,
    ColumnUnit,
    DateOrder,
    RainMode,
    StationQuantity,
)
from orchard.sources.station_table import MAX_BYTES, StationTable
from orchard.units import Quantity, UnitSystem, format_metres

#: What is sent back with each step must stay below what a form may hold (6 MB).
MAX_CARRIED = 5_500_000
CARRIED_SECONDS = 24 * 60 * 60

LABELS = {
    StationQuantity.DATE: gettext_lazy("Date"),
    StationQuantity.TMIN: gettext_lazy("Lowest temperature"),
    StationQuantity.TMAX: gettext_lazy("Highest temperature"),
    StationQuantity.RAIN: gettext_lazy("Rain"),
    StationQuantity.TIME: gettext_lazy("Time of day"),
    StationQuantity.TEMPERATURE: gettext_lazy("Temperature"),
    StationQuantity.HUMIDITY: gettext_lazy("Humidity"),
    StationQuantity.WIND: gettext_lazy("Wind"),
    StationQuantity.RADIATION: gettext_lazy("Sunshine energy"),
    StationQuantity.ET0: gettext_lazy("Reference evapotranspiration"),
}
DATE_ORDERS = [
    ("", gettext_lazy("As the dates show")),
    (DateOrder.YEAR_MONTH_DAY.value, gettext_lazy("Year, month, day")),
    (DateOrder.DAY_MONTH_YEAR.value, gettext_lazy("Day, month, year")),
    (DateOrder.MONTH_DAY_YEAR.value, gettext_lazy("Month, day, year")),
]
ROWS = [
    ("", gettext_lazy("One row a day")),
    ("several", gettext_lazy("Several rows a day")),
]
CLOCKS = [
    (Clock.LOCAL.value, gettext_lazy("The local clock, changed in spring and autumn")),
    (Clock.WINTER.value, gettext_lazy("Winter time all year")),
    (Clock.UTC.value, gettext_lazy("UTC (Greenwich)")),
]
RAIN_MODES = [
    (RainMode.ROW.value, gettext_lazy("Each row has its own rain")),
    (RainMode.SINCE_MIDNIGHT.value, gettext_lazy("It grows since midnight")),
    (RainMode.TOTAL.value, gettext_lazy("It keeps growing for months")),
]
#: Boxes by what they belong to on the page.
EVERY_FILE = (
    StationQuantity.DATE,
    StationQuantity.TMIN,
    StationQuantity.TMAX,
    StationQuantity.RAIN,
)
BY_THE_HOUR = (StationQuantity.TIME, StationQuantity.TEMPERATURE)
#: The height of a wind meter (metres).
LOWEST_WIND_M, HIGHEST_WIND_M = 0.5, 100.0

Pair = tuple[forms.BoundField, forms.BoundField | None]


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
        label=gettext_lazy("Weather file"),
        allow_empty_file=True,
        help_text=format_lazy(
            gettext_lazy(
                "A table with date, temperatures and rain (commas, semicolons or "
                "tabs), or a file of the world's daily archive, GHCN-Daily (.dly "
                "or .csv). Up to {megabytes} MB."
            ),
            megabytes=MAX_BYTES // 1_000_000,
        ),
        widget=forms.FileInput(
            attrs={"accept": ".csv,.txt,.tsv,.dly,text/csv,text/plain"}
        ),
        error_messages={"required": gettext_lazy("Choose a file first.")},
    )

    def clean_file(self) -> "UploadedFile[bytes]":
        """Refuse what cannot be daily weather by its size alone."""
        file: UploadedFile[bytes] = self.cleaned_data["file"]
        if not file.size:
            message = gettext("This file is empty.")
            raise forms.ValidationError(message, code="empty")
        if file.size > MAX_BYTES:
            raise forms.ValidationError(too_large(file.size), code="too_large")
        return file


def too_large(size: int) -> str:
    """Return what to tell about a file of ``size`` bytes."""
    return gettext(
        "This file has {size} MB; daily weather of a hundred years has less "
        "than {most} MB. Send one row a day, or fewer years."
    ).format(size=f"{size / 1e6:.0f}", most=MAX_BYTES // 1_000_000)


class MappingForm(forms.Form):
    """Which column holds what, in which unit, and what its rows and rain mean."""

    date_order = forms.ChoiceField(
        label=gettext_lazy("Dates are written"), choices=DATE_ORDERS, required=False
    )
    rows = forms.ChoiceField(
        label=gettext_lazy("The file has"), choices=ROWS, required=False
    )
    clock = forms.ChoiceField(
        label=gettext_lazy("The station's clock shows"),
        choices=CLOCKS,
        required=False,
        help_text=gettext_lazy("Times that name their zone are believed anyway."),
    )
    rain_mode = forms.ChoiceField(
        label=gettext_lazy("The number for rain"), choices=RAIN_MODES, required=False
    )
    units_are_right = forms.BooleanField(
        label=gettext_lazy("The units are right"), required=False
    )

    def __init__(
        self,
        *args: object,
        table: StationTable,
        units: UnitSystem = UnitSystem.METRIC,
        **kwargs: object,
    ) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own arguments
        first = table.rows[0].cells
        columns = [
            (
                str(index),
                gettext("{heading} (first: {value})").format(
                    heading=heading, value=first[index][:20] or gettext("empty")
                ),
            )
            for index, heading in enumerate(table.header)
        ]
        for quantity in StationQuantity:
            needs = quantity in EVERY_FILE
            none = [
                (
                    "",
                    gettext("Choose a column")
                    if needs
                    else gettext("Not in this file"),
                )
            ]
            self.fields[f"column_{quantity}"] = forms.ChoiceField(
                label=LABELS[quantity], choices=none + columns, required=False
            )
            if len(UNITS_OF[quantity]) > 1:
                self.fields[f"unit_{quantity}"] = forms.ChoiceField(
                    label=gettext("{quantity} is in").format(quantity=LABELS[quantity]),
                    choices=[(unit.value, unit.value) for unit in UNITS_OF[quantity]],
                    required=False,
                )
        self.fields["wind_height"] = wind_height_field(units)

    def _pair(self, quantity: StationQuantity) -> Pair:
        unit = f"unit_{quantity}"
        return (
            self[f"column_{quantity}"],
            self[unit] if unit in self.fields else None,
        )

    @property
    def needed_pairs(self) -> list[Pair]:
        """Return the boxes of what most files have: column and, if any, unit."""
        return [self._pair(quantity) for quantity in EVERY_FILE]

    @property
    def hourly_pairs(self) -> list[Pair]:
        """Return the boxes of files with several rows a day."""
        return [self._pair(quantity) for quantity in BY_THE_HOUR]

    @property
    def other_pairs(self) -> list[Pair]:
        """Return the boxes of what some stations measure besides."""
        known = {*EVERY_FILE, *BY_THE_HOUR}
        return [
            self._pair(quantity)
            for quantity in StationQuantity
            if quantity not in known
        ]

    @property
    def is_several(self) -> bool:
        """Whether the file has several rows a day, as far as it is chosen."""
        return bool(self.data.get("rows"))

    @property
    def opens_others(self) -> bool:
        """Whether one of the rarer columns is chosen or wrong."""
        names = [f"column_{each}" for each in ("humidity", "wind", "radiation", "et0")]
        return (
            any(self.data.get(name) for name in names) or "wind_height" in self.errors
        )

    def clean(self) -> dict[str, object]:
        """Refuse one column for two things, and ask for what must be there."""
        cleaned = super().clean() or {}
        used: dict[object, Words] = {}
        for quantity in StationQuantity:
            column = cleaned.get(f"column_{quantity}")
            if column and column in used:
                message = gettext("This column is already {quantity}.").format(
                    quantity=used[column].lower()
                )
                self.add_error(f"column_{quantity}", message)
            elif column:
                used[column] = LABELS[quantity]
        for quantity in self.mapping().needed():
            name = f"column_{quantity}"
            if not cleaned.get(name) and name not in self.errors:
                self.add_error(name, gettext("Which column is it?"))
        has_height = cleaned.get("wind_height") is not None
        if cleaned.get("column_wind") and not (
            has_height or "wind_height" in self.errors
        ):
            self.add_error("wind_height", gettext("How high above the ground is it?"))
        return cleaned

    def mapping(self) -> ColumnMapping:
        """Return the choice."""
        cleaned = self.cleaned_data
        columns = {}
        for quantity in StationQuantity:
            column = cleaned.get(f"column_{quantity}")
            if column:
                unit = cleaned.get(f"unit_{quantity}")
                default = UNITS_OF[quantity][0]
                columns[quantity] = ColumnChoice(
                    int(column), ColumnUnit(unit) if unit else default
                )
        order, height_m = cleaned.get("date_order"), cleaned.get("wind_height")
        mapping = ColumnMapping(
            columns,
            DateOrder(order) if order else None,
            is_several=bool(cleaned.get("rows")),
            clock=Clock(cleaned.get("clock") or Clock.LOCAL),
            rain_mode=RainMode(cleaned.get("rain_mode") or RainMode.ROW),
        )
        if StationQuantity.WIND in columns and height_m is not None:
            return replace(mapping, wind_height_m=float(height_m))
        return mapping


def wind_height_field(units: UnitSystem) -> QuantityField:
    """Return the box for how high a wind meter stands."""
    height = QuantityField(
        Quantity.LENGTH,
        low=LOWEST_WIND_M,
        high=HIGHEST_WIND_M,
        label=gettext("Height of the wind meter above the ground"),
        help_text=gettext(
            "Weather services measure at {high}, many gardeners at "
            "{low}. Wind is kept as it blows down there."
        ).format(high=format_metres(10.0, units), low=format_metres(2.0, units)),
    )
    height.system = units
    return height


def mapping_values(mapping: ColumnMapping) -> dict[str, str]:
    """Return what the boxes show of a mapping, as a browser would send it."""
    values = {
        "date_order": mapping.date_order.value if mapping.date_order else "",
        "rows": "several" if mapping.is_several else "",
        "clock": mapping.clock.value,
        "rain_mode": mapping.rain_mode.value,
    }
    for quantity, choice in mapping.columns.items():
        values[f"column_{quantity}"] = str(choice.index)
        values[f"unit_{quantity}"] = choice.unit.value
    return values
