"""What stands round everything that a phone sends later: its id, what it is, when."""

from datetime import datetime

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext, gettext_lazy

#: Clocks that were never set say 1970; beyond the last one nothing can be reckoned.
YEARS = range(1970, 2200)


class MomentField(forms.CharField):
    """A moment as ISO 8601 writes it, with its offset from UTC."""

    def __init__(self) -> None:
        super().__init__(max_length=40)

    def clean(self, value: object) -> datetime:
        """Return the moment.

        Raises
        ------
        ValidationError
            It is none, lacks its offset, or lies outside the years there are.
        """
        text = str(super().clean(value))
        try:
            moment = datetime.fromisoformat(text)
        except ValueError:
            moment = None
        if moment is None or moment.tzinfo is None or moment.year not in YEARS:
            message = gettext("That is no time of a phone's clock.")
            raise ValidationError(message)
        return moment


class SendingForm(forms.Form):
    """The envelope; what is in it is checked by the form of the page itself."""

    id = forms.UUIDField(
        error_messages={"invalid": gettext_lazy("That is no id of something sent.")}
    )
    what = forms.CharField(max_length=24)
    happened_at = MomentField()
    sent_at = MomentField()
