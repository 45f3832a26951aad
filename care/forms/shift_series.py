"""What is asked of shifts that repeat."""

from collections.abc import Mapping, Sequence
from datetime import date, time, timedelta

from django import forms
from django.utils.translation import gettext, gettext_lazy

from care.forms.shift_when import FURTHEST, ClockField, clock_words
from care.forms.shifts import ShiftFields
from care.planning.shift_times import troubled_days
from orchard.forms.fields import day_field
from orchard.models import Block, Site

WEEKDAYS = (
    *(
        ("0", gettext_lazy("Monday")),
        ("1", gettext_lazy("Tuesday")),
        ("2", gettext_lazy("Wednesday")),
        ("3", gettext_lazy("Thursday")),
    ),
    *(
        ("4", gettext_lazy("Friday")),
        ("5", gettext_lazy("Saturday")),
        ("6", gettext_lazy("Sunday")),
    ),
)


class SeriesForm(ShiftFields):
    """Shifts that come back on weekdays."""

    starts_at = ClockField(label=gettext_lazy("Begins at"))
    weekdays = forms.MultipleChoiceField(
        label=gettext_lazy("On which weekdays"),
        choices=WEEKDAYS,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": gettext_lazy("Tick at least one weekday.")},
    )
    from_on = day_field(label=gettext_lazy("From"), required=True)
    until_on = day_field(label=gettext_lazy("Until"), required=True)
    silent_when_wet = forms.BooleanField(
        label=gettext_lazy("Only while the work is due"),
        required=False,
        help_text=(
            gettext_lazy(
                "Where rain did the watering there is no shift; it comes back when the "
                "plan asks for the work."
            )
        ),
    )

    def __init__(
        self,
        *args: object,
        site: Site,
        blocks: Sequence[Block],
        kinds: Mapping[str, str],
        today: date,
        **kwargs: object,
    ) -> None:
        super().__init__(*args, site=site, blocks=blocks, kinds=kinds, **kwargs)
        self.today = today

    def clean(self) -> dict[str, object]:
        """Check that the span gives shifts, at a time that clocks show."""
        cleaned = super().clean()
        first, last = cleaned.get("from_on"), cleaned.get("until_on")
        if isinstance(first, date) and isinstance(last, date):
            self._look_at_span(first, last)
        return cleaned

    def _look_at_span(self, first: date, last: date) -> None:
        if last < first:
            self.add_error(
                "until_on", gettext("It ends before it begins: choose a later day.")
            )
        elif last < self.today:
            self.add_error(
                "until_on", gettext("That day is over: it would make no shift.")
            )
        elif last - max(first, self.today) > FURTHEST:
            self.add_error("until_on", gettext("A series lasts a year at most."))
        else:
            self._look_at_days(max(first, self.today), last)

    def _look_at_days(self, first: date, last: date) -> None:
        weekdays = self.cleaned_data.get("weekdays")
        if not weekdays:
            return
        span = (first + timedelta(days=n) for n in range((last - first).days + 1))
        days = [day for day in span if str(day.weekday()) in weekdays]
        at = self.cleaned_data.get("starts_at")
        if not days:
            message = gettext(
                "None of these weekdays lies between the two days: no shift."
            )
            self.add_error("weekdays", message)
        elif isinstance(at, time):
            troubled = troubled_days(days, at, self.site.time_zone)
            if troubled:
                message = clock_words(troubled[0], at, self.site.time_zone)
                self.add_error("starts_at", message)

    def values(self) -> dict[str, object]:
        """Return the model's fields."""
        data = self.cleaned_data
        return {
            **self.common_values(),
            "starts_at": data["starts_at"],
            "skills": self.skills(),
            "weekdays": "".join(sorted(data["weekdays"])),
            "from_on": data["from_on"],
            "until_on": data["until_on"],
            "silent_when_wet": data["silent_when_wet"],
        }


class EndForm(forms.Form):
    """Whether the published shifts of a series that ends go too."""

    is_all_off = forms.BooleanField(
        label=gettext_lazy("Cancel the published shifts to come, too"),
        required=False,
        help_text=gettext_lazy("Whoever has a place in one is told."),
    )
