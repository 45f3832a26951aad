"""What to look for among the kinds that may fit a site."""

from calendar import month_name

from django import forms

MONTHS = [(str(number), month_name[number]) for number in range(1, 13)]
GROUND, POT = "ground", "pot"


class FitForm(forms.Form):
    """Filters of the list of kinds; all may be left out."""

    q = forms.CharField(
        label="Find a kind",
        required=False,
        max_length=80,
        widget=forms.TextInput(attrs={"type": "search", "autocomplete": "off"}),
        error_messages={"max_length": "That is too long for a name: use 80 letters."},
    )
    place = forms.ChoiceField(
        label="Where it will grow",
        required=False,
        choices=[(GROUND, "In the ground"), (POT, "In a pot")],
        error_messages={"invalid_choice": "Choose the ground or a pot."},
    )
    self_fruitful = forms.BooleanField(label="Fruits alone", required=False)
    evergreen = forms.BooleanField(label="Keeps its leaves", required=False)
    small = forms.BooleanField(label="Stays small, up to 4 m (13 ft)", required=False)
    takes_pot = forms.BooleanField(label="Takes to a pot", required=False)
    month = forms.MultipleChoiceField(
        label="Ripe in any of",
        required=False,
        choices=MONTHS,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"invalid_choice": "Choose months from January to December."},
    )

    @property
    def months(self) -> frozenset[int]:
        """The chosen months, 1 to 12; of a form that is not valid, none."""
        return frozenset(map(int, self.cleaned_data.get("month", ())))

    @property
    def in_pot(self) -> bool:
        """Whether kinds are tried in pots."""
        return self.cleaned_data.get("place") == POT
