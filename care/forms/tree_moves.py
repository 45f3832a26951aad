"""What a person says of a tree that changes its pot, its ground or its successor."""

from dataclasses import dataclass
from datetime import date

from django import forms
from django.utils.translation import gettext, gettext_lazy

from care.actions.tree_moves import Pot, Spot
from care.forms.past_days import PastDayField
from care.forms.work import NOTE_LENGTH
from orchard.catalogue.search import Names
from orchard.forms.fields import NumberField, QuantityField, UnitsForm
from orchard.forms.kind_names import read_kind
from orchard.languages import Words, day_of_year
from orchard.models import Tree
from orchard.units import Quantity, UnitSystem, unit_label

__all__ = ["DigForm", "GroundForm", "Moving", "ReplaceForm", "RepotForm"]

DAYS_BACK = 365
LEAST_POT_L, MOST_POT_L = 0.5, 5000.0
LEAST_POT_M, MOST_POT_M = 0.05, 5.0
MOST_HOURS = 1000.0
MEDIA = (("mix", gettext_lazy("Potting mix")), ("soil", gettext_lazy("Garden soil")))
NO_BLOCK = "0"
REPLACEMENTS = gettext_lazy("Replacements")


@dataclass(frozen=True, slots=True)
class Moving:
    """The tree that moves, the day it is, and the blocks it may go to.

    ``since`` is the last day on which it was planted or potted: no move lies before it.
    """

    tree: Tree
    today: date
    units: UnitSystem
    blocks: tuple[tuple[int, str], ...] = ()
    since: date | None = None


def _litres(label: Words, units: UnitSystem) -> QuantityField:
    field = QuantityField(
        Quantity.VOLUME,
        low=LEAST_POT_L,
        high=MOST_POT_L,
        label=gettext("{label}, in {unit}").format(
            label=label, unit=unit_label(Quantity.VOLUME, units)
        ),
        required=True,
    )
    field.error_messages["required"] = gettext("How much does it hold?")
    return field


def _note() -> forms.CharField:
    return forms.CharField(
        required=False, max_length=NOTE_LENGTH, label=gettext("Note")
    )


class _MoveForm(UnitsForm):
    """A move on some day, not before the tree came to where it is."""

    prefix_of_ids = ""

    def __init__(self, data: object = None, *, moving: Moving, **initial: object):
        super().__init__(
            data,
            units=moving.units,
            initial=initial,
            auto_id=f"{self.prefix_of_ids}_%s",
        )
        self.moving = moving
        self.fields["on"] = PastDayField(
            today=moving.today, label=gettext("When"), days_back=DAYS_BACK
        )
        self.fields["note"] = _note()

    def _speak(self) -> None:
        for field in self.fields.values():
            if isinstance(field, QuantityField):
                field.system = self.units

    def clean_on(self) -> date:
        """Refuse a day before the tree was planted or potted last."""
        on: date = self.cleaned_data["on"]
        since = self.moving.since
        if since is not None and on < since:
            message = gettext(
                "It was planted or potted on {since}: not before that day. Is that "
                "day wrong? Undo it in the log first."
            ).format(since=day_of_year(since))
            raise forms.ValidationError(message, code="early")
        return on


class _PotForm(_MoveForm):
    """The pot it goes into."""

    def __init__(self, data: object = None, *, moving: Moving, **initial: object):
        super().__init__(data, moving=moving, **initial)
        day, note = self.fields.pop("on"), self.fields.pop("note")
        units = moving.units
        length = unit_label(Quantity.LENGTH, units)
        self.fields["litres"] = _litres(gettext("The new pot holds"), units)
        self.fields["diameter"] = QuantityField(
            Quantity.LENGTH,
            low=LEAST_POT_M,
            high=MOST_POT_M,
            label=gettext("Its width at the top, in {unit}").format(unit=length),
            help_text=gettext("Left empty, it is estimated from the volume."),
        )
        self.fields["medium"] = forms.ChoiceField(
            label=gettext("Filled with"), choices=MEDIA
        )
        self.fields |= {"on": day, "note": note}
        self._speak()

    def pot(self) -> Pot:
        """Return the pot, in SI units."""
        given = self.cleaned_data
        return Pot(given["litres"], given["diameter"], given["medium"])


class RepotForm(_PotForm):
    """Another pot."""

    prefix_of_ids = "repot"

    def __init__(self, data: object = None, *, moving: Moving) -> None:
        medium = moving.tree.container_medium or "mix"
        super().__init__(data, moving=moving, medium=medium)


