"""Days on which something may have been done: up to today, not too long ago."""

from datetime import date, timedelta

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext

from orchard.languages import Words

BACKDATED_DAYS = 30


class PastDayField(forms.DateField):
    """A day up to today and not longer ago than people remember well."""

    def __init__(
        self,
        *,
        today: date,
        label: Words,
        days_back: int = BACKDATED_DAYS,
        required: bool = True,
    ) -> None:
        self.today = today
        self.first = today - timedelta(days=days_back)
        self.days_back = days_back
        limits = {"min": self.first.isoformat(), "max": today.isoformat()}
        super().__init__(
            label=label,
            required=required,
            initial=today,
            input_formats=["%Y-%m-%d"],
            widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date", **limits}),
            error_messages={
                "required": gettext("Which day was it?"),
                "invalid": gettext("Write the day as year-month-day: 2024-03-15."),
            },
        )

    def clean(self, value: object) -> date | None:
        """Return the day; an empty one that is not required is today.

        Raises
        ------
        ValidationError
            No day, one to come, or one too long ago.
        """
        day: date | None = super().clean(value)
        if day is None:
            return self.today
        if day > self.today:
            message = gettext("That day has not come yet.")
            raise ValidationError(message)
        if day < self.first:
            message = gettext("That is more than {number} days ago.").format(
                number=self.days_back
            )
            raise ValidationError(message)
        return day
