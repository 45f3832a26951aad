"""Which messages a person wants."""

from django import forms

from orchard.actions.messages import Told

TOLD_WORDS = {
    Told.COLD_TONIGHT: "Cold tonight, for what I look after",
    Told.HEAT: "Heat tomorrow, for what I look after",
    Told.OFFICIAL_WARNING: "Official warnings of frost, heat, wind and storms",
    Told.FORECAST_SILENT: "The forecast stopped coming, where I choose the service",
    Told.SHIFT_CHANGED: "A shift of mine moves, is cancelled, or takes place after all",
    Told.INVITE_ACCEPTED: "Somebody took my invite",
    Told.ROLE_CHANGED: "My role was changed",
    Told.REMOVED: "My membership was ended",
}


class MessageChoiceForm(forms.Form):
    """One box a kind of message; a ticked one is wanted."""

    wanted = forms.MultipleChoiceField(
        label="Tell me of",
        choices=[(what.value, words) for what, words in TOLD_WORDS.items()],
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
