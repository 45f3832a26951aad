"""How to get in, whom to call, what was signed, as a coordinator writes it down."""

import re
from collections.abc import Sequence
from datetime import date

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict

from orchard.forms.fields import day_field
from orchard.models import Membership

LINE, RULE, NAME, PHONE, NOTE = 200, 1000, 60, 40, 80  # letters, as the rows hold
FEWEST_DIGITS = 3  # such as 112
NO_NUMBER = "Write the number in digits, such as 555-0142."
_PHONE = re.compile(r"\+?[\d\s()./-]+((ext\.?|x|#)\s*\d+)?", re.ASCII | re.IGNORECASE)


def _line(label: str, help_text: str) -> forms.CharField:
    return forms.CharField(
        label=label, help_text=help_text, max_length=LINE, required=False
    )


class WayInForm(forms.Form):
    """Gate, key, tap, tools, first aid, and how what is picked is shared."""

    gate = _line(
        "Gate", "Which one, and where to leave a car. Everybody here reads it."
    )
    key_note = _line(
        "Key", "Where the key is, or the code of a lock. Only those who help read it."
    )
    tap = _line("Tap", "Where it is, and what turns it on.")
    tools_at = _line("Tools", "Where they hang, and how to leave them.")
    first_aid = _line("First aid", "Where the box is.")
    harvest_rule = forms.CharField(
        label="Sharing what is picked",
        help_text="Your garden's own rule: half to whoever picked, half to the kitchen.",
        max_length=RULE,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
    )


class ContactForm(forms.Form):
    """Whom to call in need."""

    name = forms.CharField(
        label="Who",
        max_length=NAME,
        error_messages={"required": "Write who it is, such as “Coordinator on call”."},
    )
    phone = forms.CharField(
        label="Telephone",
        max_length=PHONE,
        widget=forms.TextInput(attrs={"inputmode": "tel", "autocomplete": "off"}),
        error_messages={"required": NO_NUMBER},
    )
    note = forms.CharField(
        label="When, or what for",
        help_text="Such as: Saturdays from 9 to 13.",
        max_length=NOTE,
        required=False,
    )

    def clean_phone(self) -> str:
        """Return the number on one line, refused where nobody could dial it."""
        phone = " ".join(str(self.cleaned_data["phone"]).split())
        digits = sum(each.isdecimal() for each in phone)
        if digits < FEWEST_DIGITS or not _PHONE.fullmatch(phone):
            raise ValidationError(NO_NUMBER, code="invalid")
        return phone


class PaperForm(forms.Form):
    """A paper that somebody signed elsewhere, as it is recorded here."""

    member = forms.ChoiceField(
        label="Who signed",
        error_messages={"invalid_choice": "That person is no member any more."},
    )
    what = forms.CharField(
        label="What was signed",
        max_length=NOTE,
        error_messages={"required": "Write what it is, such as “Waiver”."},
    )
    signed_on = day_field(label="Signed on", required=True)
    until = day_field(label="Valid until", help_text="Empty where it has no end.")
    note = forms.CharField(label="Where it is kept", max_length=LINE, required=False)

    def __init__(
        self,
        data: QueryDict | None = None,
        *,
        members: Sequence[Membership],
        today: date,
    ) -> None:
        super().__init__(data, auto_id="paper_%s")
        self.today = today
        self._members = {str(member.pk): member for member in members}
        field = self.fields["member"]
        if isinstance(field, forms.ChoiceField):
            field.choices = [
                (key, one.person.shown_name) for key, one in self._members.items()
            ]
        self.fields["signed_on"].error_messages["required"] = "Choose the day."
        self.fields["signed_on"].widget.attrs["max"] = today.isoformat()

    def clean(self) -> dict[str, object]:
        """Refuse a day of signing to come, and an end before it."""
        cleaned = super().clean() or {}
        signed, until = cleaned.get("signed_on"), cleaned.get("until")
        if isinstance(signed, date) and signed > self.today:
            self.add_error("signed_on", "This day is still to come.")
        if isinstance(signed, date) and isinstance(until, date) and until < signed:
            self.add_error("until", "This is before the day it was signed.")
        return cleaned

    def chosen_member(self) -> Membership:
        """Return who signed, of a valid form."""
        return self._members[self.cleaned_data["member"]]
