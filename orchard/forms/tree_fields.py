"""The boxes of a tree's form, and the folds in which all but three are offered."""

from collections.abc import Iterable

from django import forms
from django.utils.dates import WEEKDAYS as NAMES_OF_DAYS
from django.utils.translation import gettext_lazy as _

from orchard.forms.fields import NumberField, QuantityField, UnitsForm, day_field
from orchard.forms.plant_fields import (
    block_field,
    cultivar_field,
    ground_or_pot_field,
    pot_litres_field,
    species_field,
)
from orchard.languages import Words
from orchard.models import Stay, Tree
from orchard.models.places import SOIL_PH
from orchard.models.trees import Sex
from orchard.units import Quantity

WEEKDAYS = [(str(number), name) for number, name in NAMES_OF_DAYS.items()]
FLOWERS = [
    (Sex.UNSAID.value, _("Not said")),
    (Sex.FEMALE.value, _("Female flowers")),
    (Sex.MALE.value, _("Male flowers")),
    (Sex.BOTH.value, _("Both")),
]
MEDIUM_CHOICES = [
    ("mix", _("Potting mix")),
    ("soil", _("Garden soil")),
]


FOLDS: tuple[tuple[Words, Words, tuple[str, ...]], ...] = (
    (
        _("Name and place in the walk"),
        _("So that a round leads you from tree to tree."),
        ("name", "cultivar", "tag", "block_name", "position"),
    ),
    (
        _("Size"),
        _(
            "Crown width changes water most: a crown twice as wide drinks about four "
            "times as much. Left empty, it is estimated from species and age."
        ),
        (
            "crown_width_m",
            "height_m",
            "height_target_m",
            "spacing_m",
            "caliper_mm",
            "near_wires",
        ),
    ),
    (
        _("Pot"),
        _("A pot dries out in days, and cold and rain reach it only where it stands."),
        ("place", "place_since", "container_diameter_m", "container_medium"),
    ),
    (
        _("Water that comes without you"),
        _("Rain and sprinklers count: without them you would be asked to water twice."),
        (
            "rain_reach",
            "drip_l_per_h",
            "irrigation_litres",
            "irrigation_minutes",
            "irrigation_weekdays",
            "irrigation_since",
            "irrigation_until",
            "watered_radius_m",
        ),
    ),
    (
        _("How it came and stands"),
        _(
            "A new tree drinks from its own root ball alone; how large that ball was "
            "decides how often. What holds and guards it is looked at in time."
        ),
        (
            "stock",
            "stock_litres",
            "is_grafted",
            "rootstock",
            "goal",
            "support",
            "has_trunk_guard",
        ),
    ),
    (
        _("Its flowers"),
        _(
            "Kiwifruit, papayas, date palms and some others bear female and male "
            "flowers on plants of their own: without a male one near there is no fruit."
        ),
        ("sex",),
    ),
    (
        _("Ground and mulch"),
        _("Mulch saves water and rots away; grass takes water and feed."),
        (
            "drainage_hours",
            "soil_ph",
            "water_distance_m",
            "floor",
            "mulch_material",
            "mulch_depth_mm",
            "mulch_laid_on",
            "mulch_ring_radius_m",
            "trunk_gap_mm",
        ),
    ),
    (
        _("Care it had this season before today"),
        _(
            "Not known means wait: you are never asked for a full dose on top of one "
            "that was given."
        ),
        ("fed_before", "pruned_before", "mulched_before"),
    ),
    (
        _("Shared hole or hedge"),
        _(
            "Trees that share one hole have one root zone: they are watered and fed as "
            "one. A hedge that is kept low may stand closer than its kind does alone."
        ),
        ("clump_name", "clump_is_hedge", "clump_height_limit_m"),
    ),
)

QUANTITIES = (
    *("container_litres", "container_diameter_m", "crown_width_m", "height_m"),
    *("height_target_m", "spacing_m", "caliper_mm", "irrigation_litres"),
    *("watered_radius_m", "stock_litres", "mulch_depth_mm", "mulch_ring_radius_m"),
    *("trunk_gap_mm", "drip_l_per_h", "water_distance_m"),
)
NUMBERS = ("drainage_hours", "soil_ph")
CHOICES = ("stock", "floor", "rain_reach", "mulch_material", "goal", "support")
YES, NO = "yes", "no"
KNOWN = ("fed_before", "pruned_before", "mulched_before")


