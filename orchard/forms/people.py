"""What is asked when people are invited, given a role, searched for or looked up."""

from collections.abc import Sequence

from django import forms
from django.utils.translation import gettext_lazy

from orchard.models import Role

MOST_LETTERS = 80


class InviteForm(forms.Form):
    """For whom an invitation is and what they will be."""

    note = forms.CharField(
        label=gettext_lazy("For whom?"),
        max_length=MOST_LETTERS,
        help_text=gettext_lazy(
            "So that the list below tells one invitation from another."
        ),
        error_messages={
            "required": gettext_lazy("Write for whom it is, such as “Ana”.")
        },
    )
    role = forms.ChoiceField(
        label=gettext_lazy("What will they be?"), widget=forms.RadioSelect
    )

    def __init__(
        self, *args: object, roles: Sequence[tuple[str, str]], **kwargs: object
    ) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own arguments
        field = self.fields["role"]
        if isinstance(field, forms.ChoiceField):
            field.choices = list(roles)
        usual = {value for value, _ in roles} & {Role.GROWER.value}
        self.fields["role"].initial = next(iter(usual), None)

    def clean_note(self) -> str:
        """Return the note on one line."""
        return " ".join(str(self.cleaned_data["note"]).split())


class RoleForm(forms.Form):
    """What a member is from now on."""

    role = forms.ChoiceField(choices=Role.choices)


class PeopleListForm(forms.Form):
    """Which members are shown, and in what order."""

    SORTS = [
        ("name", gettext_lazy("By name")),
        ("role", gettext_lazy("By role")),
        ("seen", gettext_lazy("Latest sign-in first")),
    ]

    find = forms.CharField(required=False, max_length=MOST_LETTERS)
    sort = forms.ChoiceField(required=False, choices=SORTS)
