"""What is sent with a press on a place: whom to ask, what to give, how long."""

from django import forms

A_DAY_MINUTES = 24 * 60


class CoverForm(forms.Form):
    """Whom somebody asks for cover; nobody named is everybody who may."""

    to = forms.IntegerField(
        required=False,
        min_value=1,
        error_messages={"invalid": "Choose somebody from the list."},
    )


class SwapForm(forms.Form):
    """Which place of one's own is given for another."""

    give = forms.IntegerField(
        min_value=1,
        error_messages={
            "required": "Choose which of your shifts you would give for it.",
            "invalid": "Choose which of your shifts you would give for it.",
        },
    )


class MinutesForm(forms.Form):
    """How long somebody worked on a shift [min]."""

    minutes = forms.IntegerField(
        label="Minutes worked",
        min_value=0,
        max_value=A_DAY_MINUTES,
        error_messages={
            "required": "Write how many minutes it was, such as 120.",
            "invalid": "Write the minutes as a whole number, such as 120.",
            "min_value": "Minutes cannot be fewer than none.",
            "max_value": "A day has 1,440 minutes: write fewer.",
        },
    )
