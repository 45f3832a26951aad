"""Which weeks of the rota, and whom to put on a place."""

from collections.abc import Sequence
from datetime import date, timedelta

from django import forms

NOBODY = "nobody"


class FromForm(forms.Form):
    """From which day on the rota is shown."""

    def __init__(self, data: object, *, today: date) -> None:
        super().__init__(data)  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["from"] = forms.DateField(
            label="From",
            required=False,
            widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
            error_messages={"invalid": "Write a day, such as 2026-06-14."},
            input_formats=["%Y-%m-%d"],
        )
        self.today = today

    @property
    def monday(self) -> date:
        """The Monday of the week to begin with; this week's where none is named."""
        day = (
            self.cleaned_data.get("from") if self.is_bound and self.is_valid() else None
        )
        day = day or self.today
        return max(day - timedelta(days=day.weekday()), date(2000, 1, 3))


class PlaceForm(forms.Form):
    """Who holds a place from now on."""

    def __init__(
        self, data: object, *, choices: Sequence[tuple[str, str]], holder: str
    ) -> None:
        super().__init__(data, initial={"person": holder})  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["person"] = forms.ChoiceField(
            label="Who holds this place?",
            choices=[(NOBODY, "Nobody: leave it open"), *choices],
            error_messages={
                "required": "Choose somebody, or nobody.",
                "invalid_choice": "They may not hold this place now. Choose another.",
            },
        )

    @property
    def person_id(self) -> int | None:
        """Whom was chosen."""
        chosen = self.cleaned_data["person"]
        return None if chosen == NOBODY else int(chosen)
