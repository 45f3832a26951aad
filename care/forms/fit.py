"""What to look for among the kinds that may fit a site."""

from django import forms
from django.utils.translation import gettext_lazy

MONTHS = [
    ("1", gettext_lazy("January")),
    ("2", gettext_lazy("February")),
    ("3", gettext_lazy("March")),
    ("4", gettext_lazy("April")),
    ("5", gettext_lazy("May")),
    ("6", gettext_lazy("June")),
    ("7", gettext_lazy("July")),
    ("8", gettext_lazy("August")),
    ("9", gettext_lazy("September")),
    ("10", gettext_lazy("October")),
    ("11", gettext_lazy("November")),
    ("12", gettext_lazy("December")),
]
GROUND, POT = "ground", "pot"


class FitForm(forms.Form):
    """Filters of the list of kinds; all may be left out."""

    q = forms.CharField(
        label=gettext_lazy("Find a kind"),
        required=False,
        max_length=80,
        widget=forms.TextInput(attrs={"type": "search", "autocomplete": "off"}),
        error_messages={
            "max_length": gettext_lazy("That is too long for a name: use 80 letters.")
        },
    )
    place = forms.ChoiceField(
        label=gettext_lazy("Where it will grow"),
        required=False,
        choices=[
            (GROUND, gettext_lazy("In the ground")),
            (POT, gettext_lazy("In a pot")),
        ],
        error_messages={"invalid_choice": gettext_lazy("Choose the ground or a pot.")},
    )
    self_fruitful = forms.BooleanField(
        label=gettext_lazy("Fruits alone"), required=False
    )
    evergreen = forms.BooleanField(
        label=gettext_lazy("Keeps its leaves"), required=False
    )
    small = forms.BooleanField(
        label=gettext_lazy("Stays small, up to 4 m (13 ft)"), required=False
    )
    takes_pot = forms.BooleanField(label=gettext_lazy("Takes to a pot"), required=False)
    month = forms.MultipleChoiceField(
        label=gettext_lazy("Ripe in any of"),
        required=False,
        choices=MONTHS,
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "invalid_choice": gettext_lazy("Choose months from January to December.")
        },
    )

    @property
    def months(self) -> frozenset[int]:
        """The chosen months, 1 to 12; of a form that is not valid, none."""
        return frozenset(map(int, self.cleaned_data.get("month", ())))

    @property
    def in_pot(self) -> bool:
        """Whether kinds are tried in pots."""
        return self.cleaned_data.get("place") == POT
