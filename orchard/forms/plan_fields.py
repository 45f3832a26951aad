"""Boxes for what a tape shows, and what the forms of a plan share."""

from collections.abc import Mapping

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext, gettext_lazy

from orchard.forms.fields import QuantityField, UnitsForm
from orchard.languages import Words, decimal_sign, localised
from orchard.models import Corner
from orchard.plans.gathered import OnPlan
from orchard.plans.lengths import length_words, read_length
from orchard.plans.measured import Found, Point, Side, Taped, place_by_tapes
from orchard.plans.problems import PlanError
from orchard.units import Quantity, UnitError, UnitSystem, from_si

LONGEST_TAPE_M = 500.0
SIDES = [
    (Side.GARDEN.value, gettext_lazy("The garden's side")),
    (
        Side.LEFT.value,
        gettext_lazy("Left, looking from the first corner to the second"),
    ),
    (
        Side.RIGHT.value,
        gettext_lazy("Right, looking from the first corner to the second"),
    ),
]
OUTSIDE = gettext_lazy("It does stand outside the boundary")


class TapeField(QuantityField):
    """A length; feet and inches are read too, as ``12'4"``."""

    def __init__(
        self,
        *,
        label: Words,
        help_text: Words = "",
        required: bool = False,
        low: float = 0.0,
        high: float = LONGEST_TAPE_M,
    ) -> None:
        super().__init__(
            Quantity.LENGTH,
            low=low,
            high=high,
            label=label,
            help_text=help_text,
            required=required,
        )

    def to_python(self, value: object) -> float | None:  # type: ignore[override]  # cleans to a number
        """Return the typed length in metres."""
        text = str(value or "").strip()
        if not text:
            return None
        try:
            return read_length(text, self.system)
        except UnitError as error:
            raise ValidationError(str(error), code="invalid") from error

    def _shown(self, value: float) -> str:
        return length_words(value, self.system)


class OnPlanForm(UnitsForm):
    """A form that knows what stands on the plan it writes on."""

    def __init__(
        self, *args: object, plan: OnPlan, units: UnitSystem, **kwargs: object
    ) -> None:
        super().__init__(*args, units=units, **kwargs)
        self.plan = plan
        if units is UnitSystem.US:
            # A keypad for decimal numbers has no signs of feet and inches.
            for field in self.fields.values():
                if isinstance(field, TapeField):
                    field.widget.attrs.pop("inputmode", None)

    #: Which box a problem belongs to, by what it is about; else the first named "".
    boxes: Mapping[str, str] = {}

    def tell(self, error: PlanError) -> None:
        """Say a problem at the box it belongs to."""
        box = self.boxes.get(error.about) or self.boxes.get("")
        self.add_error(box if box in self.fields else None, error.words(self.units))


class TapesForm(OnPlanForm):
    """Two tapes from two corners, or three."""

    first = forms.ChoiceField(label=gettext_lazy("First corner"))
    first_m = TapeField(label=gettext_lazy("First distance"))
    second = forms.ChoiceField(label=gettext_lazy("Second corner"))
    second_m = TapeField(label=gettext_lazy("Second distance"))
    third = forms.ChoiceField(label=gettext_lazy("Third corner"), required=False)
    third_m = TapeField(label=gettext_lazy("Third distance"))
    side = forms.ChoiceField(label=gettext_lazy("On which side?"), choices=SIDES)

    boxes = {"": "second_m"}

    def __init__(
        self, *args: object, plan: OnPlan, units: UnitSystem, **kwargs: object
    ) -> None:
        super().__init__(*args, plan=plan, units=units, **kwargs)
        self.found: Found | None = None
        choices = [(str(corner.pk), corner.name) for corner in plan.corners]
        for name in ("first", "second", "third"):
            box = self.fields[name]
            if isinstance(box, forms.ChoiceField):
                none = [("", gettext("None"))] if name == "third" else []
                box.choices = [*none, *choices]

    def tapes(self) -> list[Taped]:
        """Return what the tapes show, a corner without a length left out."""
        return [
            Taped(corner.name, (corner.x_m, corner.y_m), length_m)
            for name in ("first", "second", "third")
            if (corner := self._corner(name))
            and (length_m := self.cleaned_data.get(f"{name}_m")) is not None
        ]

    def _corner(self, name: str) -> Corner | None:
        wanted = self.cleaned_data.get(name)
        return next((c for c in self.plan.corners if str(c.pk) == wanted), None)

    def find(self) -> None:
        """Find the place, and say at a box why there is none."""
        missing = [
            name
            for name in ("first_m", "second_m")
            if self.cleaned_data.get(name) is None and name not in self.errors
        ]
        for name in missing:
            self.add_error(name, gettext("How far is it from there?"))
        if self.errors:
            return
        side = Side(self.cleaned_data["side"])
        try:
            self.found = place_by_tapes(self.tapes(), side, self.plan.garden_m)
        except PlanError as error:
            self.tell(error)

    def measured(self) -> dict[str, object]:
        """Return how it was measured, to be kept beside the place."""
        return {
            "how": "tape",
            "from": [[tape.name, tape.distance_m] for tape in self.tapes()],
            "side": self.cleaned_data["side"],
            "off_m": round(self.found.off_m, 3) if self.found else None,
        }


def point_text(place_m: Point, units: UnitSystem) -> str:
    """Return a place as its box shows it: along, across."""
    along, across = (
        localised(
            f"{from_si(each, Quantity.LENGTH, units):.2f}".rstrip("0").rstrip(".")
        )
        for each in place_m
    )
    between = ";" if decimal_sign() == "," else ","
    return f"{along}{between} {across}"
