"""What one person chooses for themselves."""

from django import forms

from orchard.models import Person


class UnitsChoiceForm(forms.Form):
    """Metric or US units."""

    units = forms.ChoiceField(
        label="Units", choices=Person.Units.choices, widget=forms.RadioSelect
    )
