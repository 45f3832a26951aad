"""Which weeks of the rota, and whom to put on a place."""

from collections.abc import Sequence
from datetime import date, timedelta

from django import forms
from django.utils.translation import gettext

NOBODY = "nobody"
FARTHEST = timedelta(days=5 * 366)


class FromForm(forms.Form):
    """From which day on the rota is shown."""

    def __init__(self, data: object, *, today: date) -> None:
        super().__init__(data)  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["from"] = forms.DateField(
            label=gettext("From"),
            required=False,
            widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
            error_messages={"invalid": gettext("Write a day, such as 2026-06-14.")},
            input_formats=["%Y-%m-%d"],
        )
        self.today = today

    def clean(self) -> dict[str, object]:
        """Refuse days that no rota reaches."""
        data = super().clean() or {}
        day = data.get("from")
        if isinstance(day, date) and abs(day - self.today) > FARTHEST:
            self.add_error("from", gettext("Write a day within five years of today."))
        return data

    @property
    def monday(self) -> date:
        """The Monday of the week to begin with; this week's where none is named."""
        day = (
            self.cleaned_data.get("from") if self.is_bound and self.is_valid() else None
        )
        day = day or self.today
        return day - timedelta(days=day.weekday())


class PlaceForm(forms.Form):
    """Who holds a place from now on."""

    def __init__(
        self, data: object, *, choices: Sequence[tuple[str, str]], holder: str
    ) -> None:
        super().__init__(data, initial={"person": holder})  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["person"] = forms.ChoiceField(
            label=gettext("Who holds this place?"),
            choices=[(NOBODY, gettext("Nobody: leave it open")), *choices],
            error_messages={
                "required": gettext("Choose somebody, or nobody."),
                "invalid_choice": gettext(
                    "They may not hold this place now. Choose another."
                ),
            },
        )

    @property
    def person_id(self) -> int | None:
        """Whom was chosen."""
        chosen = self.cleaned_data["person"]
        return None if chosen == NOBODY else int(chosen)
