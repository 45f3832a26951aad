"""The list of kinds by how well they fit: groups, and a line a kind."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from django.utils.translation import gettext, gettext_noop, ngettext

from care.facts.fit import FitBasis, KindFit, Verdict
from care.views.fit_terms import VERDICTS
from care.views.fit_words import (
    fix_words,
    line_words,
    name_words,
    sure_words,
)
from orchard.units import UnitSystem

HINTS = {
    Verdict.GOOD: gettext_noop(
        "Nothing known speaks against these. Each line tells what comes nearest to a limit."
    ),
    Verdict.UNKNOWN: gettext_noop("What is missing stands with each."),
}
OPEN = (Verdict.GOOD, Verdict.FAIR)


@dataclass(frozen=True, slots=True)
class FitLine:
    """One kind of the list."""

    key: str
    name: str
    words: str
    fix: str
    sure: str


@dataclass(frozen=True, slots=True)
class FitGroup:
    """The kinds of one verdict; what does not fit stays folded."""

    verdict: Verdict
    title: str
    lines: tuple[FitLine, ...]
    is_open: bool
    hint: str = ""

    @property
    def count(self) -> str:
        """How many kinds there are."""
        number = len(self.lines)
        return ngettext("{number} kind", "{number} kinds", number).format(number=number)


def fit_groups(
    fits: Iterable[KindFit],
    basis: FitBasis | None,
    units: UnitSystem,
    *,
    in_pot: bool,
    are_open: bool,
) -> list[FitGroup]:
    """Return kinds, which come best first, by their verdicts.

    Parameters
    ----------
    fits : iterable of KindFit
    basis : FitBasis or None
        ``None`` without weather.
    units : UnitSystem
    in_pot : bool
        Whether they are tried in pots.
    are_open : bool
        Whether all groups stand open, as when somebody looked for a name.
    """

    def verdict_of(fit: KindFit) -> Verdict:
        return fit.place(in_pot=in_pot).verdict

    return [
        FitGroup(
            verdict,
            gettext(VERDICTS[verdict]),
            tuple(_line(fit, basis, units, in_pot=in_pot) for fit in group),
            are_open or verdict in OPEN,
            gettext(HINTS.get(verdict, "")),
        )
        for verdict, group in groupby(fits, verdict_of)
    ]


def _line(
    fit: KindFit, basis: FitBasis | None, units: UnitSystem, *, in_pot: bool
) -> FitLine:
    place = fit.place(in_pot=in_pot)
    return FitLine(
        key=fit.key,
        name=name_words(fit),
        words=line_words(place, units),
        fix=fix_words(place),
        sure=sure_words(place, basis),
    )
