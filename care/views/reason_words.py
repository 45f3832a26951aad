"""What a sentence about a reason is told from."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, gettext_noop

from care.models import Task
from care.views.days import on_day, short_day, when_day
from care.views.wording import StoredReason
from orchard.units import UnitSystem, format_quantity


@dataclass(frozen=True, slots=True)
class Told:
    """One number that decided: the amount with its unit, and what it is."""

    amount: str
    label: str


@dataclass(frozen=True, slots=True)
class Teller:
    """A reason, its task, and the reader's day and units."""

    reason: StoredReason
    task: Task
    today: date
    units: UnitSystem

    def amount(self, name: str, unit: str) -> str:
        """Return a fact as an amount, or ``an unknown amount``."""
        value = self.reason.number(name)
        if value is None:
            return gettext("an unknown amount")
        return format_quantity(value, unit, self.units)

    def told(self, name: str, unit: str, label: str) -> tuple[Told, ...]:
        """Return a fact as a deciding number, or nothing where it is not known."""
        value = self.reason.number(name)
        if value is None:
            return ()
        return (Told(format_quantity(value, unit, self.units), label),)

    def day(self, name: str) -> str:
        """Return a fact as a date without a weekday, or ``an unknown day``."""
        day = self.reason.day(name)
        return short_day(day, self.today) if day else gettext("an unknown day")

    def near_day(self, name: str) -> str:
        """Return a fact as a day near today, or ``an unknown day``."""
        day = self.reason.day(name)
        return when_day(day, self.today) if day else gettext("an unknown day")

    def on_day(self, name: str) -> str:
        """Return a fact as a day with its preposition."""
        day = self.reason.day(name)
        return on_day(day, self.today) if day else gettext("on an unknown day")


UNCHECKED = gettext_noop("The figure behind it rests on memory and was not checked.")


def unchecked(teller: Teller) -> str:
    """Return the warning that a figure was never read in a source, or nothing."""
    return f" {gettext(UNCHECKED)}" if teller.reason.holds("unverified") else ""
