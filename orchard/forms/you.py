"""What one person chooses for themselves."""

from django import forms
from django.utils.translation import gettext_lazy as _

from orchard.models import Person


class OwnChoicesForm(forms.Form):
    """The language of pages and messages, and metric or US units."""

    language = forms.ChoiceField(
        label=_("Language"),
        choices=Person.Language.choices,
        required=False,
        help_text=_("Messages follow no browser: without a choice they are English."),
    )
    units = forms.ChoiceField(
        label=_("Units"), choices=Person.Units.choices, widget=forms.RadioSelect
    )
