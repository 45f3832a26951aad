"""Which messages a person wants."""

from django import forms

from orchard.actions.messages import Told

TOLD_WORDS = {
    Told.COLD_TONIGHT: "Cold tonight, for what I look after",
    Told.HEAT: "Heat tomorrow, for what I look after",
    Told.OFFICIAL_WARNING: "Official warnings of frost, heat, wind and storms",
    Told.FORECAST_SILENT: "The forecast stopped coming, where I choose the service",
    Told.SHIFT_TOMORROW: "My shift tomorrow",
    Told.SHIFT_PROPOSED: "A rota with shifts of mine",
    Told.COVER_ASKED: "Somebody asks me for cover, or for a swap",
    Told.PLACE_TAKEN: "Somebody took over a place of mine",
    Told.PLACE_OPEN: "Open places that I could take, at most once a day",
    Told.PLACE_LEFT: "Somebody cannot come, where I arrange the shifts",
    Told.TREE_TOLD_OF: "A passer-by tells of a tree, where I arrange the work",
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
