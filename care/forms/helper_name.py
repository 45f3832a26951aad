"""What a volunteer without an account says of themselves."""

import unicodedata

from django import forms
from django.core.exceptions import ValidationError
from django.utils.text import format_lazy
from django.utils.translation import gettext, gettext_lazy

NAME_LENGTH = 40
#: Controls, and marks that turn the reading direction of what follows.
_CONTROL = "Cc"
_TURNING = {chr(code) for code in (*range(0x202A, 0x202F), *range(0x2066, 0x206A))}


class HelperNameForm(forms.Form):
    """The name others will read beside what was ticked."""

    name = forms.CharField(
        label=gettext_lazy("Your first name"),
        max_length=NAME_LENGTH,
        help_text=gettext_lazy(
            "It stands beside what you tick, so that people know whom to ask."
        ),
        widget=forms.TextInput(attrs={"autocomplete": "given-name"}),
        error_messages={
            "required": gettext_lazy("Write a name; your first name is enough."),
            "max_length": format_lazy(
                gettext_lazy("At most {most} letters, please."), most=NAME_LENGTH
            ),
        },
    )

    def clean_name(self) -> str:
        """Return the name on one line, without what could disturb other lines.

        Raises
        ------
        ValidationError
            Nothing readable is left of it.
        """
        spaced = " ".join(str(self.cleaned_data["name"]).split())
        name = "".join(
            letter
            for letter in spaced
            if unicodedata.category(letter) != _CONTROL and letter not in _TURNING
        )
        if not any(unicodedata.category(letter)[0] in "LNS" for letter in name):
            message = gettext("Write a name that people can read.")
            raise ValidationError(message)
        return name
