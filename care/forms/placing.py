"""What places are to be proposed for."""

from django import forms
from django.utils.translation import gettext_lazy

from care.planning.placing import Goal

MOST_ATTEMPTS = 999
GOALS = [
    (Goal.MOST.value, gettext_lazy("As many as fit, closer where they must")),
    (
        Goal.BEST.value,
        gettext_lazy("None too close; what fits this place best goes first"),
    ),
]


class PlacingForm(forms.Form):
    """What matters most, and which try it is."""

    goal = forms.ChoiceField(
        label=gettext_lazy("What matters most?"),
        choices=GOALS,
        widget=forms.RadioSelect,
        initial=Goal.MOST.value,
    )
    attempt = forms.IntegerField(
        required=False, min_value=0, max_value=MOST_ATTEMPTS, widget=forms.HiddenInput
    )

    def chosen(self) -> tuple[Goal, int]:
        """Return the goal and the try; the usual ones where the form was not valid."""
        if not self.is_bound or not self.is_valid():
            return Goal.MOST, 0
        data = self.cleaned_data
        return Goal(data["goal"]), data["attempt"] or 0
