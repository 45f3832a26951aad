"""Whether water ran out below a pot: what tells best how much it drinks."""

from collections.abc import Mapping

from django import forms
from django.utils.translation import gettext, gettext_lazy

from orchard.forms.fields import QuantityField
from orchard.units import Quantity, UnitSystem, unit_label

YES, NO = "yes", "no"
CHOICES = (
    (YES, gettext_lazy("Yes")),
    (NO, gettext_lazy("No, none")),
    ("", gettext_lazy("Nobody looked")),
)
MOST_LITRES = 2000.0


def add_drained(form: forms.Form, units: UnitSystem) -> None:
    """Add the question to a form that says how much a pot got."""
    form.fields["drained"] = forms.ChoiceField(
        label=gettext("Did water run out below?"),
        choices=CHOICES,
        widget=forms.RadioSelect,
        required=False,
        initial="",
        help_text=gettext("A few such answers teach the plan how much it drinks."),
    )
    after = QuantityField(
        Quantity.VOLUME,
        low=0.0,
        high=MOST_LITRES,
        label=gettext("It ran after about, in {unit}").format(
            unit=unit_label(Quantity.VOLUME, units)
        ),
        help_text=gettext("Left empty: after all that it got."),
    )
    after.system = units
    form.fields["drained_after"] = after


def check_drained(form: forms.Form, cleaned: Mapping[str, object]) -> None:
    """Refuse litres of what did not run, and more than the pot got."""
    after, given = cleaned.get("drained_after"), cleaned.get("amount")
    if not isinstance(after, float):
        return
    if cleaned.get("drained") != YES:
        form.add_error("drained", gettext("Did water run out below? Then say yes."))
    if isinstance(given, float) and after > given:
        form.add_error("drained_after", gettext("That is more than it got."))


def drained_of(cleaned: Mapping[str, object]) -> bool | None:
    """Return what was answered; ``None`` where nobody looked."""
    return {YES: True, NO: False}.get(str(cleaned.get("drained", "")))
