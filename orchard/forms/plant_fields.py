"""Boxes that every form of a plant has, whether it stands or is only wanted."""

from django import forms
from django.utils.translation import gettext_lazy

from orchard.forms.fields import QuantityField
from orchard.languages import Words
from orchard.units import Quantity

GROUND, POT = "ground", "pot"


def species_field(label: Words) -> forms.CharField:
    """Return the box for what it is, with the kinds to choose from."""
    return forms.CharField(
        label=label,
        max_length=80,
        help_text=gettext_lazy("A common or botanical name: apple, fig, Meyer lemon."),
        widget=forms.TextInput(attrs={"list": "species", "autocomplete": "off"}),
        error_messages={
            "required": gettext_lazy("Say what it is, such as apple or fig.")
        },
    )


def ground_or_pot_field(label: Words) -> forms.ChoiceField:
    """Return the choice between the ground and a pot."""
    return forms.ChoiceField(
        label=label,
        choices=[
            (GROUND, gettext_lazy("In the ground")),
            (POT, gettext_lazy("In a pot")),
        ],
        widget=forms.RadioSelect,
        error_messages={"required": gettext_lazy("Choose the ground or a pot.")},
    )


def pot_litres_field(label: Words) -> QuantityField:
    """Return the box for the volume of a pot [L]."""
    return QuantityField(
        Quantity.VOLUME,
        low=0.5,
        high=5000,
        label=label,
        help_text=gettext_lazy("Only for a pot; often printed below it."),
    )


def cultivar_field() -> forms.CharField:
    """Return the box for a cultivar, with those known to choose from."""
    return forms.CharField(
        label=gettext_lazy("Cultivar"),
        max_length=60,
        required=False,
        widget=forms.TextInput(attrs={"list": "cultivars", "autocomplete": "off"}),
    )


def block_field() -> forms.CharField:
    """Return the box for a block, with those of the site to choose from."""
    return forms.CharField(
        label=gettext_lazy("Block"),
        max_length=60,
        required=False,
        help_text=gettext_lazy("Trees walked together: a row, a bed, the patio."),
        widget=forms.TextInput(attrs={"list": "blocks", "autocomplete": "off"}),
    )
