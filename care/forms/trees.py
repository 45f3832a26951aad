"""What a person says about one tree: readings, harvest, moves, its end."""

from datetime import date

from django import forms

from care.forms.past_days import PastDayField
from care.forms.work import NOTE_LENGTH
from orchard.forms.fields import QuantityField, UnitsForm
from orchard.models import Stay, Tree
from orchard.units import Quantity, UnitSystem, unit_label

FEELINGS = (("wet", "Wet"), ("right", "Right"), ("dry", "Dry"))
#: What can be measured -> its name and its most in mm.
MEASURES = {
    "mulch_depth_mm": ("Depth of the mulch", 400.0),
    "trunk_gap_mm": ("Bare ground round the trunk", 1000.0),
    "shoot_growth_mm": ("Growth of this year's shoots", 4000.0),
}
HARVEST_DAYS_BACK = 365
MOST_KG = 2000.0


class FeelForm(forms.Form):
    """How the soil felt a finger deep."""

    word = forms.ChoiceField(choices=FEELINGS)


class StageForm(forms.Form):
    """At which stage the buds are."""

    word = forms.ChoiceField(
        label="Stage", error_messages={"required": "Choose a stage."}
    )

    def __init__(self, data: object = None, *, stages: list[tuple[str, str]]) -> None:
        super().__init__(data, auto_id="stage_%s")  # type: ignore[arg-type]  # a QueryDict or None
        word = self.fields["word"]
        if isinstance(word, forms.ChoiceField):
            word.choices = [("", "Choose"), *stages]


class MeasureForm(UnitsForm):
    """One length somebody measured at the tree."""

    def __init__(self, data: object = None, *, what: str, units: UnitSystem) -> None:
        super().__init__(data, units=units, auto_id=f"{what}_%s")
        name, most = MEASURES[what]
        field = QuantityField(
            Quantity.DEPTH,
            low=0.0,
            high=most,
            label=f"{name}, in {unit_label(Quantity.DEPTH, units)}",
            required=True,
        )
        field.system = units
        field.error_messages["required"] = "Write what you measured."
        self.fields["value"] = field


class HarvestForm(UnitsForm):
    """How much was picked, and when."""

    mass = QuantityField(Quantity.MASS, low=0.01, high=MOST_KG, label="", required=True)
    note = forms.CharField(required=False, max_length=NOTE_LENGTH, label="Note")
    field_order = ("mass", "on", "note")

    def __init__(self, data: object = None, *, today: date, units: UnitSystem) -> None:
        super().__init__(data, units=units, auto_id="harvest_%s")
        mass = self.fields["mass"]
        mass.label = f"Picked, in {unit_label(Quantity.MASS, units)}"
        mass.error_messages["required"] = "How much was picked?"
        self.fields["on"] = PastDayField(
            today=today, label="When", days_back=HARVEST_DAYS_BACK
        )
        self.order_fields(self.field_order)


class MoveForm(forms.Form):
    """Where a pot stands, and since when."""

    place = forms.ChoiceField(
        label="It stands", choices=Stay.Place, widget=forms.RadioSelect
    )

    def __init__(
        self, data: object = None, *, today: date, place: str = Stay.Place.OUTDOORS
    ) -> None:
        super().__init__(data, initial={"place": place}, auto_id="move_%s")  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["on"] = PastDayField(today=today, label="Since")


class EndForm(forms.Form):
    """That a tree was lost or removed, when and why."""

    status = forms.ChoiceField(
        label="What happened",
        choices=(
            (Tree.Status.LOST, "It died"),
            (Tree.Status.REMOVED, "We took it out"),
        ),
        widget=forms.RadioSelect,
        error_messages={"required": "Choose what happened."},
    )
    reason = forms.CharField(
        label="Why",
        max_length=120,
        error_messages={"required": "A few words help next time."},
    )

    def __init__(self, data: object = None, *, today: date) -> None:
        super().__init__(data, auto_id="end_%s")  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["on"] = PastDayField(
            today=today, label="When", days_back=HARVEST_DAYS_BACK
        )


class NoteForm(forms.Form):
    """A few words on a tree."""

    note = forms.CharField(
        label="Note",
        max_length=NOTE_LENGTH,
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"required": "Write a few words first."},
    )

    def __init__(self, data: object = None) -> None:
        super().__init__(data, auto_id="note_%s")  # type: ignore[arg-type]  # a QueryDict or None
