"""Water that nobody ticked: everything watered at once, on some day."""

from collections.abc import Sequence
from datetime import date

from django import forms
from django.utils.translation import gettext, gettext_lazy

from care.forms.drained import add_drained, check_drained
from care.forms.past_days import PastDayField
from care.forms.work import NOTE_LENGTH
from orchard.forms.fields import QuantityField, UnitsForm
from orchard.units import Quantity, UnitSystem, unit_label

MOST_LITRES = 2000.0


class WaterForm(UnitsForm):
    """How much one tree got, when, and whether water ran out below its pot."""

    amount = QuantityField(
        Quantity.VOLUME, low=0.1, high=MOST_LITRES, label="", required=True
    )
    field_order = ("amount", "drained", "drained_after", "on")

    def __init__(
        self,
        data: object = None,
        *,
        today: date,
        units: UnitSystem,
        in_container: bool,
    ) -> None:
        super().__init__(data, units=units, auto_id="given_%s")
        amount = self.fields["amount"]
        amount.label = gettext("How much it got, in {unit}").format(
            unit=unit_label(Quantity.VOLUME, units)
        )
        amount.error_messages["required"] = gettext("About how much did it get?")
        if in_container:
            add_drained(self, units)
        self.fields["on"] = PastDayField(today=today, label=gettext("When"))
        self.order_fields(self.field_order)

    def clean(self) -> dict[str, object]:
        """Check that what ran out below fits what the pot got."""
        cleaned = super().clean()
        check_drained(self, cleaned)
        return cleaned


class WaterAllForm(UnitsForm):
    """About how much each tree got, where, and when.

    ``places`` are the choices of where, the first of them all that is shown.
    """

    litres = QuantityField(
        Quantity.VOLUME, low=0.1, high=MOST_LITRES, label="", required=True
    )
    note = forms.CharField(
        required=False, max_length=NOTE_LENGTH, label=gettext_lazy("Note")
    )
    field_order = ("litres", "on", "block", "note")

    def __init__(
        self,
        data: object = None,
        *,
        places: Sequence[tuple[str, str]],
        today: date,
        units: UnitSystem,
    ) -> None:
        super().__init__(data, units=units, auto_id="water_%s")
        litres = self.fields["litres"]
        litres.label = gettext("About how much each, in {unit}").format(
            unit=unit_label(Quantity.VOLUME, units)
        )
        litres.error_messages["required"] = gettext("About how much did each tree get?")
        self.fields["on"] = PastDayField(today=today, label=gettext("When"))
        self.fields["block"] = forms.ChoiceField(
            choices=places, required=False, label=gettext("Where")
        )
        self.order_fields(self.field_order)
