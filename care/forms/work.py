"""What a person says when they tick, skip or put off a task."""

from datetime import date, timedelta

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext, gettext_lazy, gettext_noop

from care.actions.done_entry import unit_of
from care.forms.drained import add_drained, check_drained
from care.forms.past_days import PastDayField
from care.models import Task
from orchard.forms.fields import NumberField, QuantityField, UnitsForm
from orchard.languages import day_and_month
from orchard.units import Quantity, UnitSystem, unit_label

POSTPONED_DAYS = 14
NOTE_LENGTH = 2000
#: Longer than a day's work is a clock left running.
MOST_MINUTES = 720

SHARE = "share"  # the unit of a part of the crown
SMALLEST_POT_L = 0.5
MOST_HOURS = 1000
_MOST = {"L": 2000.0, "g": 50_000.0, "mm": 300.0}
_QUANTITIES = {"L": Quantity.VOLUME, "g": Quantity.SMALL_MASS, "mm": Quantity.DEPTH}

SKIP_REASONS: dict[str, tuple[tuple[str, str], ...]] = {
    "watering": (
        ("still_wet", gettext_noop("The soil is still wet")),
        ("watered_otherwise", gettext_noop("It got water another way")),
        ("no_water", gettext_noop("No water at the tap")),
    ),
    "feeding": (
        ("fed_otherwise", gettext_noop("It was fed another way")),
        ("grows_enough", gettext_noop("It grows strongly enough")),
        ("soil_dry", gettext_noop("The soil is too dry to feed")),
        (
            "not_hungry",
            gettext_noop("Drought, wet roots or planting held its shoots back"),
        ),
    ),
    "flushing": (
        ("still_wet", gettext_noop("The soil is still wet")),
        ("rained_through", gettext_noop("Rain has washed it through")),
        ("no_water", gettext_noop("Not enough water at hand")),
    ),
    "soil": (
        ("no_laboratory", gettext_noop("No test to be had")),
        ("no_material", gettext_noop("No sulfur at hand")),
    ),
    "mulching": (
        ("deep_enough", gettext_noop("The mulch is deep enough")),
        ("no_material", gettext_noop("Nothing to mulch with")),
    ),
    "pruning": (
        ("not_needed", gettext_noop("It needs no cuts this time")),
        ("unsafe", gettext_noop("It cannot be done safely")),
        ("weather", gettext_noop("Too wet or too cold for cuts")),
    ),
    "training": (
        ("not_needed", gettext_noop("Its shape is right")),
        ("weather", gettext_noop("Too wet or too cold for cuts")),
    ),
    "suckers": (("none_found", gettext_noop("There are none")),),
    "sanitation": (
        ("none_found", gettext_noop("Nothing sick is to be seen")),
        ("unsafe", gettext_noop("It cannot be done safely")),
    ),
    "planting": (
        ("known_already", gettext_noop("It is known already")),
        ("no_digging", gettext_noop("Nothing is dug there")),
        ("plan_changed", gettext_noop("It is not planted after all")),
    ),
    "establishing": (
        ("seen_already", gettext_noop("It was seen to already")),
        ("needs_support", gettext_noop("It still needs its support")),
    ),
    "potting": (
        ("roots_not_full", gettext_noop("Its roots do not fill the pot yet")),
        ("too_heavy", gettext_noop("Too heavy to handle")),
    ),
    "inspection": (("seen_lately", gettext_noop("It was looked at lately")),),
    "cold": (
        ("warm_enough", gettext_noop("It stays warm enough there")),
        ("protected_otherwise", gettext_noop("It is protected another way")),
        ("too_heavy", gettext_noop("Too heavy to move")),
    ),
    "freeze": (
        ("warm_enough", gettext_noop("It stays warm enough there")),
        ("nothing_to_do", gettext_noop("There is nothing to do on it")),
    ),
    "heat": (
        ("shaded_already", gettext_noop("It stands in shade")),
        ("too_heavy", gettext_noop("Too heavy to move")),
    ),
    "weeding": (
        ("few_weeds", gettext_noop("Hardly anything grows there")),
        ("soil_wet", gettext_noop("The soil is too wet to work")),
    ),
    "thinning": (
        ("light_crop", gettext_noop("It bears few fruit anyway")),
        ("unsafe", gettext_noop("It cannot be done safely")),
    ),
    "harvest": (
        ("no_crop", gettext_noop("It bears nothing this year")),
        ("taken_by_others", gettext_noop("Birds or people took it")),
        ("waiting_days", gettext_noop("A waiting time is not over")),
    ),
}
USUAL_REASONS = (
    ("not_needed", gettext_noop("Not needed")),
    ("no_time", gettext_noop("No time")),
    ("other", gettext_noop("Another reason")),
)


def skip_reasons(kind: str) -> tuple[tuple[str, str], ...]:
    """Return the reasons a person may give for skipping a task of one kind."""
    own = dict(SKIP_REASONS.get(kind, ()))
    usual = {code: words for code, words in USUAL_REASONS if code not in own}
    return tuple((code, gettext(words)) for code, words in (own | usual).items())


