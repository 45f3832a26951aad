"""What ripens in each month, in words, from this month on."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.utils.text import capfirst
from django.utils.translation import gettext

from care.planning.ripening import RipeMonth, Suggested
from care.views.fit_terms import VERDICTS
from care.views.fit_words import name_words
from orchard.languages import listed, month_name

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
            name=capfirst(month_name(one.month)),
            is_now=one.month == today.month,
            is_empty=one.is_empty,
            grows=one.grows,
            wanted=one.wanted,
            would_fill=tuple(
                Filler(
                    each.fit.key,
                    name_words(each.fit),
                    _verdict(each),
                )
                for each in one.would_fill
            ),
        )
        for one in ordered
    ]


def _verdict(filler: Suggested) -> str:
    """Return how well what would fill a month fits."""
    words = gettext(VERDICTS[filler.fit.place(in_pot=filler.in_pot).verdict]).lower()
    if not filler.in_pot:
        return words
    return gettext("{verdict} in a pot").format(verdict=words)


def empty_words(months: Iterable[RipeMonth]) -> str:
    """Return which months have no fruit, in a sentence."""
    rows = list(months)
    empty = [month_name(one.month) for one in rows if one.is_empty]
    if not empty:
        return gettext("Something ripens here in every month.")
    if len(empty) == len(rows):
        return gettext("Nothing that ripens grows here or is wanted yet.")
    return gettext("Nothing ripens here in {months}.").format(months=listed(empty))
