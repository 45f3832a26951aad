"""What a weather station is called and how high its wind is measured."""

from django import forms

from orchard.forms.fields import QuantityField, UnitsForm
from orchard.sources.wind_height import HIGHEST_M, LOWEST_M
from orchard.units import Quantity


class StationForm(UnitsForm):
    """One station that is to send by itself."""

    name = forms.CharField(
        label="What do you call it?",
        max_length=60,
        error_messages={"required": "Give it a name, such as “Shed roof”."},
    )
    wind_height_m = QuantityField(
        Quantity.LENGTH,
        low=LOWEST_M,
        high=HIGHEST_M,
        label="Height of its wind cups above the ground",
        help_text="Wind is stronger higher up. Without any, leave it as it is.",
        required=True,
    )
