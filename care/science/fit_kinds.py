"""How well kinds fit a site: all factors of each, the limiting one, best first."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from care.facts import Array, CultivarFacts, SiteFacts, SpeciesFacts
from care.facts.fit import Factor, KindFit, Verdict
from care.science.extreme_cold import estimate_zone
from care.science.fit_bloom import Springs, bloom_factors
from care.science.fit_cautions import rain_cautions
from care.science.fit_chill import chill_factors, chill_need
from care.science.fit_cold import ground_factors, pot_factors
from care.science.fit_ground import (
    heat_factors,
    pot_factor,
    soil_factor,
    space_factor,
)
from care.science.fit_verdicts import at_worst, joined, rank
from care.science.fit_years import FitYears

Kind = tuple[SpeciesFacts, CultivarFacts | None]


@dataclass(frozen=True, slots=True, eq=False)
class FitPlace:
    """A site as kinds are tried against it; ``None`` is not known.

    ``rain_mm`` is the usual rain of each calendar month, ``room_m`` the width of the
    widest free circle of its plan.
    """

    site: SiteFacts
    years: FitYears | None
    rain_mm: Array | None = None
    room_m: float | None = None


def fit_kinds(
    kinds: Sequence[Kind],
    siblings: Mapping[str, Sequence[CultivarFacts]],
    place: FitPlace,
) -> tuple[KindFit, ...]:
    """Return how well each kind fits a place, best first.

    Parameters
    ----------
    kinds : sequence of pairs
        A species, and one cultivar of it or ``None``; in any order.
    siblings : mapping
        Known cultivars by the key of their species.
    place : FitPlace

    Returns
    -------
    tuple of KindFit
        By the verdict in the ground, then by how far from the limits, then by name.
    """
    species = [kind for kind, _cultivar in kinds]
    years = place.years
    zone = None if years is None else estimate_zone(years.minima_c)
    needs = [chill_need(kind, own, siblings.get(kind.key, ())) for kind, own in kinds]
    chill = chill_factors(needs, years)
    bloom = bloom_factors(
        kinds, None if years is None else Springs.of(years, place.site)
    )
    heat = heat_factors(species, zone, None if years is None else years.hot_days)
    ground, pot = ground_factors(species, years, zone), pot_factors(species, years)
    found = [
        KindFit(
            species=kind,
            cultivar=own,
            ground=joined(
                (
                    chill[n],
                    ground[n],
                    bloom[n],
                    heat[n],
                    soil_factor(kind, place.site),
                    space_factor(kind, place.room_m),
                )
            ),
            pot=joined(
                (chill[n], pot[n], _sheltered(bloom[n]), heat[n], pot_factor(kind))
            ),
            cautions=rain_cautions(kind, place.site, place.rain_mm),
        )
        for n, (kind, own) in enumerate(kinds)
    ]
    return tuple(in_order(found))


def in_order(fits: Sequence[KindFit], *, in_pot: bool = False) -> list[KindFit]:
    """Return kinds best first, whatever their order was."""
    return sorted(
        fits, key=lambda fit: (*rank(fit.place(in_pot=in_pot)), fit.name, fit.key)
    )


def _sheltered(bloom: Factor) -> Factor:
    """Return frost at bloom of a pot, which can be carried away from it."""
    return replace(
        bloom,
        verdict=at_worst(bloom.verdict, Verdict.FAIR),
        fixes=("pot_at_bloom",) if bloom.fixes else (),
    )
