"""One step of a reckoning: an equation by name, what went in, what came out."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from django.utils.translation import gettext, gettext_noop

from care.views.steps.equation import Part, equation_parts, with_numbers
from care.views.wording import StoredReason
from orchard.catalogue import Basis, Provenance, Species
from orchard.languages import decimal_sign, listed, localised
from orchard.views.works import works

NOTICED_STRAY = 0.005  # of the result
#: Units that are words in some language.
UNIT_WORDS = (gettext_noop("mm/day"), gettext_noop("L/day"), gettext_noop("days"))
BASES = {
    Basis.READ: gettext_noop("read in the source"),
    Basis.READ_SECONDARY: gettext_noop("read where another page reports the source"),
    Basis.PROXY: gettext_noop("by analogy with a related crop"),
    Basis.MEMORY: gettext_noop("from memory, not checked"),
    Basis.OWN: gettext_noop("this orchard's own figure"),
}


@dataclass(frozen=True, slots=True)
class Term:
    """A number of an equation; ``origin`` says where an input comes from.

    A term without origin is the result of an earlier step.
    """

    symbol: str
    meaning: str
    value: float
    unit: str = ""
    origin: str = ""

    @property
    def number(self) -> str:
        """The number alone, to four figures."""
        return localised(f"{self.value:.4g}")

    @property
    def shown(self) -> str:
        """The number with its unit, to four figures, in SI."""
        return f"{self.number} {gettext(self.unit)}".strip()

    @property
    def parts(self) -> tuple[Part, ...]:
        """The symbol as it is set."""
        return equation_parts(self.symbol)


@dataclass(frozen=True, slots=True)
class Step:
    """An equation with its numbers.

    ``again`` is the result recomputed from the terms as they are shown; it differs
    from ``result`` by rounding alone.
    """

    title: str
    source: str
    formula: str
    terms: tuple[Term, ...]
    result: Term
    again: float

    @property
    def parts(self) -> tuple[Part, ...]:
        """The equation as it is set."""
        return equation_parts(_with_own_signs(self.formula))

    @property
    def with_numbers(self) -> str:
        """The right side of the equation with the numbers that went in."""
        return with_numbers(
            _with_own_signs(self.formula),
            {term.symbol: term.number for term in self.terms},
        )

    @property
    def shown_again(self) -> str:
        """The recomputed result, where rounding made it stray enough to be noticed."""
        stray = abs(self.again - self.result.value)
        if stray <= NOTICED_STRAY * abs(self.result.value):
            return ""
        return localised(f"{self.again:.4g}")


def _with_own_signs(formula: str) -> str:
    """Return a formula with the reader's decimal sign, its lists told apart from it."""
    if decimal_sign() == ".":
        return formula
    return localised(formula.replace(", ", "; "))


class Ledger:
    """Builds the steps of one reason; a step with a number missing is left out."""

    def __init__(self, reason: StoredReason, species: Species | None) -> None:
        self.reason = reason
        self.species = species
        self.steps: list[Step] = []

    def term(
        self,
        symbol: str,
        fact: str,
        meaning: str,
        unit: str = "",
        origin: str = "",
    ) -> Term | None:
        """Return a stored fact as a term, or ``None`` where it is not known."""
        value = self.reason.number(fact)
        return None if value is None else Term(symbol, meaning, value, unit, origin)

    def add(
        self,
        title: str,
        source: str,
        formula: str,
        *,
        terms: Iterable[Term | None],
        result: Term | None,
        compute: Callable[..., float],
    ) -> None:
        """Add a step if all of its numbers are known.

        ``compute`` takes the terms' values in their order.
        """
        known = tuple(terms)
        present = tuple(term for term in known if term is not None)
        if result is None or len(present) < len(known):
            return
        again = float(compute(*(term.value for term in present)))
        self.steps.append(Step(title, source, formula, present, result, again))

    def figure_origin(self, *names: str) -> str:
        """Return where figures of the species table come from, in words."""
        species = self.species
        if species is None:
            return gettext("species table")
        found = dict.fromkeys(
            _origin(species.provenance[name])
            for name in names
            if name in species.provenance
        )
        return "; ".join([gettext("species table"), *found])


def _origin(origin: Provenance) -> str:
    if origin.basis is Basis.OWN:
        told = (gettext(BASES[origin.basis]), origin.source, origin.by)
        return ", ".join(word for word in told if word)
    names = listed([work.text for work in works(origin.address)])
    words = (
        names and gettext("after {names}").format(names=names),
        gettext(BASES[origin.basis]),
        origin.note,
    )
    return ", ".join(word for word in words if word)


def inputs_of(steps: Iterable[Step]) -> tuple[Term, ...]:
    """Return what went in from outside, each once, in order of first use."""
    found: dict[tuple[str, str], Term] = {}
    for step in steps:
        for term in step.terms:
            if term.origin:
                found.setdefault((term.symbol, term.meaning), term)
    return tuple(found.values())
