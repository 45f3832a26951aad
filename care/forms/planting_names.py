"""The name of a planting, and the day of one tree or several."""

from datetime import date

from django import forms
from django.utils.translation import gettext, gettext_lazy

from orchard.forms.fields import day_field
from orchard.forms.planting_days import last_planned_day
from orchard.languages import day_of_year

NAME_LENGTH = 60


class PlantingForm(forms.Form):
    """What the trees that are wanted together are called."""

    name = forms.CharField(
        label=gettext_lazy("Name of the planting"),
        max_length=NAME_LENGTH,
        help_text=gettext_lazy(
            "As you call it: South side, Hedge by the road, Spring 2026."
        ),
        error_messages={"required": gettext_lazy("Give it a name.")},
    )

    def __init__(
        self,
        *args: object,
        names_taken: frozenset[str] = frozenset(),
        **kwargs: object,
    ) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own arguments
        self.names_taken = names_taken

    def clean_name(self) -> str:
        """Refuse a name that another planting of the site has."""
        name = " ".join(str(self.cleaned_data["name"]).split())
        if name in self.names_taken:
            message = gettext(
                "There is a planting called {name} here. Choose another name."
            ).format(name=name)
            raise forms.ValidationError(message, code="taken")
        return name


class DayForm(forms.Form):
    """A day to come on which to plant."""

    on = day_field(label=gettext_lazy("Plant on"), required=True)

    def __init__(self, *args: object, today: date, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own arguments
        self.today = today
        self.fields["on"].error_messages["required"] = gettext("On which day?")

    def clean_on(self) -> date:
        """Refuse a day that is over, today, and one too far ahead."""
        on: date = self.cleaned_data["on"]
        if on < self.today:
            message = gettext(
                "That day is over. If it stands already, say so on its planting sheet."
            )
            raise forms.ValidationError(message, code="past")
        if on == self.today:
            message = gettext(
                "Planting it today? Then tick its planting sheet and say there that it "
                "stands. Here you set a day to come."
            )
            raise forms.ValidationError(message, code="today")
        if on > last_planned_day(self.today):
            message = gettext(
                "{on} is too far ahead to plan. Write a nearer day."
            ).format(on=day_of_year(on))
            raise forms.ValidationError(message, code="far")
        return on
