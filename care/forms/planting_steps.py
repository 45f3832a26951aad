"""What a person says at a planting sheet: a tick with its amount, and that it stands."""

from datetime import date

from django import forms
from django.utils.translation import gettext

from care.forms.past_days import PastDayField
from care.planning.planting_steps import Step
from orchard.forms.fields import NumberField, QuantityField, UnitsForm
from orchard.units import Quantity, UnitSystem, unit_label

MOST_HOURS = 1000.0
MOST_WATER_L = 2000.0
MOST_DAYS_BACK = 366  # a sheet typed in from paper, a year at most


class StepForm(UnitsForm):
    """Tick a step; some ask for what was measured or given, which may stay empty."""

    def __init__(self, data: object = None, *, step: Step, units: UnitSystem) -> None:
        super().__init__(
            data,
            initial={"amount": step.usual_amount},
            units=units,
            auto_id=f"{step.code}-%s",
        )
        if step.asks == "h":
            label = gettext("Empty after, in hours")
            self.fields["amount"] = NumberField(
                low=0, high=MOST_HOURS, label=label, required=False
            )
        elif step.asks == "L":
            label = gettext("Water given, in {unit}").format(
                unit=unit_label(Quantity.VOLUME, units)
            )
            field = QuantityField(
                Quantity.VOLUME, low=0.0, high=MOST_WATER_L, label=label
            )
            field.system = units
            self.fields["amount"] = field

    def amount(self) -> float | None:
        """Return the amount in the step's SI unit, if one was said."""
        found: float | None = self.cleaned_data.get("amount")
        return found


class StandsForm(forms.Form):
    """It stands: since which day."""

    def __init__(self, data: object = None, *, today: date) -> None:
        super().__init__(data)  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["on"] = PastDayField(
            today=today,
            label=gettext("Planted on"),
            days_back=MOST_DAYS_BACK,
            required=False,
        )