def skip_reason_words(kind: str, code: str) -> str:
    """Return a stored reason in words; an unknown one as it stands."""
    return dict(skip_reasons(kind)).get(code, code.replace("_", " "))


def minutes_field(label: str, help_text: str = "") -> NumberField:
    """Return a field for how long work took [min], which may be left empty."""
    return NumberField(
        low=1,
        high=MOST_MINUTES,
        unit="min",
        label=label,
        help_text=help_text,
        required=False,
    )


def planned_amount(task: Task) -> float | None:
    """Return what a box for the amount shows at first: a share in percent."""
    if task.amount is None or task.unit != SHARE:
        return task.amount
    return round(100 * task.amount)


class DoneForm(UnitsForm):
    """Tick a task: how much, when, how long, a note; all has a good default."""

    note = forms.CharField(
        required=False,
        max_length=NOTE_LENGTH,
        widget=forms.Textarea(attrs={"rows": 2}),
        label=gettext_lazy("Note"),
    )
    field_order = ("amount", "drained", "drained_after", "on", "minutes", "note")

    def __init__(
        self,
        data: object = None,
        *,
        task: Task,
        today: date,
        units: UnitSystem,
        asks_drained: bool = False,
    ) -> None:
        self.is_share = task.unit == SHARE
        super().__init__(data, initial={"amount": planned_amount(task)}, units=units)
        self.fields["on"] = PastDayField(
            today=today, label=gettext_lazy("When"), required=False
        )
        self.fields["minutes"] = minutes_field(gettext("Minutes it took"))
        amount = amount_field(task, units)
        if amount is not None:
            self.fields["amount"] = amount
        if asks_drained:
            add_drained(self, units)
        self.order_fields(self.field_order)

    def clean(self) -> dict[str, object]:
        """Check that what ran out below fits what the pot got."""
        cleaned = super().clean()
        check_drained(self, cleaned)
        return cleaned

    def clean_amount(self) -> float | None:
        """Return a share of the crown as 0-1, other amounts as they are."""
        amount: float | None = self.cleaned_data["amount"]
        return amount / 100 if self.is_share and amount is not None else amount


def amount_field(task: Task, units: UnitSystem) -> forms.CharField | None:
    """Return the field for what was really given, or None where nothing is measured."""
    if task.unit == SHARE:
        label = gettext("How much of the crown came off, in percent")
        return NumberField(low=0, high=100, unit="%", label=label, required=False)
    if unit_of(task) == "h":
        label = gettext("The test hole was empty after, in hours")
        return NumberField(low=0, high=MOST_HOURS, label=label, required=False)
    quantity = _QUANTITIES.get(task.unit)
    if quantity is None:
        return None
    if task.kind == "mulching" and quantity is Quantity.VOLUME:
        quantity = Quantity.LOOSE_VOLUME
    label, low = gettext("How much it got, in {unit}"), 0.0
    if task.kind == "potting":
        label, low = gettext("The pot it is in now, in {unit}"), SMALLEST_POT_L
    label = label.format(unit=unit_label(quantity, units))
    field = QuantityField(quantity, low=low, high=_MOST[task.unit], label=label)
    field.system = units
    return field


class SkipForm(forms.Form):
    """Close a task undone, with a reason the plan can learn from."""

    reason = forms.ChoiceField(label=gettext_lazy("Why not?"), widget=forms.RadioSelect)
    note = forms.CharField(
        required=False,
        max_length=NOTE_LENGTH,
        label=gettext_lazy("Note"),
        widget=forms.TextInput,
    )

    def __init__(self, data: object = None, *, kind: str) -> None:
        super().__init__(data)  # type: ignore[arg-type]  # a QueryDict or None
        reason = self.fields["reason"]
        if isinstance(reason, forms.ChoiceField):
            reason.choices = skip_reasons(kind)
            reason.error_messages["required"] = gettext(
                "Choose the reason that fits best."
            )


class LaterForm(forms.Form):
    """Put a task off, but not so long that it no longer makes sense."""

    def __init__(self, data: object = None, *, task: Task, today: date) -> None:
        self.first = today + timedelta(days=1)
        self.last = max(task.latest, today) + timedelta(days=POSTPONED_DAYS)
        super().__init__(data, initial={"until": self.first})  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["until"] = forms.DateField(
            label=gettext_lazy("Not before"),
            error_messages={"required": gettext_lazy("Choose a day.")},
            widget=forms.DateInput(
                format="%Y-%m-%d",
                attrs={
                    "type": "date",
                    "min": self.first.isoformat(),
                    "max": self.last.isoformat(),
                },
            ),
        )

    def clean_until(self) -> date:
        """Return the day.

        Raises
        ------
        ValidationError
            It is not after today, or too far off.
        """
        until: date = self.cleaned_data["until"]
        if until < self.first:
            message = gettext("Choose a day after today.")
            raise ValidationError(message)
        if until > self.last:
            message = gettext("The plan can wait until {day} at most. Skip it instead.")
            raise ValidationError(message.format(day=day_and_month(self.last)))
        return until
