"""Readings a person makes, what tonight may bring, and twelve usual months."""

from collections.abc import Callable
from datetime import date

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext, gettext_lazy

from orchard.forms.fields import QuantityField, UnitsForm, day_field
from orchard.languages import Words, month_name
from orchard.sources.normals import MONTHS, NormalsTable, normals_problems
from orchard.units import Quantity, UnitSystem, format_length_mm, format_temperature

# Beyond the records of all stations: 54 degC, -68 degC where people live, and 1825 mm
# of rain in a day (from memory).
COLDEST_C, WARMEST_C, WETTEST_DAY_MM = -70.0, 57.0, 1825.0
# More than this in a day is rare enough to ask whether it is meant.
ASK_ABOVE_MM = 150.0
VARIABLES = ("tmin", "tmax", "rain")
NORMAL_LABELS = {
    "tmin": gettext_lazy("Low"),
    "tmax": gettext_lazy("High"),
    "rain": gettext_lazy("Rain"),
}
Known = Callable[[date], tuple[float | None, float | None]]


def _temperature(label: Words, *, required: bool = False) -> QuantityField:
    return QuantityField(
        Quantity.TEMPERATURE,
        low=COLDEST_C,
        high=WARMEST_C,
        label=label,
        required=required,
    )


class ReadingForm(UnitsForm):
    """A rain gauge or thermometer that somebody read.

    ``known`` tells what was typed for a day before: its low and high [degC].
    """

    day = day_field(
        label=gettext_lazy("Day"),
        required=True,
        help_text=gettext_lazy("Rain found in the morning fell on the day before."),
    )
    rain_mm = QuantityField(
        Quantity.DEPTH,
        low=0,
        high=WETTEST_DAY_MM,
        label=gettext_lazy("Rain in the gauge"),
    )
    rain_is_meant = forms.BooleanField(
        label=gettext_lazy("Yes, that much rain"), required=False
    )
    tmin_c = _temperature(gettext_lazy("Lowest"))
    tmax_c = _temperature(gettext_lazy("Highest"))

    def __init__(
        self,
        *args: object,
        units: UnitSystem,
        today: date,
        known: Known,
        **kwargs: object,
    ) -> None:
        super().__init__(*args, units=units, **kwargs)
        self.today = today
        self.known = known
        self.fields["day"].widget.attrs["max"] = today.isoformat()
        self.asks_about_rain = False

    def clean_day(self) -> date:
        """Refuse a day that nobody can have read yet."""
        day: date = self.cleaned_data["day"]
        if day > self.today:
            message = gettext("This day is still to come; today is {today}.").format(
                today=self.today
            )
            raise forms.ValidationError(message, code="future")
        return day

    def clean(self) -> dict[str, object]:
        """Check that there is a reading, and that low and high fit each other."""
        cleaned = super().clean()
        readings = [cleaned.get(name) for name in ("rain_mm", "tmin_c", "tmax_c")]
        if not self.errors and all(value is None for value in readings):
            message = gettext("Write at least one of rain, lowest and highest.")
            raise forms.ValidationError(message, code="empty")
        self._ask_about_rain(cleaned)
        if cleaned.get("day") and not self.errors:
            self._compare(cleaned)
        return cleaned

    def _ask_about_rain(self, cleaned: dict[str, object]) -> None:
        rain_mm = cleaned.get("rain_mm")
        if not isinstance(rain_mm, float) or rain_mm <= ASK_ABOVE_MM:
            return
        self.asks_about_rain = True
        if not cleaned.get("rain_is_meant"):
            message = gettext(
                "{amount} in one day is very rare. Was another unit meant? "
                "Write it behind the number, or tick the box below."
            ).format(amount=format_length_mm(rain_mm, self.units))
            self.add_error("rain_mm", message)

    def _compare(self, cleaned: dict[str, object]) -> None:
        day = cleaned["day"]
        low, high = cleaned.get("tmin_c"), cleaned.get("tmax_c")
        if not isinstance(day, date):
            return
        known_low, known_high = self.known(day)
        tmin = low if isinstance(low, float) else known_low
        tmax = high if isinstance(high, float) else known_high
        if tmin is not None and tmax is not None and tmax < tmin:
            message = gettext(
                "The highest, {high}, is below the lowest, {low}, of that day."
            ).format(
                high=format_temperature(tmax, self.units),
                low=format_temperature(tmin, self.units),
            )
            self.add_error("tmax_c" if high is not None else "tmin_c", message)

    def values(self) -> dict[str, float | None]:
        """Return what was read; what was left empty stays as it was."""
        return {
            name: self.cleaned_data[name]
            for name in ("rain_mm", "tmin_c", "tmax_c")
            if self.cleaned_data[name] is not None
        }


class RemovalForm(forms.Form):
    """A day whose typed readings are to be removed."""

    day = day_field(label=gettext_lazy("Day"), required=True)


class TonightForm(UnitsForm):
    """The lowest temperature somebody expects tonight."""

    tonight_c = _temperature(gettext_lazy("Lowest expected tonight"), required=True)


