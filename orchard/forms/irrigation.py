"""Water that comes by itself: a sprinkler, a timer or a drip line, of a whole row."""

from collections.abc import Mapping, Sequence
from datetime import date

from django import forms
from django.utils.translation import gettext, gettext_lazy

from orchard.forms.fields import NumberField, QuantityField, UnitsForm, day_field
from orchard.forms.tree_fields import WEEKDAYS
from orchard.units import Quantity, UnitSystem

MINUTES_PER_HOUR = 60
MOST_LITRES = 2000.0


def check_running_days(form: forms.Form, cleaned: Mapping[str, object]) -> None:
    """Refuse water that ends before it begins."""
    since, until = cleaned.get("irrigation_since"), cleaned.get("irrigation_until")
    if isinstance(since, date) and isinstance(until, date) and until < since:
        form.add_error("irrigation_until", gettext("That is before it began."))


def reckon_litres(form: forms.Form, cleaned: dict[str, object]) -> None:
    """Turn minutes into litres by what the drippers of a tree give in an hour."""
    minutes, flow = cleaned.get("irrigation_minutes"), cleaned.get("drip_l_per_h")
    if not isinstance(minutes, float):
        return
    if isinstance(flow, float):
        cleaned["irrigation_litres"] = flow * minutes / MINUTES_PER_HOUR
    elif not form.has_error("drip_l_per_h"):
        form.add_error("drip_l_per_h", gettext("How much do they give in one hour?"))


def check_when(form: forms.Form, cleaned: Mapping[str, object]) -> None:
    """Refuse litres without days and days without litres."""
    litres, days = (
        cleaned.get("irrigation_litres"),
        cleaned.get("irrigation_weekdays"),
    )
    if litres and not days and not form.has_error("irrigation_weekdays"):
        form.add_error("irrigation_weekdays", gettext("On which days does it run?"))
    is_told = form.has_error("irrigation_litres") or form.has_error("drip_l_per_h")
    if days and not litres and not is_told:
        form.add_error("irrigation_litres", gettext("How much does it give each time?"))


class IrrigationForm(UnitsForm):
    """What runs by itself for every tree of a row."""

    where = forms.ChoiceField(label=gettext_lazy("For which trees"))
    irrigation_litres = QuantityField(
        Quantity.VOLUME,
        low=0.1,
        high=MOST_LITRES,
        label=gettext_lazy("Each tree gets, each time"),
    )
    irrigation_minutes = NumberField(
        label=gettext_lazy("Or it runs, each time, for"),
        low=1,
        high=1440,
        unit=gettext_lazy("minutes"),
        required=False,
    )
    drip_l_per_h = QuantityField(
        Quantity.VOLUME,
        low=0.1,
        high=MOST_LITRES,
        label=gettext_lazy("and gives each tree, in one hour"),
        help_text=gettext_lazy("All of its drippers together."),
    )
    irrigation_weekdays = forms.MultipleChoiceField(
        label=gettext_lazy("On these days"),
        choices=WEEKDAYS,
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    irrigation_since = day_field(label=gettext_lazy("Running since"))
    irrigation_until = day_field(
        label=gettext_lazy("Until"), help_text=gettext_lazy("Empty: it goes on.")
    )

    def __init__(
        self,
        data: object = None,
        *,
        places: Sequence[tuple[str, str]],
        today: date,
        units: UnitSystem,
    ) -> None:
        super().__init__(data, units=units, initial={"irrigation_since": today})
        self.today = today
        where = self.fields["where"]
        if isinstance(where, forms.ChoiceField):
            where.choices = places

    def clean(self) -> dict[str, object]:
        """Reckon litres from minutes, and ask for what is missing."""
        cleaned = super().clean()
        reckon_litres(self, cleaned)
        check_when(self, cleaned)
        check_running_days(self, cleaned)
        if not self.errors and not cleaned.get("irrigation_litres"):
            self.add_error(
                "irrigation_litres", gettext("How much does it give each time?")
            )
        return cleaned

    def tree_values(self) -> dict[str, object]:
        """Return the fields of every tree; a flow that was not given stays."""
        data = self.cleaned_data
        values: dict[str, object] = {
            "irrigation_litres": data["irrigation_litres"],
            "irrigation_weekdays": "".join(sorted(data["irrigation_weekdays"])),
            "irrigation_since": data["irrigation_since"] or self.today,
            "irrigation_until": data["irrigation_until"],
        }
        if data["drip_l_per_h"] is not None:
            values["drip_l_per_h"] = data["drip_l_per_h"]
        return values
