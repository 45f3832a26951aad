"""Everything of a round is done: today, yesterday or on a day before."""

from datetime import date

from django import forms
from django.utils.translation import gettext_lazy

from care.forms.past_days import PastDayField
from care.models import Task

SHORT_ID = 8
MOST_SEEN = 50_000


def short_id(task: Task) -> str:
    """Return how a task's id begins: enough to tell it apart on one round."""
    return str(task.public_id)[:SHORT_ID]


class AllDoneForm(forms.Form):
    """The day on which all that was shown was done, and what was shown.

    ``seen`` holds how the ids of tasks begin (:func:`short_id`): what the plan asked
    for since, between two taps or while a phone had no network, is not ticked.
    """

    seen = forms.CharField(required=False, max_length=MOST_SEEN)

    def __init__(self, data: object = None, *, today: date) -> None:
        super().__init__(data, auto_id="all_done_%s")  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["on"] = PastDayField(
            today=today, label=gettext_lazy("Another day"), days_back=7
        )

    def has_seen(self, task: Task) -> bool:
        """Whether a valid form's page showed a task; one that does not say shows all."""
        seen = self.cleaned_data["seen"]
        return not seen or short_id(task) in seen.split(",")
