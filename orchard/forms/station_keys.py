"""What a weather station is called and how high its wind is measured."""

from django import forms
from django.utils.translation import gettext_lazy

from orchard.forms.fields import QuantityField, UnitsForm
from orchard.sources.wind_height import HIGHEST_M, LOWEST_M
from orchard.units import Quantity


class StationForm(UnitsForm):
    """One station that is to send by itself."""

    name = forms.CharField(
        label=gettext_lazy("What do you call it?"),
        max_length=60,
        error_messages={
            "required": gettext_lazy("Give it a name, such as “Shed roof”.")
        },
    )
    wind_height_m = QuantityField(
        Quantity.LENGTH,
        low=LOWEST_M,
        high=HIGHEST_M,
        label=gettext_lazy("Height of its wind cups above the ground"),
        help_text=gettext_lazy(
            "Wind is stronger higher up. Without any, leave it as it is."
        ),
        required=True,
    )
