"""Everything of a round is done: today, yesterday or on a day before."""

from datetime import date

from django import forms
from django.utils.translation import gettext_lazy

from care.forms.past_days import PastDayField


class AllDoneForm(forms.Form):
    """The day on which all that was shown was done."""

    def __init__(self, data: object = None, *, today: date) -> None:
        super().__init__(data, auto_id="all_done_%s")  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["on"] = PastDayField(
            today=today, label=gettext_lazy("Another day"), days_back=7
        )
