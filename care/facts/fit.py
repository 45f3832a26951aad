"""How well a kind fits a place: verdicts, and what they rest on."""

from dataclasses import dataclass
from enum import StrEnum

from care.facts.cultivar import CultivarFacts
from care.facts.species import SpeciesFacts

Number = float | str | None


class Verdict(StrEnum):
    """How well something fits; ``UNKNOWN`` where nothing tells."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"
    NO = "no"
    UNKNOWN = "unknown"


class Topic(StrEnum):
    """What a verdict is about."""

    CHILL = "chill"
    COLD = "cold"
    BLOOM_FROST = "bloom_frost"
    HEAT = "heat"
    SOIL = "soil"
    SPACE = "space"
    POT = "pot"


@dataclass(frozen=True, slots=True)
class Factor:
    """One verdict with what decided it.

    ``code`` names a sentence that a page knows how to say; ``numbers`` are what it
    needs, in SI units, unit in the name. ``margin`` tells how far from the limit the
    kind is, from -1, far on the wrong side, to 1; ``None`` where there is no limit.
    ``fixes`` are codes of what would help. An empty source means memory.
    """

    topic: Topic
    verdict: Verdict
    code: str
    numbers: tuple[tuple[str, Number], ...] = ()
    margin: float | None = None
    is_unverified: bool = False
    sources: tuple[str, ...] = ()
    fixes: tuple[str, ...] = ()

    def number(self, name: str) -> Number:
        """Return one number, ``None`` if the factor does not carry it."""
        return dict(self.numbers).get(name)


@dataclass(frozen=True, slots=True)
class FitCaution:
    """Something to mind that is no verdict; ``month`` is a local one, of wet weather."""

    code: str
    month: int | None = None
    rain_mm: float | None = None
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlaceFit:
    """How well a kind fits in the ground, or in a pot; the worst factor limits it."""

    verdict: Verdict
    limiting: Factor | None
    factors: tuple[Factor, ...]

    def factor(self, topic: Topic) -> Factor | None:
        """Return the factor of a topic, ``None`` where it does not count here."""
        return next((each for each in self.factors if each.topic is topic), None)


@dataclass(frozen=True, slots=True)
class KindFit:
    """How well a species, or one cultivar of it, fits a place."""

    species: SpeciesFacts
    cultivar: CultivarFacts | None
    ground: PlaceFit
    pot: PlaceFit
    cautions: tuple[FitCaution, ...] = ()

    @property
    def key(self) -> str:
        """The key of the cultivar, or of the species."""
        return self.species.key if self.cultivar is None else self.cultivar.key

    @property
    def name(self) -> str:
        """The species' name, a cultivar's behind it."""
        name = self.species.name
        return name if self.cultivar is None else f"{name} {self.cultivar.name}"

    def place(self, *, in_pot: bool) -> PlaceFit:
        """Return the fit in a pot or in the ground."""
        return self.pot if in_pot else self.ground


@dataclass(frozen=True, slots=True)
class FitBasis:
    """The years a fit is reckoned from: observed ones, else made-up ones.

    ``seasons`` are the care years of the observed winters, oldest first. Made-up years
    go by twelve typed months, or by ``observed_days`` of a record, or by both.
    """

    seasons: tuple[int, ...] = ()
    made_up: int = 0
    is_from_months: bool = False
    observed_days: int = 0

    @property
    def winters(self) -> int:
        """How many winters there are."""
        return len(self.seasons) or self.made_up
