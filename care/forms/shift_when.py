"""When a shift is: its day, its hour, what else is then; and why one is cancelled."""

import re
from collections.abc import Collection, Iterable, Mapping
from datetime import date, datetime, time, timedelta

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext, gettext_lazy

from care.models import Shift
from care.planning.shift_times import (
    ClockTrouble,
    clock_trouble,
    next_clear_time,
    overlaps,
)
from orchard.forms.fields import day_field
from orchard.languages import Words, clock, day_and_month, listed
from orchard.models import Site

#: Shifts are planned by season; further off nobody knows. Common practice, no source.
FURTHEST = timedelta(days=366)
_CLOCK = re.compile(r"(\d{1,2})(?:[:.h](\d{2}))?\s*(am|pm)?", re.IGNORECASE | re.ASCII)
NOON = 12
#: Who makes a shift of people that work already.
BEGUN_LATELY, BEGUN_LATELY_AT = timedelta(hours=1), time(1)


class ClockField(forms.Field):
    """A time of day as people write it: 9, 9:00, 9.30, 2:30 pm."""

    def __init__(self, *, label: Words, help_text: Words = "") -> None:
        super().__init__(
            label=label,
            help_text=help_text,
            widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"),
            error_messages={"required": gettext("At what time does it begin?")},
        )

    def to_python(self, value: object) -> time | None:
        """Return the time that was written."""
        text = str(value or "").strip()
        if not text:
            return None
        found = _CLOCK.fullmatch(
            text.removesuffix(":00") if text.count(":") > 1 else text
        )
        if found is None:
            message = gettext("Write the time like 9:00 or 14:30.")
            raise ValidationError(message, code="invalid")
        hour, minute = int(found[1]), int(found[2] or 0)
        if found[3] and 1 <= hour <= NOON:
            hour = hour % NOON + (NOON if found[3].lower() == "pm" else 0)
        try:
            return time(hour, minute)
        except ValueError as error:
            message = gettext(
                "There is no {text} on a clock. Write the time like 9:00 or 14:30."
            ).format(text=text)
            raise ValidationError(message, code="invalid") from error


class WhenFields(forms.Form):
    """A day to come and a time that clocks show once; for one shift."""

    day = day_field(label=gettext_lazy("Day"), required=True)
    starts_at = ClockField(label=gettext_lazy("Begins at"))
    is_overlap_fine = forms.BooleanField(
        label=gettext_lazy("Make it all the same"),
        required=False,
        widget=forms.HiddenInput,
    )

    site: Site

    def look_at_time(self, cleaned: Mapping[str, object], moment: datetime) -> None:
        """Say of what is over or far off at the site, and of what clocks skip."""
        day, at = cleaned.get("day"), cleaned.get("starts_at")
        if not isinstance(day, date):
            return
        today = moment.date()
        if day < today:
            self.add_error(
                "day", gettext("That day is over. Choose today or a day to come.")
            )
        elif day - today > FURTHEST:
            self.add_error(
                "day", gettext("That is more than a year ahead. Choose a nearer day.")
            )
        elif isinstance(at, time):
            self._look_at_clock(day, at, moment)

    def _look_at_clock(self, day: date, at: time, moment: datetime) -> None:
        message = clock_words(day, at, self.site.time_zone)
        is_over = day == moment.date() and at < (moment - BEGUN_LATELY).time()
        if is_over and moment.time() > BEGUN_LATELY_AT:
            message = gettext(
                "It is {time} there already. Choose a later hour."
            ).format(time=clock(moment))
        if message:
            self.add_error("starts_at", message)

    def look_at_others(
        self, planned: Shift, others: Iterable[Shift], *, is_fine: bool
    ) -> None:
        """Say of another shift of the same trees and hours, until that is said fine."""
        same = [one for one in others if _is_same_place(planned, one)]
        same = [one for one in same if overlaps(planned, one, self.site)]
        if not same or is_fine:
            return
        self.fields["is_overlap_fine"].widget = forms.CheckboxInput()
        names = listed([one.name for one in same])
        message = gettext(
            "{names} is at the same place and time. Choose another time, or "
            "tick “Make it all the same” where both are meant."
        ).format(names=names)
        self.add_error("is_overlap_fine", message)


def clock_words(day: date, at: time, zone_name: str) -> str:
    """Return what is wrong with a time on a night on which clocks change, or nothing."""
    trouble = clock_trouble(day, at, zone_name)
    if trouble is None:
        return ""
    told = clock(at)
    _, clear = next_clear_time(day, at, zone_name)
    offer = gettext("Take {time}.").format(time=clock(clear))
    if trouble is ClockTrouble.SKIPPED:
        return gettext(
            "There is no {time} on {day}: clocks go forward over it. {offer}"
        ).format(time=told, day=day_and_month(day), offer=offer)
    return gettext("{time} comes twice on {day}: clocks go back then. {offer}").format(
        time=told, day=day_and_month(day), offer=offer
    )


def _is_same_place(one: Shift, other: Shift) -> bool:
    return None in (one.block_id, other.block_id) or one.block_id == other.block_id


class MoveForm(WhenFields):
    """Another day or hour for a shift."""

    def __init__(
        self,
        *args: object,
        site: Site,
        shift: Shift,
        moment: datetime,
        others: Collection[Shift] = (),
        **kwargs: object,
    ) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own arguments
        self.site, self.shift, self.moment, self.others = site, shift, moment, others

    def clean(self) -> dict[str, object]:
        """Check the day and hour, and what else is then and there."""
        cleaned = super().clean() or {}
        self.look_at_time(cleaned, self.moment)
        if self.errors:
            return cleaned
        planned = Shift(
            day=cleaned["day"],
            starts_at=cleaned["starts_at"],
            minutes=self.shift.minutes,
            block_id=self.shift.block_id,
        )
        others = [one for one in self.others if one.pk != self.shift.pk]
        is_fine = bool(cleaned.get("is_overlap_fine"))
        self.look_at_others(planned, others, is_fine=is_fine)
        return cleaned


class CancelForm(forms.Form):
    """Why a shift is cancelled, in words that its people will read."""

    why = forms.CharField(
        label=gettext_lazy("Why"),
        max_length=120,
        help_text=gettext_lazy("Whoever has a place in it reads this."),
        error_messages={"required": gettext_lazy("Say in a few words why.")},
    )
