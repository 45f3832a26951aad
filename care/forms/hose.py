"""Water by hose: how much the hose gives, and what each tree got."""

from collections.abc import Sequence
from datetime import date

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext, gettext_lazy

from care.forms.past_days import PastDayField
from care.forms.watering import MOST_LITRES
from care.forms.work import NOTE_LENGTH
from orchard.forms.fields import NumberField, QuantityField, UnitsForm
from orchard.models import Tree
from orchard.units import Quantity, UnitSystem, unit_label

#: A fire hydrant gives more, no garden hose does. Common practice, no source.
MOST_L_PER_MIN = 200.0
MOST_SECONDS = 3600.0
SECONDS_A_MINUTE = 60.0


class HoseForm(UnitsForm):
    """Which trees, from which tap, and how much water comes out.

    ``taps`` are the taps whose flow is known, as (value, words); what is typed goes
    before them.
    """

    flow = QuantityField(Quantity.VOLUME, low=0.1, high=MOST_L_PER_MIN, label="")
    bucket = QuantityField(Quantity.VOLUME, low=0.1, high=MOST_LITRES, label="")
    seconds = NumberField(
        low=1,
        high=MOST_SECONDS,
        unit="s",
        label=gettext_lazy("fills in so many seconds"),
        required=False,
    )

    def __init__(
        self,
        data: object = None,
        *,
        blocks: Sequence[tuple[str, str]],
        taps: Sequence[tuple[str, str]],
        units: UnitSystem,
    ) -> None:
        super().__init__(data, units=units, auto_id="hose_%s")
        unit = unit_label(Quantity.VOLUME, units)
        flow = gettext("What it gives in one minute, in {unit}").format(unit=unit)
        self.fields["flow"].label = flow
        bucket = gettext("A bucket of this size, in {unit}").format(unit=unit)
        self.fields["bucket"].label = bucket
        self.fields["block"] = forms.ChoiceField(
            choices=[("", gettext("All blocks")), *blocks],
            required=False,
            label=gettext("Where"),
        )
        if taps:
            self.fields["tap"] = forms.ChoiceField(
                choices=taps, required=False, label=gettext("From which tap")
            )
        self.order_fields(("block", "tap", "flow", "bucket", "seconds"))

    def clean(self) -> dict[str, object]:
        """Turn a bucket and its seconds into litres a minute."""
        cleaned = super().clean()
        bucket, seconds = cleaned.get("bucket"), cleaned.get("seconds")
        if (bucket is None) != (seconds is None) and not self.errors:
            missing = "seconds" if seconds is None else "bucket"
            self.add_error(
                missing, gettext("Both are needed: the bucket and its time.")
            )
        elif isinstance(bucket, float) and isinstance(seconds, float):
            cleaned["flow"] = cleaned.get("flow") or SECONDS_A_MINUTE * bucket / seconds
        return cleaned


class HoseRunForm(UnitsForm):
    """What each of some trees got by hose, and when."""

    note = forms.CharField(
        required=False, max_length=NOTE_LENGTH, label=gettext_lazy("Note")
    )

    def __init__(
        self,
        data: object = None,
        *,
        trees: Sequence[Tree],
        litres: dict[int, float] | None = None,
        today: date,
        units: UnitSystem,
    ) -> None:
        self.trees = {str(tree.public_id): tree for tree in trees}
        litres = litres or {}
        planned = {box_of(tree): litres.get(tree.pk) for tree in trees}
        super().__init__(data, initial=planned, units=units, auto_id="run_%s")
        self.fields["trees"] = forms.MultipleChoiceField(
            choices=[(key, tree.name) for key, tree in self.trees.items()],
            error_messages={
                "required": gettext_lazy("Choose the trees that got water."),
                "invalid_choice": gettext_lazy("One of these trees is not here."),
            },
        )
        self.fields["on"] = PastDayField(today=today, label=gettext_lazy("When"))
        for tree in trees:
            box = QuantityField(
                Quantity.VOLUME, low=0.1, high=MOST_LITRES, label=tree.name
            )
            box.system = units
            self.fields[box_of(tree)] = box

    def clean(self) -> dict[str, object]:
        """Check that every tree that is chosen has its amount."""
        cleaned = super().clean()
        for tree in self._chosen(cleaned):
            name = box_of(tree)
            if cleaned.get(name) is None and name not in self.errors:
                error = ValidationError(gettext("About how much did it get?"))
                self.add_error(name, error)
        return cleaned

    def _chosen(self, cleaned: dict[str, object]) -> list[Tree]:
        keys = cleaned.get("trees")
        return [self.trees[key] for key in keys] if isinstance(keys, list) else []

    def given(self) -> list[tuple[Tree, float]]:
        """Return the chosen trees, each with its litres."""
        chosen = self._chosen(self.cleaned_data)
        return [(tree, self.cleaned_data[box_of(tree)]) for tree in chosen]


def box_of(tree: Tree) -> str:
    """Return the name of the box that holds a tree's litres."""
    return f"litres-{tree.public_id}"
