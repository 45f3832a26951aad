"""Which weather service a place reads."""

from collections.abc import Sequence

from django import forms
from django.utils.translation import gettext, gettext_lazy

NONE = "none"


class ServiceForm(forms.Form):
    """One of the services that cover the place, or none."""

    service = forms.ChoiceField(
        label=gettext_lazy("Which service?"),
        widget=forms.RadioSelect,
        error_messages={
            "required": gettext_lazy("Choose one of them, or none."),
            "invalid_choice": gettext_lazy(
                "There is no such service for this place. Choose one of these, or none."
            ),
        },
    )

    def __init__(
        self, *args: object, services: Sequence[tuple[str, str]], **kwargs: object
    ) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own arguments
        field = self.fields["service"]
        if isinstance(field, forms.ChoiceField):
            field.choices = [*services, (NONE, gettext("None"))]
