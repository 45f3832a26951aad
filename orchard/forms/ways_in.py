"""How to get in, whom to call, what was signed, as a coordinator writes it down."""

import re
from collections.abc import Sequence
from datetime import date

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict
from django.utils.translation import gettext, gettext_lazy

from orchard.forms.fields import day_field
from orchard.languages import Words
from orchard.models import Membership

LINE, RULE, NAME, PHONE, NOTE = 200, 1000, 60, 40, 80  # letters, as the rows hold
FEWEST_DIGITS = 3  # such as 112
NO_NUMBER = gettext_lazy("Write the number in digits, such as 555-0142.")
_PHONE = re.compile(r"\+?[\d\s()./-]+((ext\.?|x|#)\s*\d+)?", re.ASCII | re.IGNORECASE)


def _line(label: Words, help_text: Words) -> forms.CharField:
    return forms.CharField(
        label=label, help_text=help_text, max_length=LINE, required=False
    )


class WayInForm(forms.Form):
    """Gate, key, tap, tools, first aid, and how what is picked is shared."""

    gate = _line(
        gettext_lazy("Gate"),
        gettext_lazy("Which one, and where to leave a car. Everybody here reads it."),
    )
    key_note = _line(
        gettext_lazy("Key"),
        gettext_lazy(
            "Where the key is, or the code of a lock. Only those who help read it."
        ),
    )
    tap = _line(gettext_lazy("Tap"), gettext_lazy("Where it is, and what turns it on."))
    tools_at = _line(
        gettext_lazy("Tools"), gettext_lazy("Where they hang, and how to leave them.")
    )
    first_aid = _line(gettext_lazy("First aid"), gettext_lazy("Where the box is."))
    harvest_rule = forms.CharField(
        label=gettext_lazy("Sharing what is picked"),
        help_text=gettext_lazy(
            "Your garden's own rule: half to whoever picked, half to the kitchen."
        ),
        max_length=RULE,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
    )


class ContactForm(forms.Form):
    """Whom to call in need."""

    name = forms.CharField(
        label=gettext_lazy("Who"),
        max_length=NAME,
        error_messages={
            "required": gettext_lazy("Write who it is, such as “Coordinator on call”.")
        },
    )
    phone = forms.CharField(
        label=gettext_lazy("Telephone"),
        max_length=PHONE,
        widget=forms.TextInput(attrs={"inputmode": "tel", "autocomplete": "off"}),
        error_messages={"required": NO_NUMBER},
    )
    note = forms.CharField(
        label=gettext_lazy("When, or what for"),
        help_text=gettext_lazy("Such as: Saturdays from 9 to 13."),
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
        label=gettext_lazy("Who signed"),
        error_messages={
            "invalid_choice": gettext_lazy("That person is no member any more.")
        },
    )
    what = forms.CharField(
        label=gettext_lazy("What was signed"),
        max_length=NOTE,
        error_messages={
            "required": gettext_lazy("Write what it is, such as “Waiver”.")
        },
    )
    signed_on = day_field(label=gettext_lazy("Signed on"), required=True)
    until = day_field(
        label=gettext_lazy("Valid until"),
        help_text=gettext_lazy("Empty where it has no end."),
    )
    note = forms.CharField(
        label=gettext_lazy("Where it is kept"), max_length=LINE, required=False
    )

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
        self.fields["signed_on"].error_messages["required"] = gettext("Choose the day.")
        self.fields["signed_on"].widget.attrs["max"] = today.isoformat()

    def clean(self) -> dict[str, object]:
        """Refuse a day of signing to come, and an end before it."""
        cleaned = super().clean() or {}
        signed, until = cleaned.get("signed_on"), cleaned.get("until")
        if isinstance(signed, date) and signed > self.today:
            self.add_error("signed_on", gettext("This day is still to come."))
        if isinstance(signed, date) and isinstance(until, date) and until < signed:
            self.add_error("until", gettext("This is before the day it was signed."))
        return cleaned

    def chosen_member(self) -> Membership:
        """Return who signed, of a valid form."""
        return self._members[self.cleaned_data["member"]]
