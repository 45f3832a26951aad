"""Until when nobody waters."""

from datetime import date, timedelta

from django import forms
from django.utils.translation import gettext

USUAL_DAYS = 14
MOST_DAYS = 60


class AwayForm(forms.Form):
    """The day somebody is back; two weeks from today unless told otherwise."""

    def __init__(self, data: object = None, *, today: date) -> None:
        self.first = today + timedelta(days=1)
        self.last = today + timedelta(days=MOST_DAYS)
        self.usual = today + timedelta(days=USUAL_DAYS)
        super().__init__(data, initial={"until": self.usual}, auto_id="away_%s")  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["until"] = forms.DateField(
            label=gettext("Nobody waters until"),
            input_formats=["%Y-%m-%d"],
            widget=forms.DateInput(
                format="%Y-%m-%d",
                attrs={
                    "type": "date",
                    "min": self.first.isoformat(),
                    "max": self.last.isoformat(),
                },
            ),
            error_messages={
                "required": gettext("Until which day?"),
                "invalid": gettext("Write the day as year-month-day: 2024-03-15."),
            },
        )

    def clean_until(self) -> date:
        """Refuse a day that is over, and one too far ahead to tell."""
        until: date = self.cleaned_data["until"]
        if until < self.first:
            message = gettext("Choose a day after today.")
            raise forms.ValidationError(message)
        if until > self.last:
            message = gettext(
                "That is too far ahead to tell: {most} days at most."
            ).format(most=MOST_DAYS)
            raise forms.ValidationError(message)
        return until
