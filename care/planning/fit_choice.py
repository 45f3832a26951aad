"""Choosing among the kinds that were tried: by name, by habit, by when they ripen."""

from dataclasses import dataclass

from care.facts import CultivarFacts, SpeciesFacts
from care.facts.fit import KindFit
from care.science.fit_cautions import months_of_span
from care.science.season import local_month
from orchard.catalogue.search import Names

SMALL_M = 4.0


@dataclass(frozen=True, slots=True)
class Wish:
    """What a kind should be; what is left out does not matter."""

    words: str = ""
    self_fruitful: bool = False
    evergreen: bool = False
    small: bool = False
    takes_pot: bool = False
    months: frozenset[int] = frozenset()  # local ones

    def fits(self, fit: KindFit, *, southern: bool) -> bool:
        """Whether a kind is as wished; its name is looked at elsewhere."""
        species = fit.species
        return all(
            (
                not self.self_fruitful or fruits_alone(fit) == "yes",
                not self.evergreen or species.is_evergreen,
                not self.small or _is_small(species),
                not self.takes_pot or species.container_ok in ("good", "fair"),
                not self.months or self.months & ripe_months(fit, southern=southern),
            )
        )


def fruits_alone(fit: KindFit) -> str:
    """Return ``yes``, ``partial`` or ``no``; empty where nobody knows."""
    own = "" if fit.cultivar is None else fit.cultivar.self_fruitful
    return own or fit.species.self_fruitful


def _is_small(species: SpeciesFacts) -> bool:
    height_m = species.mature_height_m
    return height_m is not None and height_m <= SMALL_M


def ripe_months(fit: KindFit, *, southern: bool) -> frozenset[int]:
    """Return the calendar months in which a kind usually ripens; may be none."""
    return kind_months(fit.species, fit.cultivar, southern=southern)


def kind_months(
    species: SpeciesFacts, cultivar: CultivarFacts | None, *, southern: bool
) -> frozenset[int]:
    """Return the calendar months in which a species, or a cultivar, usually ripens."""
    own = None if cultivar is None else cultivar.harvest
    span = own or species.harvest
    if span is None:
        return frozenset()
    return frozenset(
        local_month(month, southern=southern) for month in months_of_span(span)
    )


def chosen(
    fits: list[KindFit], wish: Wish, names: Names, *, southern: bool
) -> list[KindFit]:
    """Return the kinds that are as wished, in their order.

    A name counts as the catalogue finds it, misspelt or not, and by any part of it.
    """
    named = _named(fits, wish.words.strip(), names)
    return [fit for fit in named if wish.fits(fit, southern=southern)]


def _named(fits: list[KindFit], words: str, names: Names) -> list[KindFit]:
    if not words:
        return fits
    containing = [fit for fit in fits if words.casefold() in fit.name.casefold()]
    meant = {species.key for species in names.find(words)}
    cultivars = {cultivar.key for cultivar in names.find_cultivars(words)}
    return containing or [
        fit for fit in fits if fit.species.key in meant or fit.key in cultivars
    ]
