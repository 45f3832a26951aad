"""What ripens in each month, in words, from this month on."""

from calendar import month_name
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from care.planning.ripening import RipeMonth
from care.views.fit_terms import VERDICTS
from care.views.fit_words import name_words

MONTHS = 12


@dataclass(frozen=True, slots=True)
class Filler:
    """A kind that would fill an empty month."""

    key: str
    name: str
    words: str


@dataclass(frozen=True, slots=True)
class RipeRow:
    """One month of the table."""

    name: str
    is_now: bool
    is_empty: bool
    grows: tuple[str, ...]
    wanted: tuple[str, ...]
    would_fill: tuple[Filler, ...]


def ripening_rows(months: Iterable[RipeMonth], today: date) -> list[RipeRow]:
    """Return a row a month, the one at hand first."""
    ordered = sorted(months, key=lambda one: (one.month - today.month) % MONTHS)
    return [
        RipeRow(
            name=month_name[one.month],
            is_now=one.month == today.month,
            is_empty=one.is_empty,
            grows=one.grows,
            wanted=one.wanted,
            would_fill=tuple(
                Filler(
                    each.fit.key,
                    name_words(each.fit),
                    f"{VERDICTS[each.fit.place(in_pot=each.in_pot).verdict].lower()}"
                    f"{' in a pot' if each.in_pot else ''}",
                )
                for each in one.would_fill
            ),
        )
        for one in ordered
    ]


def empty_words(months: Iterable[RipeMonth]) -> str:
    """Return which months have no fruit, in a sentence."""
    listed = list(months)
    empty = [month_name[one.month] for one in listed if one.is_empty]
    if not empty:
        return "Something ripens here in every month."
    if len(empty) == len(listed):
        return "Nothing that ripens grows here or is wanted yet."
    named = empty[0] if len(empty) == 1 else f"{', '.join(empty[:-1])} and {empty[-1]}"
    return f"Nothing ripens here in {named}."
