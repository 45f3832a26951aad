"""How long a walk took, all its work together."""

from django import forms
from django.utils.translation import gettext

from care.forms.work import minutes_field


class WalkMinutesForm(forms.Form):
    """One number; left empty it takes back what was said."""

    def __init__(
        self, data: object = None, *, minutes: float | None = None, began: str = ""
    ) -> None:
        super().__init__(data, initial={"minutes": minutes})  # type: ignore[arg-type]  # a QueryDict or None
        hint = gettext("All of it, from the first tree to the last.")
        self.fields["minutes"] = minutes_field(
            gettext("The whole walk, in minutes"), f"{began} {hint}".strip()
        )
