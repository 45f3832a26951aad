"""What somebody was told of an evening, and whether it has become worse since.

Never a second alarm for the same night unless it worsens: then one short addition.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import reduce

#: So much colder than was told is news; ours: as far apart as two good forecasts lie.
WORSE_C = 1.5


@dataclass(frozen=True, slots=True)
class Told:
    """The state of an evening that a message told of; sites by their ids.

    ``minima`` are the lowest expected [degC], ``work`` names each tree with what is to
    be done for it, ``warnings`` the official events and ``heat`` the sites with heat.
    """

    minima: Mapping[str, float]
    work: frozenset[str]
    warnings: frozenset[str]
    heat: frozenset[str] = frozenset()

    def __or__(self, other: "Told") -> "Told":
        """Return everything that either told, of two minima the lower."""
        minima = dict(self.minima)
        for site, minimum_c in other.minima.items():
            minima[site] = min(minimum_c, minima.get(site, minimum_c))
        return Told(
            minima,
            self.work | other.work,
            self.warnings | other.warnings,
            self.heat | other.heat,
        )

    def as_json(self) -> dict[str, object]:
        """Return it as values that a message keeps."""
        return {
            "minima": dict(self.minima),
            "work": sorted(self.work),
            "warnings": sorted(self.warnings),
            "heat": sorted(self.heat),
        }


NOTHING = Told({}, frozenset(), frozenset())


def told_of(kept: Mapping[str, object]) -> Told:
    """Return what :meth:`Told.as_json` kept; nothing of what is not there."""
    minima = kept.get("minima")
    pairs = minima.items() if isinstance(minima, Mapping) else ()
    return Told(
        {str(site): float(value) for site, value in pairs},
        *(_names(kept.get(name)) for name in ("work", "warnings", "heat")),
    )


def _names(kept: object) -> frozenset[str]:
    return frozenset(map(str, kept)) if isinstance(kept, list) else frozenset()


def all_told(messages: Iterable[Told]) -> Told:
    """Return everything that several messages told."""
    return reduce(Told.__or__, messages, NOTHING)


@dataclass(frozen=True, slots=True)
class News:
    """What is worse than was told; ``colder`` from what was told to what is now."""

    colder: Mapping[str, tuple[float, float]]
    work: frozenset[str]
    warnings: frozenset[str]
    heat: frozenset[str]

    @property
    def is_none(self) -> bool:
        """Whether nothing is worse."""
        return not (self.colder or self.work or self.warnings or self.heat)


def news(told: Told, now: Told) -> News:
    """Return what has become worse since everything that was told.

    Colder by 1.5 degC or more where somebody was told of the cold; a tree or a kind of
    work, an official event or a place's heat not named before. Warmth, work that was
    done and a warning repeated are no news.
    """
    colder = {
        site: (told.minima[site], minimum_c)
        for site, minimum_c in now.minima.items()
        if site in told.minima and minimum_c <= told.minima[site] - WORSE_C
    }
    return News(
        colder,
        now.work - told.work,
        now.warnings - told.warnings,
        now.heat - told.heat,
    )