class EveningForm(UnitsForm):
    """Air and dew point two hours after sunset of a clear, calm evening."""

    on = day_field(label=gettext_lazy("Evening of"), required=True)
    air_c = _temperature(gettext_lazy("Air"), required=True)
    dew_point_c = _temperature(gettext_lazy("Dew point"), required=True)

    def __init__(
        self, *args: object, units: UnitSystem, today: date, **kwargs: object
    ) -> None:
        super().__init__(*args, units=units, **kwargs)
        self.today = today
        self.fields["on"].widget.attrs["max"] = today.isoformat()

    def clean_on(self) -> date:
        """Refuse an evening that is still to come."""
        day: date = self.cleaned_data["on"]
        if day > self.today:
            message = gettext(
                "This evening is still to come; today is {today}."
            ).format(today=self.today)
            raise forms.ValidationError(message, code="future")
        return day

    def clean(self) -> dict[str, object]:
        """Check that the air is no damper than it can be."""
        cleaned = super().clean()
        air_c, dew_point_c = cleaned.get("air_c"), cleaned.get("dew_point_c")
        if not (isinstance(air_c, float) and isinstance(dew_point_c, float)):
            return cleaned
        if dew_point_c > air_c:
            message = gettext(
                "A dew point cannot lie above the air, which has {temperature}."
            ).format(temperature=format_temperature(air_c, self.units))
            self.add_error("dew_point_c", message)
        return cleaned


class EveningRemovalForm(forms.Form):
    """An evening whose reading is to be removed."""

    on = day_field(label=gettext_lazy("Evening of"), required=True)


class PastedNormalsForm(forms.Form):
    """A climate table as text."""

    pasted = forms.CharField(
        label=gettext_lazy("Paste twelve months"),
        strip=False,  # a stripped line would shift the numbers of all others
        widget=forms.Textarea(attrs={"rows": 8, "spellcheck": "false"}),
        help_text=gettext_lazy(
            "A climate table from a web page, or a line a month: Jan, low, high, rain."
        ),
        error_messages={
            "required": gettext_lazy("Paste a table, or fill in the boxes below.")
        },
    )


class NormalsForm(UnitsForm):
    """Twelve months of mean low, mean high and rain."""

    def __init__(self, *args: object, units: UnitSystem, **kwargs: object) -> None:
        super().__init__(*args, units=units, **kwargs)
        for month in range(1, MONTHS + 1):
            for variable in VARIABLES:
                field = self._box(variable, month_name(month))
                field.system = units
                self.fields[f"{variable}_{month}"] = field

    @staticmethod
    def _box(variable: str, month: str) -> QuantityField:
        words = gettext("{month} {what}")
        label = words.format(month=month, what=NORMAL_LABELS[variable].lower())
        if variable == "rain":
            field = QuantityField(
                Quantity.DEPTH, low=0, high=3500, label=label, required=True
            )
        else:
            field = _temperature(label, required=True)
        field.widget.attrs["aria-label"] = label
        field.error_messages["required"] = gettext("is missing")
        return field

    @property
    def rows(self) -> list[tuple[str, list[BoundField], list[BoundField]]]:
        """Return the months' names, boxes, and the boxes that hold errors."""
        rows = []
        for month in range(1, MONTHS + 1):
            boxes = [self[f"{variable}_{month}"] for variable in VARIABLES]
            rows.append(
                (month_name(month), boxes, [box for box in boxes if box.errors])
            )
        return rows

    @property
    def units_row(self) -> list[str]:
        """Return the unit of each column."""
        names = [f"{variable}_1" for variable in VARIABLES]
        fields = [self.fields[name] for name in names]
        return [f.unit for f in fields if isinstance(f, QuantityField)]

    def clean(self) -> dict[str, object]:
        """Check the twelve months as a climate."""
        cleaned = super().clean()
        if self.errors:
            return cleaned
        low, high, rain = self._columns()
        for problem in normals_problems(low, high, rain):
            name = f"{problem.field}_{problem.month}" if problem.month else None
            message = self._in_own_units(problem.month, low, high) or problem.message
            self.add_error(name, message)
        return cleaned

    def _in_own_units(
        self, month: int, low: tuple[float, ...], high: tuple[float, ...]
    ) -> str:
        if not month or high[month - 1] >= low[month - 1]:
            return ""
        shown = [
            format_temperature(temp_c, self.units)
            for temp_c in (high[month - 1], low[month - 1])
        ]
        return gettext("the high, {high}, is below the low, {low}").format(
            high=shown[0], low=shown[1]
        )

    def _columns(self) -> tuple[tuple[float, ...], ...]:
        return tuple(
            tuple(self.cleaned_data[f"{name}_{month}"] for month in range(1, 13))
            for name in VARIABLES
        )

    def months(self) -> list[tuple[int, float, float, float]]:
        """Return month, low, high, rain, January first."""
        rows = zip(*self._columns(), strict=True)
        return [(month, *values) for month, values in enumerate(rows, 1)]


def normals_initial(table: NormalsTable) -> dict[str, float]:
    """Return what the boxes show of twelve months."""
    columns = zip(VARIABLES, (table.tmin_c, table.tmax_c, table.rain_mm), strict=True)
    return {
        f"{variable}_{month}": value
        for variable, values in columns
        for month, value in enumerate(values, 1)
    }