def _add_spot(form: _MoveForm, moving: Moving) -> None:
    note = form.fields.pop("note")
    if moving.blocks:
        form.fields["block"] = forms.ChoiceField(
            label=gettext("In which block it stands now"),
            choices=[
                (NO_BLOCK, gettext("No block")),
                *((str(k), n) for k, n in moving.blocks),
            ],
            initial=str(moving.tree.block_id or NO_BLOCK),
            required=False,
        )
    if moving.tree.x_m is not None:
        form.fields["keeps_place"] = forms.BooleanField(
            label=gettext("It stands where the plan of the site has it"),
            help_text=gettext(
                "Without this tick its place on the plan is cleared, to be "
                "measured anew."
            ),
            required=False,
        )
    form.fields["note"] = note


def _spot(form: _MoveForm) -> Spot:
    given = form.cleaned_data
    chosen = given.get("block")
    own = form.moving.tree.block_id
    block = (int(chosen) or None) if chosen else own
    return Spot(block, keeps_place=bool(given.get("keeps_place")))


class GroundForm(_MoveForm):
    """Out of its pot into the ground."""

    prefix_of_ids = "ground"

    def __init__(self, data: object = None, *, moving: Moving) -> None:
        super().__init__(data, moving=moving, ball=moving.tree.container_litres)
        day, note = self.fields.pop("on"), self.fields.pop("note")
        self.fields["ball"] = _litres(gettext("Its root ball holds"), moving.units)
        self.fields["ball"].help_text = gettext(
            "The pot's volume, less what was cut off it."
        )
        self.fields["drainage_hours"] = NumberField(
            low=0,
            high=MOST_HOURS,
            label=gettext("A test hole there was empty after, in hours"),
            required=False,
            help_text=gettext("Left empty where nobody tested."),
        )
        self.fields |= {"on": day, "note": note}
        _add_spot(self, moving)
        self._speak()

    def spot(self) -> Spot:
        """Return where it goes."""
        return _spot(self)


class DigForm(_PotForm):
    """Out of the ground into a pot."""

    prefix_of_ids = "dig"

    def __init__(self, data: object = None, *, moving: Moving) -> None:
        super().__init__(data, moving=moving, medium="mix")
        _add_spot(self, moving)

    def spot(self) -> Spot:
        """Return where it goes."""
        return _spot(self)


class ReplaceForm(forms.Form):
    """What is wanted where a tree stood."""

    name = forms.CharField(
        label=gettext_lazy("Its name"),
        max_length=80,
        error_messages={"required": gettext_lazy("Give the new tree a name.")},
    )
    species = forms.CharField(
        label=gettext_lazy("Species"),
        max_length=80,
        widget=forms.TextInput(attrs={"list": "kinds", "autocomplete": "off"}),
        error_messages={
            "required": gettext_lazy("Say what it is, such as apple or fig.")
        },
    )
    cultivar = forms.CharField(
        label=gettext_lazy("Cultivar"), max_length=60, required=False
    )
    rootstock = forms.CharField(
        label=gettext_lazy("Rootstock"), max_length=40, required=False
    )
    planting = forms.CharField(
        label=gettext_lazy("In the planting"),
        max_length=60,
        help_text=gettext_lazy(
            "A list of trees to buy and plant together; it is made if need be."
        ),
        error_messages={
            "required": gettext_lazy("Name a planting, such as Replacements.")
        },
    )

    def __init__(
        self, data: object = None, *, tree: Tree, names: Names, species_name: str
    ) -> None:
        initial = {
            "name": f"New {tree.name}"[:80],
            "species": species_name,
            "cultivar": tree.cultivar,
            "rootstock": tree.rootstock,
            "planting": REPLACEMENTS,
            "same_place": True,
        }
        super().__init__(data, initial=initial, auto_id="replace_%s")  # type: ignore[arg-type]  # a QueryDict or None
        self._names = names
        if tree.x_m is not None:
            self.fields["same_place"] = forms.BooleanField(
                label=gettext("At the same place on the plan"),
                required=False,
                help_text=gettext("Without this tick you choose its place later."),
            )

    def clean_species(self) -> str:
        """Return the kind's key; name the closest where none is called so."""
        return read_kind(str(self.cleaned_data["species"]), self._names)
