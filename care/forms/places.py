"""What is sent with a press on a place: whom to ask, what to give, how long."""

from django import forms
from django.utils.translation import gettext_lazy

A_DAY_MINUTES = 24 * 60


class CoverForm(forms.Form):
    """Whom somebody asks for cover; nobody named is everybody who may."""

    to = forms.IntegerField(
        required=False,
        min_value=1,
        error_messages={"invalid": gettext_lazy("Choose somebody from the list.")},
    )


class SwapForm(forms.Form):
    """Which place of one's own is given for another."""

    give = forms.IntegerField(
        min_value=1,
        error_messages={
            "required": gettext_lazy(
                "Choose which of your shifts you would give for it."
            ),
            "invalid": gettext_lazy(
                "Choose which of your shifts you would give for it."
            ),
        },
    )


class MinutesForm(forms.Form):
    """How long somebody worked on a shift [min]."""

    minutes = forms.IntegerField(
        label=gettext_lazy("Minutes worked"),
        min_value=0,
        max_value=A_DAY_MINUTES,
        error_messages={
            "required": gettext_lazy("Write how many minutes it was, such as 120."),
            "invalid": gettext_lazy(
                "Write the minutes as a whole number, such as 120."
            ),
            "min_value": gettext_lazy("Minutes cannot be fewer than none."),
            "max_value": gettext_lazy("A day has 1,440 minutes: write fewer."),
        },
    )
