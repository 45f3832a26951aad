"""What members say of their days: weekdays, single days, absences, limits."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from django import forms
from django.http import QueryDict
from django.utils.text import format_lazy
from django.utils.translation import gettext, gettext_lazy

from orchard.actions.offers import WISH_WORDS, Wish
from orchard.forms.fields import day_field
from orchard.forms.tree_fields import WEEKDAYS
from orchard.languages import Words, short_weekday_and_month
from orchard.models import Offered, wishes_between

#: How a form names each wish.
SAID: dict[str, Wish] = {"gladly": 1, "can": 0, "rather_not": -1, "not": None}


def choices() -> list[tuple[str, str]]:
    """Return what may be said of a day, as the reader's language says it."""
    return [
        (name, gettext(WISH_WORDS[wish]).capitalize()) for name, wish in SAID.items()
    ]


NAME_OF = {wish: name for name, wish in SAID.items()}
WRONG = {"invalid_choice": gettext_lazy("Choose one of the answers.")}
NOTHING_SAID, AS_ALWAYS = gettext_lazy("Nothing said"), gettext_lazy("As always")

DAYS_SHOWN = 28
LONGEST_AWAY = timedelta(days=366)
FARTHEST = timedelta(days=2 * 366)
MOST_A_WEEK, MOST_A_SEASON = 7, 200


class WeekdaysForm(forms.Form):
    """A choice for each weekday; once one is made, those left open count as "not"."""

    def __init__(
        self, data: QueryDict | None = None, *, rows: Sequence[Offered] = ()
    ) -> None:
        said = {row.weekday: row.wish for row in rows if row.weekday is not None}
        super().__init__(data, auto_id="weekday_%s", prefix="weekday")
        for number, label in WEEKDAYS:
            field = forms.ChoiceField(
                label=label,
                choices=choices(),
                widget=forms.RadioSelect(attrs={"class": "across"}),
                required=False,
                error_messages=WRONG,
            )
            if said:
                field.initial = NAME_OF[said.get(int(number))]
            self.fields[number] = field

    def clean(self) -> dict[str, object]:
        """Ask for one weekday at least."""
        cleaned = super().clean() or {}
        if not self.errors and not any(cleaned.values()):
            self.add_error("0", gettext("Choose an answer for at least one weekday."))
        return cleaned

    def wishes(self) -> dict[int, Wish]:
        """Return what a valid form says of the weekdays that it says anything of."""
        return {
            int(number): SAID[said]
            for number, said in self.cleaned_data.items()
            if said
        }


class DaysForm(forms.Form):
    """A choice for each day ahead; left empty, its weekday tells.

    A day the page did not show stays as it is.
    """

    def __init__(
        self, data: QueryDict | None = None, *, today: date, rows: Sequence[Offered]
    ) -> None:
        super().__init__(data, auto_id="day_%s", prefix="day")
        self.days = [today + timedelta(days=number) for number in range(DAYS_SHOWN)]
        weekly = [row for row in rows if row.day is None]
        usual = wishes_between(weekly, self.days[0], self.days[-1])
        self.said = {row.day: row.wish for row in rows if row.day in self.days}
        self.usual: dict[str, str] = {}
        for day in self.days:
            is_known = day in usual
            self.usual[day.isoformat()] = (
                gettext(WISH_WORDS[usual[day]]) if is_known else ""
            )
            self.fields[day.isoformat()] = forms.ChoiceField(
                label=short_weekday_and_month(day),
                choices=[("", AS_ALWAYS if is_known else NOTHING_SAID), *choices()],
                widget=forms.Select(attrs={"class": "input"}),
                required=False,
                initial=NAME_OF[self.said[day]] if day in self.said else "",
                error_messages=WRONG,
            )

    def weeks(self) -> list[list[tuple[forms.BoundField, str]]]:
        """Return the fields by weeks from Mondays, with what weekdays say of each."""
        weeks: list[list[tuple[forms.BoundField, str]]] = []
        for day in self.days:
            if not weeks or day.weekday() == 0:
                weeks.append([])
            name = day.isoformat()
            weeks[-1].append((self[name], self.usual[name]))
        return weeks

    def wishes(self) -> tuple[dict[date, Wish], list[date]]:
        """Return what a valid form says of days, and of which it says nothing more."""
        answers = {
            day: str(self.cleaned_data[day.isoformat()])
            for day in self.days
            if self.add_prefix(day.isoformat()) in self.data
        }
        wishes = {day: SAID[answer] for day, answer in answers.items() if answer}
        return wishes, [day for day, answer in answers.items() if not answer]


class AwayForm(forms.Form):
    """From which day until which one is away."""

    first = day_field(label=gettext_lazy("Away from"), required=True)
    last = day_field(label=gettext_lazy("Until, that day too"), required=True)

    longest = LONGEST_AWAY

    def __init__(self, data: QueryDict | None = None, *, today: date) -> None:
        super().__init__(data, auto_id="away_%s", prefix="away")
        self.today = today
        for name in ("first", "last"):
            field = self.fields[name]
            field.widget.attrs["min"] = today.isoformat()
            field.error_messages["required"] = gettext("Choose the day.")

    def clean(self) -> dict[str, object]:
        """Refuse a span that is reversed, over, too long or too far away."""
        cleaned = super().clean() or {}
        first, last = cleaned.get("first"), cleaned.get("last")
        if isinstance(first, date) and isinstance(last, date):
            if why := self._why_not(first, last):
                self.add_error("last", why)
            cleaned["first"] = max(first, self.today)
        return cleaned

    def _why_not(self, first: date, last: date) -> str:
        if last < first:
            return gettext("This is before the first day. Swap them, or correct one.")
        if last < self.today:
            return gettext("These days are over. Choose days to come.")
        if last - first > self.longest:
            return gettext("This is longer than a year. Say it a year at a time.")
        if last - self.today > FARTHEST:
            return gettext("This is more than two years ahead. Say it later.")
        return ""


class BackForm(AwayForm):
    """From which day until which one is here after all; absences may have met."""

    longest = timedelta.max


def _limit_field(label: Words, most: int) -> forms.IntegerField:
    wrong = format_lazy(
        gettext_lazy("Write a whole number from 1 to {most}, or leave it empty."),
        most=most,
    )
    less = format_lazy(
        gettext_lazy("{wrong} For a time without any, say that you are away."),
        wrong=wrong,
    )
    return forms.IntegerField(
        label=label,
        min_value=1,
        max_value=most,
        required=False,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        error_messages={"invalid": wrong, "max_value": wrong, "min_value": less},
    )


class LimitsForm(forms.Form):
    """How many shifts are enough."""

    most_a_week = _limit_field(gettext_lazy("Most shifts in a week"), MOST_A_WEEK)
    most_a_season = _limit_field(gettext_lazy("Most shifts in a season"), MOST_A_SEASON)

    def __init__(
        self,
        data: QueryDict | None = None,
        *,
        initial: Mapping[str, object] | None = None,
    ) -> None:
        super().__init__(
            data, auto_id="limit_%s", prefix="limit", initial=dict(initial or {})
        )
