"""Which messages a person wants, by which way, and when not."""

from datetime import time

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _, pgettext_lazy

from orchard.actions.message_ways import Way
from orchard.actions.messages import Told
from orchard.languages import clock

TOLD_WORDS = {
    Told.COLD_TONIGHT: _("Cold tonight, for what I look after"),
    Told.HEAT: _("Heat tomorrow, for what I look after"),
    Told.OFFICIAL_WARNING: _("Official warnings of frost, heat, wind and storms"),
    Told.FORECAST_SILENT: _("The forecast stopped coming, where I choose the service"),
    Told.SHIFT_TOMORROW: _("My shift tomorrow"),
    Told.SHIFT_PROPOSED: _("A rota with shifts of mine"),
    Told.COVER_ASKED: _("Somebody asks me for cover, or for a swap"),
    Told.PLACE_TAKEN: _("Somebody took over a place of mine"),
    Told.PLACE_OPEN: _("Open places that I could take, at most once a day"),
    Told.PLACE_LEFT: _("Somebody cannot come, where I arrange the shifts"),
    Told.TREE_TOLD_OF: _("A passer-by tells of a tree, where I arrange the work"),
    Told.SHIFT_CHANGED: _(
        "A shift of mine moves, is cancelled, or takes place after all"
    ),
    Told.INVITE_ACCEPTED: _("Somebody took my invite"),
    Told.ROLE_CHANGED: _("My role was changed"),
    Told.REMOVED: _("My membership was ended"),
}
HOURS = [time(hour) for hour in range(24)]


class MessageChoiceForm(forms.Form):
    """One box a kind of message; a ticked one is wanted."""

    wanted = forms.MultipleChoiceField(
        label=_("Tell me of"),
        choices=[(what.value, words) for what, words in TOLD_WORDS.items()],
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )


def _hour_of(value: object) -> time:
    return time.fromisoformat(str(value))


def _hours(*, empty: bool) -> list[tuple[str, object]]:
    hours: list[tuple[str, object]] = [(f"{at:%H:%M}", clock(at)) for at in HOURS]
    return [("", pgettext_lazy("quiet hours", "none")), *hours] if empty else hours


def _maybe_hours() -> list[tuple[str, object]]:
    return _hours(empty=True)


def _sure_hours() -> list[tuple[str, object]]:
    return _hours(empty=False)


class MessageWaysForm(forms.Form):
    """By which way messages come, and in which hours they do not.

    Parameters
    ----------
    has_mail : bool
        Whether this server sends mail; without it no way by mail is offered.
    """

    way = forms.ChoiceField(
        label=_("How messages reach me"),
        choices=Way.choices,
        widget=forms.RadioSelect,
        help_text=_(
            "With one mail a day, what cannot wait until then still comes at once."
        ),
    )
    digest_at = forms.TypedChoiceField(
        label=_("The mail of the day comes at"), choices=_sure_hours, coerce=_hour_of
    )
    quiet_from = forms.TypedChoiceField(
        label=_("Quiet from"),
        choices=_maybe_hours,
        coerce=_hour_of,
        empty_value=None,
        required=False,
        help_text=_("Nothing comes in these hours, by the clock of the place."),
    )
    quiet_until = forms.TypedChoiceField(
        label=_("Quiet until"),
        choices=_maybe_hours,
        coerce=_hour_of,
        empty_value=None,
        required=False,
    )
    urgent_in_quiet = forms.BooleanField(
        label=_("What is urgent may come in quiet hours"),
        required=False,
        help_text=_(
            "Only what would come too late afterwards: cold tonight, heat, an official "
            "warning, a shift that begins soon. Without it nobody tells you at night."
        ),
    )

    def __init__(self, *args: object, has_mail: bool, **named: object) -> None:
        super().__init__(*args, **named)  # type: ignore[arg-type]  # Django's own
        way = self.fields["way"]
        if not has_mail and isinstance(way, forms.ChoiceField):
            way.choices = [
                (value, words)
                for value, words in Way.choices
                if value in (Way.PUSH, Way.NONE)
            ]
            del self.fields["digest_at"]
            way.help_text = _("This server sends no mail.")

    def clean(self) -> dict[str, object]:
        """Ask for both ends of the quiet hours, or neither."""
        values: dict[str, object] = super().clean() or self.cleaned_data
        starts, ends = values.get("quiet_from"), values.get("quiet_until")
        if (starts is None) != (ends is None):
            raise ValidationError(
                _("Choose when the quiet hours begin and end, or none for both."),
                code="one_end",
            )
        return values


class DeviceForm(forms.Form):
    """What a browser says of itself, to be sent messages (filled by a script)."""

    endpoint = forms.CharField(max_length=500, widget=forms.HiddenInput)
    p256dh = forms.CharField(max_length=100, widget=forms.HiddenInput)
    auth = forms.CharField(max_length=40, widget=forms.HiddenInput)
