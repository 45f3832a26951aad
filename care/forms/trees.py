"""What a person says about one tree: readings, harvest, moves, its end."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django import forms
from django.utils.translation import gettext, gettext_lazy

from care.forms.past_days import PastDayField
from care.forms.work import NOTE_LENGTH
from orchard.forms.fields import NumberField, QuantityField, UnitsForm
from orchard.languages import Words
from orchard.models import Stay, Tree
from orchard.units import Quantity, UnitSystem, unit_label

FEELINGS = (
    ("wet", gettext_lazy("Wet")),
    ("right", gettext_lazy("Right")),
    ("dry", gettext_lazy("Dry")),
)


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing that can be measured at a tree, with its most in the unit stored."""

    name: Words
    quantity: Quantity | None  # None: hours
    most: float
    is_of_pots: bool | None = None  # None: of pots and of the ground


MEASURES = {
    "mulch_depth_mm": Measure(gettext_lazy("Depth of the mulch"), Quantity.DEPTH, 400),
    "trunk_gap_mm": Measure(
        gettext_lazy("Bare ground round the trunk"), Quantity.DEPTH, 1000
    ),
    "shoot_growth_mm": Measure(
        gettext_lazy("Growth of this year's shoots"), Quantity.DEPTH, 4000
    ),
    "drained_after_l": Measure(
        gettext_lazy("Water it took until some ran out below"),
        Quantity.VOLUME,
        2000,
        is_of_pots=True,
    ),
    "not_drained_l": Measure(
        gettext_lazy("Water it got, and none ran out below"),
        Quantity.VOLUME,
        2000,
        is_of_pots=True,
    ),
    "drainage_hours": Measure(
        gettext_lazy("A test hole filled with water was empty after"),
        None,
        1000,
        is_of_pots=False,
    ),
}
#: What is worth measuring before the tree stands there.
BEFORE_PLANTING = ("drainage_hours",)
HARVEST_DAYS_BACK = 365
MOST_KG = 2000.0


class FeelForm(forms.Form):
    """How the soil felt a finger deep."""

    word = forms.ChoiceField(choices=FEELINGS)


class StageForm(forms.Form):
    """At which stage the buds are; its choices are offered as buttons."""

    word = forms.ChoiceField(
        label=gettext_lazy("Stage"),
        error_messages={"required": gettext_lazy("Choose a stage.")},
    )

    def __init__(self, data: object = None, *, stages: list[tuple[str, str]]) -> None:
        super().__init__(data, auto_id="stage_%s")  # type: ignore[arg-type]  # a QueryDict or None
        word = self.fields["word"]
        if isinstance(word, forms.ChoiceField):
            word.choices = stages


def measures_of(tree: Tree, today: date) -> tuple[str, ...]:
    """Return what can be measured at a tree, in the order it is offered."""
    fitting = [
        what
        for what, measure in MEASURES.items()
        if measure.is_of_pots in (None, tree.in_container)
    ]
    if tree.is_planned(today):
        return tuple(what for what in fitting if what in BEFORE_PLANTING)
    return tuple(fitting)


class MeasureForm(UnitsForm):
    """One thing somebody measured at the tree."""

    def __init__(self, data: object = None, *, what: str, units: UnitSystem) -> None:
        super().__init__(data, units=units, auto_id=f"{what}_%s")
        field = _measure_field(MEASURES[what], units)
        field.error_messages["required"] = gettext("Write what you measured.")
        self.fields["value"] = field


def _measure_field(measure: Measure, units: UnitSystem) -> QuantityField | NumberField:
    if measure.quantity is None:
        label = gettext("{name}, in hours").format(name=measure.name)
        return NumberField(low=0, high=measure.most, label=label, required=True)
    unit = unit_label(measure.quantity, units)
    field = QuantityField(
        measure.quantity,
        low=0.0,
        high=measure.most,
        label=gettext("{name}, in {unit}").format(name=measure.name, unit=unit),
        required=True,
    )
    field.system = units
    return field


class HarvestForm(UnitsForm):
    """How much was picked, and when."""

    mass = QuantityField(Quantity.MASS, low=0.01, high=MOST_KG, label="", required=True)
    note = forms.CharField(
        required=False, max_length=NOTE_LENGTH, label=gettext_lazy("Note")
    )
    field_order = ("mass", "cultivar", "on", "note")

    def __init__(
        self,
        data: object = None,
        *,
        today: date,
        units: UnitSystem,
        cultivars: Sequence[str] = (),
    ) -> None:
        super().__init__(data, units=units, auto_id="harvest_%s")
        mass = self.fields["mass"]
        mass.label = gettext("Picked, in {unit}").format(
            unit=unit_label(Quantity.MASS, units)
        )
        mass.error_messages["required"] = gettext("How much was picked?")
        self.fields["on"] = PastDayField(
            today=today, label=gettext("When"), days_back=HARVEST_DAYS_BACK
        )
        if cultivars:
            self.fields["cultivar"] = forms.ChoiceField(
                label=gettext("Which cultivar"),
                choices=[
                    ("", gettext("Not told apart")),
                    *((one, one) for one in cultivars),
                ],
                required=False,
            )
        self.order_fields(self.field_order)


def cultivars_on(tree: Tree) -> tuple[str, ...]:
    """Return the cultivars of a tree that has grafts; of any other, none."""
    grafted = [graft.cultivar for graft in tree.grafts.filter(ended_on=None)]
    own = [tree.cultivar] if tree.cultivar else []
    return tuple(dict.fromkeys([*own, *grafted])) if grafted else ()


class MoveForm(forms.Form):
    """Where a pot stands, and since when."""

    place = forms.ChoiceField(
        label=gettext_lazy("It stands"), choices=Stay.Place, widget=forms.RadioSelect
    )

    def __init__(
        self, data: object = None, *, today: date, place: str = Stay.Place.OUTDOORS
    ) -> None:
        super().__init__(data, initial={"place": place}, auto_id="move_%s")  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["on"] = PastDayField(today=today, label=gettext("Since"))


class EndForm(forms.Form):
    """That a tree was lost or removed, when and why."""

    status = forms.ChoiceField(
        label=gettext_lazy("What happened"),
        choices=(
            (Tree.Status.LOST, gettext_lazy("It died")),
            (Tree.Status.REMOVED, gettext_lazy("We took it out")),
        ),
        widget=forms.RadioSelect,
        error_messages={"required": gettext_lazy("Choose what happened.")},
    )
    reason = forms.CharField(
        label=gettext_lazy("Why"),
        max_length=120,
        error_messages={"required": gettext_lazy("A few words help next time.")},
    )

    def __init__(self, data: object = None, *, today: date) -> None:
        super().__init__(data, auto_id="end_%s")  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["on"] = PastDayField(
            today=today, label=gettext("When"), days_back=HARVEST_DAYS_BACK
        )


class NoteForm(forms.Form):
    """A few words on a tree."""

    note = forms.CharField(
        label=gettext_lazy("Note"),
        max_length=NOTE_LENGTH,
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"required": gettext_lazy("Write a few words first.")},
    )

    def __init__(self, data: object = None) -> None:
        super().__init__(data, auto_id="note_%s")  # type: ignore[arg-type]  # a QueryDict or None
