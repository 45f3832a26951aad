"""What ripens when: what grows at a site, what is wanted, what would fill the gaps."""

from collections.abc import Iterable
from dataclasses import dataclass

from care.facts import PlantFacts, Standing
from care.facts.fit import KindFit, Verdict
from care.planning.fit_choice import kind_months, ripe_months
from care.planning.fit_site import SiteFit
from care.science.fit_verdicts import rank
from orchard.catalogue.search import called

MONTHS = tuple(range(1, 13))
MOST_SUGGESTED = 4  # of a month; ours
FITTING = (Verdict.GOOD, Verdict.FAIR)


@dataclass(frozen=True, slots=True)
class Suggested:
    """A kind that fits and would ripen in an empty month."""

    fit: KindFit
    in_pot: bool


@dataclass(frozen=True, slots=True)
class RipeMonth:
    """One calendar month; names of kinds, each once."""

    month: int
    grows: tuple[str, ...]
    wanted: tuple[str, ...]
    would_fill: tuple[Suggested, ...]

    @property
    def is_empty(self) -> bool:
        """Whether nothing that grows or is wanted ripens in it."""
        return not self.grows and not self.wanted


def ripening(fit: SiteFit) -> tuple[RipeMonth, ...]:
    """Return the months of the year, January first, with what ripens in each.

    Months are those of the catalogue for the kind, or the cultivar where it has its
    own, moved by half a year in the south. An empty month is filled with kinds that
    fit at least fairly, in the ground or else in a pot, best first.
    """
    southern = fit.site.is_southern
    by_key = {each.key: each for each in fit.fits}
    grows = _months(fit.layout.plants, Standing.OURS, southern=southern)
    wanted = _months(fit.layout.plants, Standing.WANTED, southern=southern)
    candidates = _candidates(by_key.values())
    found = []
    for month in MONTHS:
        now = tuple(name for name, months in grows.items() if month in months)
        then = tuple(name for name, months in wanted.items() if month in months)
        fill = () if now or then else _fill(candidates, month, southern=southern)
        found.append(RipeMonth(month, now, then, fill))
    return tuple(found)


def _months(
    plants: Iterable[PlantFacts], standing: Standing, *, southern: bool
) -> dict[str, frozenset[int]]:
    """Return the months in which each kind of plant ripens, by its name."""
    found = {}
    for plant in plants:
        if plant.standing is standing:
            name = f"{called(plant.species.name)} {plant.cultivar_name}".strip()
            found[name] = kind_months(plant.species, plant.cultivar, southern=southern)
    return dict(sorted(found.items()))


def _candidates(fits: Iterable[KindFit]) -> list[Suggested]:
    """Return kinds that fit, best first; a species before its cultivars."""
    found = []
    for fit in fits:
        in_pot = fit.ground.verdict not in FITTING
        if fit.place(in_pot=in_pot).verdict in FITTING:
            found.append(Suggested(fit, in_pot))
    return sorted(
        found,
        key=lambda one: (
            one.in_pot,
            rank(one.fit.place(in_pot=one.in_pot)),
            one.fit.name,
        ),
    )


def _fill(
    candidates: Iterable[Suggested], month: int, *, southern: bool
) -> tuple[Suggested, ...]:
    found: dict[str, Suggested] = {}
    for one in candidates:
        if month in ripe_months(one.fit, southern=southern):
            found.setdefault(one.fit.species.key, one)
    return tuple(found.values())[:MOST_SUGGESTED]
