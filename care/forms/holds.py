"""What was put on a tree that its fruit must wait for: sprays, raw manure."""

from datetime import date

from django import forms
from django.utils.translation import gettext, gettext_lazy

from care.forms.past_days import PastDayField
from care.forms.work import NOTE_LENGTH
from orchard.models import Block

DAYS_BACK = 365
LONGEST_WAIT_DAYS = 365
THIS_TREE, ITS_BLOCK = "tree", "block"
TOUCHES, HANGS = "touches", "hangs"


class HoldForm(forms.Form):
    """When, and on which trees; what it was is asked by the forms made of it."""

    def __init__(
        self, data: object, *, today: date, block: Block | None, auto_id: str
    ) -> None:
        super().__init__(data, auto_id=auto_id)  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["on"] = PastDayField(
            today=today, label=gettext("When"), days_back=DAYS_BACK
        )
        if block is not None:
            self.fields["reach"] = forms.ChoiceField(
                label=gettext("Which trees"),
                choices=[
                    (THIS_TREE, gettext("This one")),
                    (
                        ITS_BLOCK,
                        gettext("Every tree of {name}").format(name=block.name),
                    ),
                ],
                initial=THIS_TREE,
                widget=forms.RadioSelect,
                required=False,
            )
        self.fields["note"] = forms.CharField(
            required=False, max_length=NOTE_LENGTH, label=gettext("Note")
        )

    @property
    def is_of_block(self) -> bool:
        """Whether every tree of the block got it."""
        return self.cleaned_data.get("reach") == ITS_BLOCK


class SprayForm(HoldForm):
    """What was sprayed, and what its label says of picking."""

    product = forms.CharField(
        label=gettext_lazy("What was sprayed"),
        max_length=80,
        help_text=gettext_lazy("The product's name, as its label has it."),
        error_messages={"required": gettext_lazy("What does its label call it?")},
    )
    waiting_days = forms.IntegerField(
        label=gettext_lazy("Days to wait before picking"),
        min_value=0,
        max_value=LONGEST_WAIT_DAYS,
        help_text=gettext_lazy("As its label says for this fruit."),
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        error_messages={
            "required": gettext_lazy(
                "How many days does its label say? Write 0 for none."
            ),
            "invalid": gettext_lazy("Write whole days, such as 7."),
        },
    )

    def __init__(
        self, data: object = None, *, today: date, block: Block | None
    ) -> None:
        super().__init__(data, today=today, block=block, auto_id="spray_%s")


class ManureForm(HoldForm):
    """That raw manure was spread, and whether fruit may lie on it."""

    fruit = forms.ChoiceField(
        label=gettext_lazy("Its fruit"),
        choices=[
            (TOUCHES, gettext_lazy("may touch the soil")),
            (HANGS, gettext_lazy("hangs clear of it")),
        ],
        initial=TOUCHES,
        help_text=gettext_lazy("Windfalls that are picked up have touched it."),
        widget=forms.RadioSelect,
        error_messages={"required": gettext_lazy("Choose one.")},
    )

    def __init__(
        self, data: object = None, *, today: date, block: Block | None
    ) -> None:
        super().__init__(data, today=today, block=block, auto_id="manure_%s")

    @property
    def touches_soil(self) -> bool:
        """Whether the fruit may lie on the ground."""
        return bool(self.cleaned_data["fruit"] == TOUCHES)