def _radios(
    choices: Iterable[tuple[str, Words]], label: Words, usual: str
) -> forms.ChoiceField:
    return forms.ChoiceField(
        label=label,
        choices=choices,
        initial=usual,
        widget=forms.RadioSelect,
        required=False,
    )


def _metres(label: Words, high: float, help_text: Words = "") -> QuantityField:
    return QuantityField(
        Quantity.LENGTH, low=0.05, high=high, label=label, help_text=help_text
    )


class TreeFields(UnitsForm):
    """The boxes alone; what must hold between them is checked where they are used."""

    species = species_field(_("Species"))
    grows_in = ground_or_pot_field(_("Where does it grow?"))
    container_litres = pot_litres_field(_("Pot volume"))
    planted = forms.CharField(
        label=_("Planted when?"),
        max_length=30,
        required=False,
        help_text=_(
            "A day, a month or a year: 2024-03-15, March 2024 or 2024. A day to come "
            "if it is still to be planted."
        ),
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    planted_long_ago = forms.BooleanField(
        label=_("Long ago; nobody knows"), required=False
    )
    name = forms.CharField(
        label=_("Name"),
        max_length=80,
        required=False,
        help_text=_("As you call it. Left empty, it is called after its species."),
    )
    cultivar = cultivar_field()
    tag = forms.CharField(
        label=_("Tag"),
        max_length=20,
        required=False,
        help_text=_("What its label says."),
    )
    block_name = block_field()
    position = forms.IntegerField(
        label=_("Place in its block"),
        required=False,
        min_value=1,
        max_value=9999,
        help_text=_(
            "1 comes first in the walk, unless trees are placed on the plan. Empty: "
            "last."
        ),
    )
    crown_width_m = _metres(
        _("Crown width"),
        40,
        _("From leaf tip to leaf tip, through the trunk."),
    )
    height_m = _metres(_("Height"), 60)
    height_target_m = _metres(_("Height you want"), 60, _("Pruning keeps it below."))
    spacing_m = _metres(_("Distance to its neighbours"), 40)
    caliper_mm = QuantityField(
        Quantity.DIAMETER,
        low=3,
        high=2000,
        label=_("Trunk width"),
        help_text=_("Through the trunk, a hand above the ground."),
    )
    near_wires = forms.BooleanField(
        label=_("Power lines are near its crown"),
        required=False,
        help_text=_("Then pruning tasks say to keep away and call the line's owner."),
    )
    place = forms.ChoiceField(
        label=_("Where does the pot stand now?"),
        choices=[("", _("Not a pot")), *Stay.Place.choices],
        required=False,
    )
    place_since = day_field(label=_("Since"), help_text=_("Left empty: since today."))
    container_diameter_m = _metres(
        _("Pot width at the top"),
        5,
        _("Left empty, it is estimated from the volume."),
    )
    container_medium = forms.ChoiceField(
        label=_("Filled with"), choices=MEDIUM_CHOICES, required=False
    )
    rain_reach = _radios(
        Tree.RainReach.choices, _("Does rain reach it?"), Tree.RainReach.YES
    )
    irrigation_litres = QuantityField(
        Quantity.VOLUME,
        low=0.1,
        high=2000,
        label=_("Sprinkler, timer or drip gives it, each time"),
        help_text=_("To this tree alone."),
    )
    irrigation_weekdays = forms.MultipleChoiceField(
        label=_("On these days"),
        choices=WEEKDAYS,
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    irrigation_minutes = NumberField(
        label=_("Or it runs, each time, for"),
        low=1,
        high=1440,
        unit=_("minutes"),
        required=False,
        help_text=_("Times what its drippers give: the litres are reckoned for you."),
    )
    irrigation_since = day_field(label=_("Running since"))
    irrigation_until = day_field(label=_("Until"), help_text=_("Empty: it goes on."))
    drip_l_per_h = QuantityField(
        Quantity.VOLUME,
        low=0.1,
        high=2000,
        label=_("Its drippers give together, in one hour"),
        help_text=_("Then litres are told in hours of dripping too."),
    )
    watered_radius_m = _metres(
        _("You wet the ground this far from the trunk"),
        10,
        _("Left empty: as far as the crown reaches."),
    )
    stock = forms.ChoiceField(
        label=_("It came"), choices=Tree.Stock.choices, required=False
    )
    stock_litres = QuantityField(
        Quantity.VOLUME,
        low=0.1,
        high=3000,
        label=_("Size of its nursery pot or root ball"),
    )
    is_grafted = _radios(
        [
            (YES, _("As is usual for its kind")),
            (NO, _("No, it grows on its own roots")),
        ],
        _("Is it grafted?"),
        YES,
    )
    rootstock = forms.CharField(
        label=_("On which rootstock"),
        max_length=40,
        required=False,
        help_text=_(
            "What its label says: M.9, Gisela 5, Quince A, dwarf. It decides how large "
            "the tree grows; dwarf ones often need a post for good."
        ),
    )
    sex = forms.ChoiceField(label=_("It bears"), choices=FLOWERS, required=False)
    goal = _radios(
        Tree.Goal.choices,
        _("While it is young, it should"),
        Tree.Goal.STANDARD,
    )
    support = forms.ChoiceField(
        label=_("It is held up by"),
        choices=Tree.Support.choices,
        required=False,
    )
    has_trunk_guard = forms.BooleanField(
        label=_("A guard stands round its trunk"),
        required=False,
        help_text=_("Against trimmers, teeth and sun; it must not grow tight."),
    )
    drainage_hours = NumberField(
        label=_("A test hole filled with water was empty after"),
        low=0,
        high=1000,
        unit=_("hours"),
        required=False,
        help_text=_(
            "Dig it where the tree stands or will stand, fill it twice, and time the "
            "second filling. Ask where pipes and cables lie before you dig."
        ),
    )
    soil_ph = NumberField(
        label=_("pH of its own bed"),
        low=SOIL_PH[0],
        high=SOIL_PH[1],
        required=False,
        help_text=_("Where it differs from the rest of the site."),
    )
    water_distance_m = QuantityField(
        Quantity.LENGTH,
        low=0,
        high=5000,
        label=_("Distance to a pond, ditch, stream or shore"),
        help_text=_("Local rules may forbid feeding close to water."),
    )
    floor = forms.ChoiceField(
        label=_("Under it lies"), choices=Tree.Floor.choices, required=False
    )
    mulch_material = forms.ChoiceField(
        label=_("Mulch"),
        choices=[("", _("No mulch")), *Tree.MulchMaterial.choices],
        required=False,
    )
    mulch_depth_mm = QuantityField(
        Quantity.DEPTH,
        low=0,
        high=600,
        label=_("Mulch depth now or when laid"),
    )
    mulch_laid_on = day_field(
        label=_("Laid or measured on"),
        help_text=_("Left empty: today."),
    )
    mulch_ring_radius_m = _metres(_("Mulch reaches this far from the trunk"), 10)
    trunk_gap_mm = QuantityField(
        Quantity.DEPTH,
        low=0,
        high=1000,
        label=_("Gap between trunk and mulch"),
        help_text=_("Mulch against the bark rots it."),
    )
    fed_before = _radios(Tree.Known.choices, _("Fed this season?"), Tree.Known.UNKNOWN)
    pruned_before = _radios(
        Tree.Known.choices, _("Pruned this season?"), Tree.Known.UNKNOWN
    )
    mulched_before = _radios(
        Tree.Known.choices, _("Mulched this season?"), Tree.Known.UNKNOWN
    )
    clump_name = forms.CharField(
        label=_("Name of the shared hole or hedge"),
        max_length=60,
        required=False,
        help_text=_("The same name for every tree in it."),
        widget=forms.TextInput(attrs={"list": "clumps", "autocomplete": "off"}),
    )
    clump_is_hedge = forms.BooleanField(
        label=_("It is a hedge"),
        required=False,
        help_text=_("Said of the whole hedge, whichever of its trees you say it at."),
    )
    clump_height_limit_m = QuantityField(
        Quantity.LENGTH,
        low=0.3,
        high=30,
        label=_("It is kept at this height"),
        help_text=_("Empty: it may grow as high as it will."),
    )
