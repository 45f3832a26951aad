"""A tree beyond the fence: what it is, and how far away or where on the plan."""

from typing import cast

from django import forms
from django.utils.translation import gettext, gettext_lazy

from orchard.catalogue.search import Names
from orchard.forms.fields import QuantityField, UnitsForm
from orchard.models.trees import FARTHEST_M
from orchard.units import Quantity, UnitSystem

FARTHEST_NEIGHBOUR_M = 500.0


class NeighbourForm(UnitsForm):
    """What a neighbour's tree is, and where; a place goes before a distance."""

    species = forms.CharField(
        label=gettext_lazy("Kind"),
        max_length=80,
        help_text=gettext_lazy("A common or botanical name, such as apple."),
        widget=forms.TextInput(attrs={"list": "kinds", "autocomplete": "off"}),
        error_messages={
            "required": gettext_lazy("Say what it is, such as apple or pear.")
        },
    )
    cultivar = forms.CharField(
        label=gettext_lazy("Cultivar"),
        max_length=60,
        required=False,
        help_text=gettext_lazy(
            "Ask over the fence: without its name it cannot be counted on."
        ),
    )
    note = forms.CharField(
        label=gettext_lazy("What you call it"),
        max_length=80,
        required=False,
        help_text=gettext_lazy("Such as: the old pear behind the wall."),
    )
    distance_m = QuantityField(
        Quantity.LENGTH,
        low=0.0,
        high=FARTHEST_NEIGHBOUR_M,
        label=gettext_lazy("How far it is from the nearest of yours of its kind"),
        help_text=gettext_lazy("A good guess by steps will do."),
    )
    x_m = QuantityField(
        Quantity.LENGTH,
        low=-FARTHEST_M,
        high=FARTHEST_M,
        label=gettext_lazy("Or its place on the plan: to the right"),
        help_text=gettext_lazy("From where the plan begins; to the left with a minus."),
    )
    y_m = QuantityField(
        Quantity.LENGTH,
        low=-FARTHEST_M,
        high=FARTHEST_M,
        label=gettext_lazy("And up the page"),
        help_text=gettext_lazy("Down the page with a minus."),
    )

    def __init__(self, data: object = None, *, units: UnitSystem, names: Names) -> None:
        super().__init__(data, units=units, auto_id="neighbour_%s")
        self._names = names

    def clean_species(self) -> str:
        """Return the kind's key; name the closest where none is called so."""
        text = str(self.cleaned_data["species"]).strip()
        found = self._names.named(text)
        if found is not None:
            return found.key
        close = [species.shown_name for species in self._names.find(text)[:3]]
        message = (
            gettext(
                "“{text}” is not in the list of kinds. Did you mean {names}?"
            ).format(text=text, names=gettext(" or ").join(close))
            if close
            else gettext(
                "“{text}” is not in the list of kinds. Write its common or "
                "botanical name."
            ).format(text=text)
        )
        raise forms.ValidationError(message, code="unknown")

    def clean(self) -> dict[str, object]:
        """Refuse half a place."""
        cleaned = super().clean()
        for name, other in (("x_m", "y_m"), ("y_m", "x_m")):
            is_half = cleaned.get(name) is None and cleaned.get(other) is not None
            if is_half and not self.has_error(name):
                self.add_error(name, gettext("A place needs both numbers, or neither."))
        return cleaned

    def values(self) -> dict[str, object]:
        """Return a valid form's values as the row has them."""
        data = dict(self.cleaned_data)
        data["species_key"] = cast("str", data.pop("species"))
        return data
