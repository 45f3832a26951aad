"""Whether anybody watered in a quiet week: how much, when, and which trees."""

from collections.abc import Iterable
from datetime import date

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext, gettext_lazy

from care.forms.past_days import PastDayField
from care.forms.watering import MOST_LITRES
from orchard.forms.fields import QuantityField, UnitsForm
from orchard.units import Quantity, UnitSystem, unit_label

ALL, FILLED, SOME, SOME_FILLED = "all", "filled", "some", "some_filled"
ANSWERS = (ALL, FILLED, SOME, SOME_FILLED)


class UnloggedForm(UnitsForm):
    """An answer for all trees that are asked about, or for those chosen."""

    answer = forms.ChoiceField(choices=[(answer, answer) for answer in ANSWERS])
    litres = QuantityField(
        Quantity.VOLUME,
        low=0.1,
        high=MOST_LITRES,
        label="",
        help_text=gettext_lazy("Left empty: what the plan asks for each."),
    )
    field_order = ("on", "litres")

    def __init__(
        self,
        data: object = None,
        *,
        trees: Iterable[str],
        likely: date,
        litres: float | None,
        today: date,
        units: UnitSystem,
    ) -> None:
        super().__init__(
            data,
            units=units,
            initial={"litres": litres, "on": likely},
            auto_id="unlogged_%s",
        )
        amount = self.fields["litres"]
        amount.label = gettext("About how much each, in {unit}").format(
            unit=unit_label(Quantity.VOLUME, units)
        )
        self.fields["on"] = PastDayField(today=today, label=gettext("When"))
        self.fields["trees"] = forms.MultipleChoiceField(
            choices=[(one, one) for one in trees], required=False
        )
        self.order_fields(self.field_order)

    @property
    def ticked(self) -> frozenset[str]:
        """The trees that were ticked, so that a mistake elsewhere loses none."""
        posted = self.data
        return frozenset(
            posted.getlist("trees") if isinstance(posted, QueryDict) else ()
        )

    @property
    def is_some(self) -> bool:
        """Whether the answer is for the chosen trees alone."""
        return self.cleaned_data["answer"] in (SOME, SOME_FILLED)

    @property
    def is_filled(self) -> bool:
        """Whether nobody knows how much it was."""
        return self.cleaned_data["answer"] in (FILLED, SOME_FILLED)

    def clean(self) -> dict[str, object]:
        """Ask which trees, where the answer is for some."""
        cleaned = super().clean()
        answer = cleaned.get("answer")
        if answer in (SOME, SOME_FILLED) and not cleaned.get("trees"):
            self.add_error("trees", gettext("Tick the trees that got water."))
        return cleaned
