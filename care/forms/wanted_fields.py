"""The boxes of a wanted tree, and the folds in which all but three are offered."""

from django import forms
from django.utils.text import format_lazy
from django.utils.translation import gettext_lazy, pgettext_lazy

from orchard.forms.fields import QuantityField, UnitsForm
from orchard.forms.plant_fields import (
    block_field,
    cultivar_field,
    ground_or_pot_field,
    pot_litres_field,
    species_field,
)
from orchard.forms.tree_fields import MEDIUM_CHOICES
from orchard.languages import Words
from orchard.models import Sex, Tree, WantedTree
from orchard.units import Quantity

MOST_ALIKE = 100
NAME_LENGTH = 70  # of 80 stored, so that a number still fits behind it
USUAL = ("", gettext_lazy("As usual for it"))

FOLDS: tuple[tuple[Words, Words, tuple[str, ...]], ...] = (
    (
        gettext_lazy("Which one"),
        gettext_lazy(
            "A cultivar decides chill, partners and harvest; a rootstock how large it "
            "grows and whether it needs a post."
        ),
        ("cultivar", "rootstock", "sex", "name"),
    ),
    (
        gettext_lazy("Its size when it comes"),
        gettext_lazy(
            "The root ball decides the width of the hole, the trunk how long it needs "
            "water. Left empty, a usual size is reckoned with."
        ),
        ("stock_litres", "caliper_mm"),
    ),
    (
        gettext_lazy("Where it goes"),
        gettext_lazy(
            "Its exact place is measured, or proposed, once it is on the list."
        ),
        ("block_name", "replaces"),
    ),
    (
        gettext_lazy("Hole and support"),
        gettext_lazy(
            "The soil that came out goes back in, for nearly all. A tree that sways a "
            "little grows a stronger trunk."
        ),
        ("backfill", "is_fed", "support", "container_medium"),
    ),
    (
        gettext_lazy("Around it"),
        gettext_lazy(
            "Grass is a young tree's first rival. A ring of mulch keeps it away, and the "
            "trimmer with it."
        ),
        ("mulch_material", "mulch_depth_mm", "mulch_ring_radius_m", "has_edging"),
    ),
)
FIRST = ("species", "grows_in", "container_litres", "stock", "count")


class WantedFields(UnitsForm):
    """The boxes alone; what must hold between them is checked where they are used."""

    species = species_field(gettext_lazy("What tree?"))
    grows_in = ground_or_pot_field(gettext_lazy("Where will it grow?"))
    container_litres = pot_litres_field(
        gettext_lazy("Volume of the pot it will grow in")
    )
    stock = forms.ChoiceField(
        label=gettext_lazy("How does it come?"),
        choices=Tree.Stock.choices,
        widget=forms.RadioSelect,
        error_messages={
            "required": gettext_lazy("Choose how it comes; most come in a pot.")
        },
    )
    count = forms.IntegerField(
        label=gettext_lazy("How many alike?"),
        min_value=1,
        max_value=MOST_ALIKE,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        error_messages={
            "required": gettext_lazy("How many? Write 1 for one tree."),
            "invalid": gettext_lazy("Write a whole number, such as 3."),
            "min_value": format_lazy(
                gettext_lazy("Write a number from 1 to {most}."), most=MOST_ALIKE
            ),
            "max_value": format_lazy(
                gettext_lazy("At most {most} at a time. More? Add them again."),
                most=MOST_ALIKE,
            ),
        },
    )
    cultivar = cultivar_field()
    rootstock = forms.CharField(
        label=gettext_lazy("Rootstock"),
        max_length=40,
        required=False,
        help_text=gettext_lazy("As its label says: M.9, Quince A, own roots."),
        widget=forms.TextInput(attrs={"list": "rootstocks", "autocomplete": "off"}),
    )
    sex = forms.ChoiceField(
        label=gettext_lazy("Its flowers"),
        choices=Sex.choices,
        required=False,
        help_text=gettext_lazy(
            "Only for kinds with male and female plants, such as kiwi."
        ),
    )
    name = forms.CharField(
        label=gettext_lazy("Name"),
        max_length=NAME_LENGTH,
        required=False,
        help_text=gettext_lazy(
            "As you call it. Left empty, it is called after its kind."
        ),
    )
    stock_litres = QuantityField(
        Quantity.VOLUME,
        low=0.1,
        high=3000,
        label=gettext_lazy("Size of its nursery pot or root ball"),
    )
    caliper_mm = QuantityField(
        Quantity.DIAMETER,
        low=3,
        high=300,
        label=gettext_lazy("Trunk width"),
        help_text=gettext_lazy("Through the trunk, a hand above the ground."),
    )
    block_name = block_field()
    replaces = forms.ChoiceField(
        label=gettext_lazy("It takes the place of"),
        choices=[("", pgettext_lazy("no tree", "Nobody"))],
        required=False,
        help_text=gettext_lazy("A tree that was lost; its history stays."),
    )
    backfill = forms.ChoiceField(
        label=gettext_lazy("The hole is filled with"),
        choices=[USUAL, *WantedTree.Backfill.choices],
        required=False,
        help_text=gettext_lazy(
            "Usual is the soil that came out; for acid lovers peat or pine bark "
            "with it, unless your soil is known to be acid enough."
        ),
    )
    is_fed = forms.BooleanField(
        label=gettext_lazy("Feed it in its first season"),
        required=False,
        help_text=gettext_lazy(
            "Never in the hole. Most wait until it has grown a hand's width."
        ),
    )
    support = forms.ChoiceField(
        label=gettext_lazy("It is held up by"),
        choices=[USUAL, *Tree.Support.choices],
        required=False,
        help_text=gettext_lazy(
            "Usual is nothing; for dwarf rootstocks a post or wires."
        ),
    )
    container_medium = forms.ChoiceField(
        label=gettext_lazy("Its pot is filled with"),
        choices=MEDIUM_CHOICES,
        required=False,
    )
    mulch_material = forms.ChoiceField(
        label=pgettext_lazy("what covers the ground", "Mulch"),
        choices=Tree.MulchMaterial.choices,
        required=False,
    )
    mulch_depth_mm = QuantityField(
        Quantity.DEPTH, low=0, high=300, label=gettext_lazy("Depth of the mulch")
    )
    mulch_ring_radius_m = QuantityField(
        Quantity.LENGTH,
        low=0.2,
        high=5,
        label=gettext_lazy("Mulch reaches this far from the trunk"),
    )
    has_edging = forms.BooleanField(
        label=gettext_lazy("An edge keeps the grass out"), required=False
    )
